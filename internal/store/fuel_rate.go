package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/machine"
)

// FuelRates is every dated price and credit of fuel, the newest first.
func (s *Store) FuelRates(ctx context.Context) (machine.FuelRates, error) {
	return all[machine.FuelRate](s.reader(ctx).Order("from_on DESC, kind DESC"))
}

// AddFuelRate keeps a price or a credit of a litre of fuel from a day on.
func (s *Store) AddFuelRate(ctx context.Context, a job.Act, rate machine.FuelRate) (int64, error) {
	return s.do(ctx, a, "keep a rate of fuel", func(t tx) (int64, error) {
		if err := rate.Check(); err != nil {
			return 0, err
		}
		rate.ID = 0
		taken := fault.Refuse("from_on", "a %s from %s on is kept already, take that one away first", rate.Kind, rate.FromOn)
		if err := t.add(&rate, taken); err != nil {
			return 0, err
		}
		return rate.ID, t.tell("fuel", rate.ID, "entered a fuel %s of %s a litre from %s on", rate.Kind, rate.PerL.Plain(), rate.FromOn)
	})
}

// RemoveFuelRate takes a rate away that was entered by mistake.
func (s *Store) RemoveFuelRate(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "take a rate of fuel away", func(t tx) error {
		rate, err := locked[machine.FuelRate](t, "rate of fuel", id)
		if err != nil {
			return err
		}
		if err := t.Where("id = ?", id).Delete(&machine.FuelRate{}).Error; err != nil {
			return err
		}
		return t.tell("fuel", id, "took the fuel %s of %s a litre from %s on away again", rate.Kind, rate.PerL.Plain(), rate.FromOn)
	})
}
