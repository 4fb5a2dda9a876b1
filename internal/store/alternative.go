package store

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// alternativeRow is one alternative of a job: what it does not hold is "".
type alternativeRow struct {
	JobID  int64
	Letter string
	Name   string
	Layout string // JSON of job.Layout
	Recipe string // JSON of job.Recipe
	Rates  string // JSON of []bill.Rate
}

// paperAlternativeRow is one alternative of a quote, frozen as JSON of bill.Alternative.
type paperAlternativeRow struct {
	PaperID int64
	Letter  string
	Frozen  string
}

// Alternatives are those in which a job is offered, A first; none where it is offered as it
// stands alone.
func (s *Store) Alternatives(ctx context.Context, jobID int64) ([]job.Alternative, error) {
	return alternatives(s.reader(ctx), jobID)
}

func alternatives(db *gorm.DB, jobIDs ...int64) ([]job.Alternative, error) {
	rows, err := all[alternativeRow](of(db, "job_id", jobIDs...).Order("job_id, letter"))
	if err != nil {
		return nil, err
	}
	var out []job.Alternative
	for _, r := range rows {
		one, err := r.alternative()
		if err != nil {
			return nil, fmt.Errorf("read alternative %s of job %d: %w", r.Letter, r.JobID, err)
		}
		out = append(out, one)
	}
	return out, nil
}

func (r alternativeRow) alternative() (job.Alternative, error) {
	out := job.Alternative{JobID: r.JobID, Letter: r.Letter, Name: r.Name}
	for _, part := range []struct {
		text string
		into any
	}{{r.Layout, &out.Layout}, {r.Recipe, &out.Recipe}, {r.Rates, &out.Rates}} {
		if part.text == "" {
			continue
		}
		if err := json.Unmarshal([]byte(part.text), part.into); err != nil {
			return out, err
		}
	}
	return out, nil
}

func alternativeRowOf(a job.Alternative) (row alternativeRow, err error) {
	row = alternativeRow{JobID: a.JobID, Letter: a.Letter, Name: a.Name}
	if a.Layout != nil {
		row.Layout, err = jsonOf(a.Layout)
	}
	if err == nil && a.Recipe != nil {
		row.Recipe, err = jsonOf(a.Recipe)
	}
	if err == nil && a.Rates != nil {
		row.Rates, err = jsonOf(a.Rates)
	}
	return row, err
}

func jsonOf(v any) (string, error) {
	text, err := json.Marshal(v)
	return string(text), err
}

// AddAlternative offers a job in one more alternative and gives its letter's place, 1 for B.
// The first one gives the job as it stands its own name, A's. A fourth is a clash.
func (s *Store) AddAlternative(ctx context.Context, a job.Act, jobID int64, nameOfA, name string) error {
	return s.done(ctx, a, "add an alternative", func(t tx) error {
		j, there, err := t.lockedAlternatives(jobID)
		switch {
		case err != nil:
			return err
		case len(there) == len(bill.Letters):
			return fault.Conflict("%s is offered in %d alternatives already, take one off first", j.Code, len(there))
		case len(there) == 0:
			if err := t.keepAlternative(job.Alternative{JobID: jobID, Letter: bill.Letters[0], Name: nameOfA}); err != nil {
				return err
			}
			there = append(there, alternativeRow{})
		}
		one := job.Alternative{JobID: jobID, Letter: bill.Letters[len(there)], Name: name}
		if err := t.keepAlternative(one); err != nil {
			return err
		}
		return t.tell("job", jobID, "added alternative %s to %s", one.Titled(), j.Code)
	})
}

// KeepAlternative changes one alternative of a job: its name, and what is not as in A.
func (s *Store) KeepAlternative(ctx context.Context, a job.Act, one job.Alternative) error {
	return s.done(ctx, a, "keep an alternative", func(t tx) error {
		j, there, err := t.lockedAlternatives(one.JobID)
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(there, func(r alternativeRow) bool { return r.Letter == one.Letter }) {
			return fault.Miss("%s has no alternative %s, look at its alternatives again", j.Code, one.Letter)
		}
		if err := t.Where("job_id = ? AND letter = ?", one.JobID, one.Letter).Delete(&alternativeRow{}).Error; err != nil {
			return err
		}
		if err := t.keepAlternative(one); err != nil {
			return err
		}
		return t.tell("job", one.JobID, "changed alternative %s of %s", one.Titled(), j.Code)
	})
}

// DropAlternative takes one alternative but A off a job. Those after it move up by a letter;
// with the last one A's name goes too.
func (s *Store) DropAlternative(ctx context.Context, a job.Act, jobID int64, letter string) error {
	return s.done(ctx, a, "take an alternative off", func(t tx) error {
		j, there, err := t.lockedAlternatives(jobID)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(there, func(r alternativeRow) bool { return r.Letter == letter })
		if i < 1 {
			return fault.Miss("%s has no alternative %s to take off, look at its alternatives again", j.Code, letter)
		}
		if err := t.dropAlternatives(jobID); err != nil {
			return err
		}
		left := slices.Delete(slices.Clone(there), i, i+1)
		for k := range left {
			left[k].Letter = bill.Letters[k]
		}
		if len(left) > 1 {
			if err := t.Create(&left).Error; err != nil {
				return err
			}
		}
		return t.tell("job", jobID, "took alternative %s, %s, off %s", letter, there[i].Name, j.Code)
	})
}

