package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// Readings is what was read of a paddock's soil and water in the order of its taking,
// withdrawn ones too; paddockID 0 gives those of every paddock.
func (s *Store) Readings(ctx context.Context, paddockID int64) ([]ground.Reading, error) {
	return readings(s.reader(ctx), paddockID)
}

func readings(db *gorm.DB, paddockIDs ...int64) ([]ground.Reading, error) {
	return all[ground.Reading](of(db, "paddock_id", paddockIDs...).Order("paddock_id, taken_on, id"))
}

// Reading is one reading.
func (s *Store) Reading(ctx context.Context, id int64) (ground.Reading, error) {
	return one[ground.Reading](s.reader(ctx), "reading", id)
}

// AddReading keeps what was read of a paddock. A reading of a day to come is refused.
func (s *Store) AddReading(ctx context.Context, a job.Act, r ground.Reading) (int64, error) {
	return s.do(ctx, a, "add a reading", func(t tx) (int64, error) {
		paddock, err := one[job.Paddock](t.DB, "paddock", r.PaddockID)
		if err != nil {
			return 0, err
		}
		if err := r.Check(); err != nil {
			return 0, err
		}
		if r.TakenOn.After(t.today()) {
			return 0, fault.Refuse("taken_on", "%s is after today, %s: enter when it was taken", r.TakenOn, t.today())
		}
		r.ID, r.WithdrawnOn, r.WithdrawnWhy = 0, "", ""
		if err := t.add(&r, nil); err != nil {
			return 0, err
		}
		return r.ID, t.tell("paddock", paddock.ID, "added a reading of %s: %s", paddock.Name, r)
	})
}

// WithdrawReading takes a mistaken reading out of what counts; it stays with the reason.
func (s *Store) WithdrawReading(ctx context.Context, a job.Act, id int64, on unit.Date, why string) error {
	return s.done(ctx, a, "withdraw a reading", func(t tx) error {
		r, err := locked[ground.Reading](t, "reading", id)
		switch {
		case err != nil:
			return err
		case !r.Standing():
			return fault.Conflict("this reading was withdrawn already, on %s", r.WithdrawnOn)
		case why == "":
			return fault.Refuse("why", "a withdrawn reading keeps its reason, enter what was wrong with it")
		}
		if err := t.set(&ground.Reading{}, "reading", id, map[string]any{"withdrawn_on": on, "withdrawn_why": why}); err != nil {
			return err
		}
		return t.tell("paddock", r.PaddockID, "withdrew the reading %s: %s", r, why)
	})
}
