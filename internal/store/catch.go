package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// Catches is a job's catch tests in the order in which they were made, withdrawn ones too.
func (s *Store) Catches(ctx context.Context, jobID int64) ([]mix.Catch, error) {
	return catches(s.reader(ctx), jobID)
}

func catches(db *gorm.DB, jobIDs ...int64) ([]mix.Catch, error) {
	return all[mix.Catch](of(db, "job_id", jobIDs...).Order("caught_at, id"))
}

// AddCatch keeps a catch test; without a moment of its own it was made now.
func (s *Store) AddCatch(ctx context.Context, a job.Act, catch mix.Catch) (int64, error) {
	return s.do(ctx, a, "enter a catch test", func(t tx) (int64, error) {
		j, err := one[job.Job](t.DB, "job", catch.JobID)
		if err != nil {
			return 0, err
		}
		catch.ID, catch.PersonID, catch.Withdrawn = 0, t.act.PersonID, false
		catch.CaughtAt = t.orNow(catch.CaughtAt)
		if err := t.Create(&catch).Error; err != nil {
			return 0, err
		}
		return catch.ID, t.tell("job", j.ID, "entered a catch test for %s: %g mL over %g m", j.Code, catch.CaughtML, catch.RunM)
	})
}

// WithdrawCatch leaves a catch test in the list but lets nothing rest on it.
func (s *Store) WithdrawCatch(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "withdraw a catch test", func(t tx) error {
		catch, err := locked[mix.Catch](t, "catch test", id)
		if err != nil {
			return err
		}
		if catch.Withdrawn {
			return fault.Conflict("this catch test is withdrawn already")
		}
		if err := t.set(&mix.Catch{}, "catch test", id, map[string]any{"withdrawn": true}); err != nil {
			return err
		}
		return t.tell("job", catch.JobID, "withdrew the catch test of %g mL over %g m", catch.CaughtML, catch.RunM)
	})
}
