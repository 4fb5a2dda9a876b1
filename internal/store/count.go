package store

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"gorm.io/gorm"

	"rowtally/internal/count"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// countRow is a count with its stretches as text: they are kept and read together.
type countRow struct {
	ID           int64
	JobID        int64
	PlanID       int64
	Kind         count.Kind
	CountedOn    unit.Date
	CountedBy    string
	KeptAt       time.Time
	PersonID     int64
	Stretches    string // JSON
	Seen         string // JSON
	Volunteers   string
	Note         string
	WithdrawnOn  unit.Date
	WithdrawnWhy string
}

func (r countRow) count() (count.Count, error) {
	c := count.Count{ID: r.ID, JobID: r.JobID, PlanID: r.PlanID, Kind: r.Kind, CountedOn: r.CountedOn, CountedBy: r.CountedBy, KeptAt: r.KeptAt, PersonID: r.PersonID,
		Volunteers: r.Volunteers, Note: r.Note, WithdrawnOn: r.WithdrawnOn, WithdrawnWhy: r.WithdrawnWhy}
	err := json.Unmarshal([]byte(r.Stretches), &c.Stretches)
	if err == nil {
		err = json.Unmarshal([]byte(r.Seen), &c.Seen)
	}
	if err != nil {
		err = fmt.Errorf("read what count %d found: %w", r.ID, err)
	}
	return c, err
}

// Counts is a job's counts by day, withdrawn ones too.
func (s *Store) Counts(ctx context.Context, jobID int64) ([]count.Count, error) {
	return countsOf(s.reader(ctx), jobID)
}

func countsOf(db *gorm.DB, jobIDs ...int64) ([]count.Count, error) {
	rows, err := all[countRow](of(db, "job_id", jobIDs...).Order("counted_on, id"))
	var kept []count.Count
	for _, r := range rows {
		c, broken := r.count()
		if broken != nil {
			return nil, broken
		}
		kept = append(kept, c)
	}
	return kept, err
}

// JobsCounted is the jobs that a count stands for.
func (s *Store) JobsCounted(ctx context.Context) (ids []int64, err error) {
	err = s.reader(ctx).Model(&countRow{}).Where("withdrawn_on = ''").Distinct().Order("job_id").Pluck("job_id", &ids).Error
	return ids, err
}

// AddCount keeps what was counted at the places of one of the job's plans.
func (s *Store) AddCount(ctx context.Context, a job.Act, c count.Count) (int64, error) {
	return s.do(ctx, a, "keep a count", func(t tx) (int64, error) {
		j, err := one[job.Job](t.DB, "job", c.JobID)
		if err != nil {
			return 0, err
		}
		if err := t.checkCount(c); err != nil {
			return 0, err
		}
		row := countRow{0, c.JobID, c.PlanID, c.Kind, c.CountedOn, c.CountedBy, t.now, t.act.PersonID, "", "", c.Volunteers, c.Note, "", ""}
		stretches, err := json.Marshal(c.Stretches)
		if err != nil {
			return 0, err
		}
		seen, err := json.Marshal(c.Seen)
		if err != nil {
			return 0, err
		}
		row.Stretches, row.Seen = string(stretches), string(seen)
		if err := t.add(&row, nil); err != nil {
			return 0, err
		}
		return row.ID, t.tell("job", j.ID, "kept the %s of %s on %s, taken on %s", c.Kind.Says(), count.StretchesSay(len(c.Stretches)), j.Code, c.CountedOn)
	})
}

// checkCount holds a count against its plan.
func (t tx) checkCount(c count.Count) error {
	plan, err := one[countPlanRow](t.DB, "plan of a count", c.PlanID)
	if err != nil {
		return err
	}
	if plan.JobID != c.JobID {
		return fault.Conflict("these places are of another job, load the page again")
	}
	var places []count.Place
	if err := json.Unmarshal([]byte(plan.Places), &places); err != nil {
		return fmt.Errorf("read the places of plan %d: %w", plan.ID, err)
	}
	return c.Check(len(places), t.today())
}

// WithdrawCount takes a mistaken count out of what counts; it stays with the reason.
func (s *Store) WithdrawCount(ctx context.Context, a job.Act, id int64, why string) error {
	return s.done(ctx, a, "withdraw a count", func(t tx) error {
		c, err := locked[countRow](t, "count", id)
		switch {
		case err != nil:
			return err
		case c.WithdrawnOn != "":
			return fault.Conflict("this count was withdrawn already, on %s", c.WithdrawnOn)
		case why == "":
			return fault.Refuse("why", "a withdrawn count keeps its reason, enter what was wrong with it")
		}
		if err := t.set(&countRow{}, "count", id, map[string]any{"withdrawn_on": t.today(), "withdrawn_why": why}); err != nil {
			return err
		}
		return t.tell("job", c.JobID, "withdrew the %s of %s: %s", c.Kind.Says(), c.CountedOn, why)
	})
}
