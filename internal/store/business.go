package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// Business is the contractor's own; missing until first run.
func (s *Store) Business(ctx context.Context) (job.Business, error) {
	business, ok, err := maybe[job.Business](s.reader(ctx))
	if err == nil && !ok {
		err = fault.Miss("no business is set up here yet, enter it with the first person")
	}
	return business, err
}

// Begin keeps the business and its first contractor at once. A store that has begun is a clash.
func (s *Store) Begin(ctx context.Context, a job.Act, business job.Business, first job.Person) (personID int64, err error) {
	return s.do(ctx, a, "set up the business", func(t tx) (int64, error) {
		begun := fault.Conflict("a business is set up here already, sign in instead")
		if err := t.add(&business, begun); err != nil {
			return 0, err
		}
		first.ID, first.Role, first.Left = 0, job.Contractor, false
		if err := t.addPerson(&first); err != nil {
			return 0, err
		}
		return first.ID, t.tell("business", 0, "set up %s with %s as its contractor", business.Name, first.Name)
	})
}

// ChangeBusiness changes what the next papers will say; issued ones stand.
func (s *Store) ChangeBusiness(ctx context.Context, a job.Act, business job.Business) error {
	return s.done(ctx, a, "change the business", func(t tx) error {
		done := t.Model(&job.Business{}).Select("*").Where("one = 1").Updates(&business)
		if done.Error == nil && done.RowsAffected == 0 {
			return fault.Miss("no business is set up here yet, enter it with the first person")
		}
		if done.Error != nil {
			return done.Error
		}
		return t.tell("business", 0, "changed the business's own details")
	})
}
