package store

import (
	"context"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// Business is the contractor's own; missing until first run.
func (s *Store) Business(ctx context.Context) (job.Business, error) {
	business, ok, err := maybe[job.Business](s.reader(ctx))
	if err == nil && !ok {
		err = fault.Miss("no business is set up here yet, enter it with the first person")
	}
	if err != nil {
		return business, err
	}
	rates, err := all[bill.TaxRate](s.reader(ctx).Order("from_on"))
	if len(rates) > 0 {
		business.TaxRates = rates
	}
	return business, err
}

// ChangeTaxRate keeps the rate that the tax has from a day on. A second rate for the same day
// is a clash.
func (s *Store) ChangeTaxRate(ctx context.Context, a job.Act, rate bill.TaxRate) error {
	return s.done(ctx, a, "change the rate of the tax", func(t tx) error {
		if err := t.add(&rate, fault.Conflict("there is a rate from %s already, take that one out first", rate.FromOn)); err != nil {
			return err
		}
		return t.tell("business", 0, "set the tax to %s %% from %s", rate.Percent, rate.FromOn)
	})
}

// RemoveTaxRate takes a change of the rate out again. Issued papers keep theirs.
func (s *Store) RemoveTaxRate(ctx context.Context, a job.Act, from unit.Date) error {
	return s.done(ctx, a, "take a rate of the tax out", func(t tx) error {
		done := t.Where("from_on = ?", from).Delete(&bill.TaxRate{})
		if done.Error == nil && done.RowsAffected == 0 {
			return fault.Miss("there is no rate of the tax from %s", from)
		}
		if done.Error != nil {
			return done.Error
		}
		return t.tell("business", 0, "took the rate of the tax from %s out", from)
	})
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