// lockedAlternatives reads a job's alternatives while nobody else changes them, of a job whose
// work has not begun.
func (t tx) lockedAlternatives(jobID int64) (j job.Job, there []alternativeRow, err error) {
	if j, err = locked[job.Job](t, "job", jobID); err != nil {
		return j, nil, err
	}
	if err = t.refuseBegun(j); err != nil {
		return j, nil, err
	}
	there, err = all[alternativeRow](t.Where("job_id = ?", jobID).Order("letter"))
	return j, there, err
}

func (t tx) keepAlternative(a job.Alternative) error {
	if a.Name = strings.TrimSpace(a.Name); a.Name == "" {
		return fault.Refuse("name", "give the alternative a short name that the farmer knows it by")
	}
	row, err := alternativeRowOf(a)
	if err != nil {
		return err
	}
	return t.Create(&row).Error
}

func (t tx) dropAlternatives(jobID int64) error {
	return t.Where("job_id = ?", jobID).Delete(&alternativeRow{}).Error
}

// refuseBegun refuses what would lay, mix or price a job in another way than the one in which
// its work has begun.
func (t tx) refuseBegun(j job.Job) error {
	var begun bool
	err := t.Raw(`SELECT EXISTS (SELECT 1 FROM tubs WHERE job_id = @id AND unmixed_at IS NULL) OR EXISTS (SELECT 1 FROM sown WHERE job_id = @id)
		OR EXISTS (SELECT 1 FROM drill_loads WHERE job_id = @id AND undone_at IS NULL) OR EXISTS (SELECT 1 FROM day_sheets WHERE job_id = @id)
		OR EXISTS (SELECT 1 FROM papers WHERE job_id = @id AND kind = @kind)`, map[string]any{"id": j.ID, "kind": bill.Invoice}).Scan(&begun).Error
	if err == nil && begun {
		err = fault.Conflict("work on %s has begun, or a part of it is billed: it stays as agreed. Make a variation instead.", j.Code)
	}
	return err
}

// takeAlternative makes the alternative that a yes names the job's own, as it was quoted, and
// ends the choice: the others stand in the quote. A yes to the job as it stands changes
// nothing of it.
func (t tx) takeAlternative(j job.Job, quote bill.Paper, yes bill.Acceptance) error {
	if len(quote.Alternatives) == 0 {
		return nil
	}
	if err := t.dropAlternatives(j.ID); err != nil {
		return err
	}
	i := slices.IndexFunc(quote.Alternatives, func(a bill.Alternative) bool { return a.Letter == yes.Alternative })
	if i < 0 || quote.Alternatives[i].Own() {
		return nil
	}
	if err := t.refuseBegun(j); err != nil {
		return err
	}
	taken, err := job.ReadSettings(quote.Alternatives[i])
	if err != nil {
		return err
	}
	return t.layAs(j, taken)
}

// layAs gives a job the layout, mix and rates of an alternative.
func (t tx) layAs(j job.Job, a job.Alternative) error {
	if a.Layout != nil {
		layout := *a.Layout
		layout.JobID = j.ID
		if err := t.replace(&layout); err != nil {
			return err
		}
	}
	if a.Recipe != nil {
		recipe := *a.Recipe
		recipe.JobID = j.ID
		if err := t.keepRecipe(recipe); err != nil {
			return err
		}
	}
	return t.replaceRates(j.ID, a.Rates)
}

// keepPaperAlternatives freezes what a quote offers beside each other.
func (t tx) keepPaperAlternatives(p bill.Paper) error {
	for _, a := range p.Alternatives {
		frozen, err := jsonOf(a)
		if err != nil {
			return err
		}
		if err := t.Create(&paperAlternativeRow{p.ID, a.Letter, frozen}).Error; err != nil {
			return err
		}
	}
	return nil
}

// addPaperAlternatives reads what the papers of a condition offer beside each other.
func addPaperAlternatives(db *gorm.DB, out []bill.Paper) error {
	rows, err := all[paperAlternativeRow](db.Order("paper_id, letter"))
	if err != nil {
		return err
	}
	for _, r := range rows {
		i := slices.IndexFunc(out, func(p bill.Paper) bool { return p.ID == r.PaperID })
		if i < 0 {
			continue // of a paper issued between two statements: left out whole
		}
		var a bill.Alternative
		if err := json.Unmarshal([]byte(r.Frozen), &a); err != nil {
			return fmt.Errorf("read alternative %s of %s: %w", r.Letter, out[i].Number, err)
		}
		out[i].Alternatives = append(out[i].Alternatives, a)
	}
	return nil
}
