package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// Paddocks is the paddocks of a farm, by name; farmID 0 gives all.
func (s *Store) Paddocks(ctx context.Context, farmID int64) ([]job.Paddock, error) {
	return all[job.Paddock](of(s.reader(ctx), "farm_id", farmID).Order("farm_id, lower(name)"))
}

// Paddock is one paddock with its boundary.
func (s *Store) Paddock(ctx context.Context, id int64) (job.Paddock, error) {
	return one[job.Paddock](s.reader(ctx), "paddock", id)
}

// AddPaddock keeps a new paddock of a farm under a name that no other of its has.
func (s *Store) AddPaddock(ctx context.Context, a job.Act, paddock job.Paddock) (int64, error) {
	return s.do(ctx, a, "add a paddock", func(t tx) (int64, error) {
		paddock.ID = 0
		farm, err := one[job.Farm](t.DB, "farm", paddock.FarmID)
		if err != nil {
			return 0, err
		}
		if err := t.add(&paddock, paddockNamed(paddock)); err != nil {
			return 0, err
		}
		return paddock.ID, t.tell("paddock", paddock.ID, "added the paddock %s of %s", paddock.Name, farm.Name)
	})
}

// ChangePaddock changes a paddock's name or boundary; it stays with its farm, and issued
// papers stand.
func (s *Store) ChangePaddock(ctx context.Context, a job.Act, paddock job.Paddock) error {
	return s.done(ctx, a, "change a paddock", func(t tx) error {
		if err := t.change(&paddock, "paddock", paddock.ID, paddockNamed(paddock), "FarmID"); err != nil {
			return err
		}
		return t.tell("paddock", paddock.ID, "changed the paddock %s", paddock.Name)
	})
}

func paddockNamed(paddock job.Paddock) error {
	return fault.Refuse("name", "this farm has a paddock called %s already, open that one or choose another name", paddock.Name)
}
