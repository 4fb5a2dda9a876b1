package store

import (
	"context"

	"gorm.io/gorm/clause"

	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/unit"
)

// KeepOwning keeps what a machine costs to own and to run in the place of what was entered
// before.
func (s *Store) KeepOwning(ctx context.Context, a job.Act, o machine.Owning) error {
	return s.done(ctx, a, "keep what a machine costs", func(t tx) error {
		if err := o.Check(); err != nil {
			return err
		}
		m, err := locked[machine.Machine](t, "machine", o.MachineID)
		if err != nil {
			return err
		}
		err = t.Clauses(clause.OnConflict{Columns: []clause.Column{{Name: "machine_id"}}, UpdateAll: true}).Create(&o).Error
		if err != nil {
			return err
		}
		return t.tell("machine", m.ID, "entered what %s costs to own and to run", m.Name)
	})
}

// Yard is the machines with what an hour of them costs: their day sheets of the twelve
// months that end on a day, which machine sowed each one's job, and the rates of fuel.
func (s *Store) Yard(ctx context.Context, on unit.Date) (yard job.Yard, err error) {
	if yard.Machines, err = s.Machines(ctx); err != nil {
		return yard, err
	}
	if yard.Fuel, err = s.FuelRates(ctx); err != nil {
		return yard, err
	}
	since := on.PlusMonths(-12)
	if yard.Sheets, err = all[machine.DaySheet](s.reader(ctx).Where("day > ? AND day <= ?", since, on).Order("day, id")); err != nil {
		return yard, err
	}
	sowers, err := all[recipeRow](s.reader(ctx).Select("job_id, sower_id").
		Where("sower_id <> 0 AND job_id IN (SELECT job_id FROM day_sheets WHERE day > ? AND day <= ?)", since, on))
	yard.SowerOf = map[int64]int64{}
	for _, r := range sowers {
		yard.SowerOf[r.JobID] = r.SowerID
	}
	return yard, err
}
