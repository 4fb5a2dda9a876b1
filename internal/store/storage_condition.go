package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// StorageConditions is where a lot lay and how, in order; lotID 0 gives those of every lot.
func (s *Store) StorageConditions(ctx context.Context, lotID int64) ([]seed.StorageCondition, error) {
	return all[seed.StorageCondition](of(s.reader(ctx), "lot_id", lotID).Order("lot_id, since"))
}

// AddStorageCondition keeps where a lot lies from a day on, and how.
func (s *Store) AddStorageCondition(ctx context.Context, a job.Act, c seed.StorageCondition) (int64, error) {
	return s.do(ctx, a, "add a storage condition", func(t tx) (int64, error) {
		lot, err := one[seed.Lot](t.DB, "lot", c.LotID)
		if err != nil {
			return 0, err
		}
		if err := c.Check(t.today()); err != nil {
			return 0, err
		}
		c.ID = 0
		twice := fault.Refuse("since", "it is kept already where the lot %s lay from %s on, enter another day or take that one off first", lot.Code, c.Since)
		if err := t.add(&c, twice); err != nil {
			return 0, err
		}
		return c.ID, t.tell("lot", lot.ID, "stored the lot %s in %s since %s", lot.Code, c.Place, c.Since)
	})
}

// DropStorageCondition takes a mistaken storage condition off its lot.
func (s *Store) DropStorageCondition(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "take off a storage condition", func(t tx) error {
		c, err := locked[seed.StorageCondition](t, "storage condition", id)
		if err != nil {
			return err
		}
		lot, err := one[seed.Lot](t.DB, "lot", c.LotID)
		if err != nil {
			return err
		}
		if err := t.Where("id = ?", id).Delete(&seed.StorageCondition{}).Error; err != nil {
			return err
		}
		return t.tell("lot", lot.ID, "took off that the lot %s lay in %s since %s", lot.Code, c.Place, c.Since)
	})
}
