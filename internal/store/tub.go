package store

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// tubRow is a tub without its ingredients. One that was emptied back stays in the store,
// since the ledger speaks of it; its number is free again.
type tubRow struct {
	ID        int64
	JobID     int64
	Number    int
	MixML     int64
	MediumML  int64
	ProductID int64
	RowM      float64
	MixedAt   time.Time
	PersonID  int64
	UnmixedAt *time.Time
}

// tubIngredientRow is what one lot gave to a tub.
type tubIngredientRow struct {
	TubID    int64
	Position int
	LotID    int64
	Grams    int64
}

// Tubs is the tubs mixed for a job with what went into them, by number; jobID 0 gives
// those of every job.
func (s *Store) Tubs(ctx context.Context, jobID int64) ([]mix.Tub, error) {
	return tubs(s.reader(ctx), jobID)
}

func tubs(db *gorm.DB, jobIDs ...int64) ([]mix.Tub, error) {
	rows, err := all[tubRow](of(several(db), "job_id", jobIDs...).Where("unmixed_at IS NULL").Order("job_id, number"))
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	ingredients, err := all[tubIngredientRow](of(several(db).Joins("JOIN tubs ON tubs.id = tub_ingredients.tub_id"), "tubs.job_id", jobIDs...).
		Order("tub_id, position"))
	byTub := map[int64][]mix.Ingredient{}
	for _, i := range ingredients {
		byTub[i.TubID] = append(byTub[i.TubID], mix.Ingredient{LotID: i.LotID, Grams: i.Grams})
	}
	tubs := make([]mix.Tub, 0, len(rows))
	for _, r := range rows {
		tubs = append(tubs, mix.Tub{ID: r.ID, JobID: r.JobID, Number: r.Number, MixML: r.MixML, MediumML: r.MediumML,
			ProductID: r.ProductID, RowM: r.RowM, MixedAt: r.MixedAt, PersonID: r.PersonID, Ingredient: byTub[r.ID]})
	}
	return tubs, err
}

// MixTub keeps a tub as it was mixed and draws its seed and medium, from the truck while it
// has some, then from the shed; what was held back for the job shrinks with it. Without a
// number it is the job's next. A lot on hold, a lot or medium of which the job cannot have
// as much, and a number that is mixed already are clashes.
func (s *Store) MixTub(ctx context.Context, a job.Act, tub mix.Tub) (int64, error) {
	return s.do(ctx, a, "mix a tub", func(t tx) (int64, error) {
		j, err := locked[job.Job](t, "job", tub.JobID)
		if err != nil {
			return 0, err
		}
		if err := checkTub(tub); err != nil {
			return 0, err
		}
		row, err := t.numberTub(tub, j)
		if err != nil {
			return 0, err
		}
		if err := t.fillTub(row, j, tub); err != nil {
			return 0, err
		}
		return row.ID, t.tell("job", j.ID, "mixed tub %d of %s, %s", row.Number, j.Code, amount(job.MediumStock, tub.MixML))
	})
}

func checkTub(tub mix.Tub) error {
	if len(tub.Ingredient) == 0 && tub.MediumML == 0 {
		return fault.Refuse("ingredient", "the tub is empty, enter the lots or the medium that went in")
	}
	if tub.Number < 0 || tub.MixML < 0 || tub.MediumML < 0 || tub.MediumML > mostStock || tub.MixML > mostStock {
		return fault.Refuse("medium_ml", "a tub's number, mix and medium are 0 or more, enter what was measured")
	}
	seen := map[int64]bool{}
	for i, in := range tub.Ingredient {
		field := fmt.Sprintf("ingredient[%d]", i)
		if seen[in.LotID] {
			return fault.Refuse(field+".lot_id", "this lot is named twice, enter its grams once")
		}
		if in.Grams <= 0 || in.Grams > mostStock {
			return fault.Refuse(field+".grams", "%d g cannot be weighed in, enter grams above 0", in.Grams)
		}
		seen[in.LotID] = true
	}
	return nil
}

// numberTub adds the tub under its number, or under the job's next one.
func (t tx) numberTub(tub mix.Tub, j job.Job) (tubRow, error) {
	last, _, err := lastTub(t.DB, j.ID)
	if err != nil {
		return last, err
	}
	row := tubRow{0, j.ID, tub.Number, tub.MixML, tub.MediumML, tub.ProductID, tub.RowM, t.orNow(tub.MixedAt), t.act.PersonID, nil}
	if row.Number == 0 {
		row.Number = last.Number + 1
	}
	mixed := fault.Conflict("tub %d of %s is mixed already, load the page again and take the next number", row.Number, j.Code)
	return row, t.add(&row, mixed)
}

func lastTub(db *gorm.DB, jobID int64) (tubRow, bool, error) {
	return maybe[tubRow](db.Where("job_id = ? AND unmixed_at IS NULL", jobID).Order("number DESC"))
}
