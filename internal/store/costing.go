package store

import (
	"context"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"rowtally/internal/job"
	"rowtally/internal/money"
)

// costingRow is a costing without its machines and the work of others.
type costingRow struct {
	JobID             int64
	HandH             money.Factor
	HandDoneH         *money.Factor
	FloatKm           money.Factor
	FloatDoneKm       *money.Factor
	FloatSharePercent money.Factor
	FloatShareWhy     string
	ResowPercent      money.Factor
	ResowWhy          string
}

// costingMachineRow is the planned hours of one machine.
type costingMachineRow struct {
	JobID    int64
	Position int
	job.MachineHours
}

// costingOtherRow is a line of other people's work.
type costingOtherRow struct {
	JobID    int64
	Position int
	job.OthersWork
}

// CostRates is the business's own settings for what a job costs, all 0 while none are kept.
func (s *Store) CostRates(ctx context.Context) (job.CostRates, error) {
	rates, _, err := maybe[job.CostRates](s.reader(ctx))
	return rates, err
}

// KeepCostRates sets what an hour of hands, a km of float and the overhead cost.
func (s *Store) KeepCostRates(ctx context.Context, a job.Act, rates job.CostRates) error {
	return s.done(ctx, a, "set the cost rates", func(t tx) error {
		if err := t.Clauses(clause.OnConflict{Columns: []clause.Column{{Name: "one"}}, UpdateAll: true}).Create(&rates).Error; err != nil {
			return err
		}
		return t.tell("business", 0, "set the cost rates: %s an hour of hands, %s a driven km, overhead %s %% and %s a row-km",
			rates.LabourPerH.Plain(), rates.FloatPerKm.Plain(), rates.OverheadPercent, rates.OverheadPerRowKm.Plain())
	})
}

// Costing is what a job costs beyond its other facts; ok is false while nothing is entered.
func (s *Store) Costing(ctx context.Context, jobID int64) (c job.Costing, ok bool, err error) {
	kept, err := costings(s.reader(ctx).Where("job_id = ?", jobID), s.reader(ctx).Where("job_id = ?", jobID))
	c, ok = kept[jobID]
	return c, ok, err
}

// costings reads costings by job; what hangs on them is read with conditions of its own.
func costings(heads, lines *gorm.DB) (map[int64]job.Costing, error) {
	out := map[int64]job.Costing{}
	rows, err := all[costingRow](heads)
	if err != nil || len(rows) == 0 {
		return out, err
	}
	machines, err := all[costingMachineRow](lines.Session(&gorm.Session{}).Order("job_id, position"))
	if err != nil {
		return out, err
	}
	others, err := all[costingOtherRow](lines.Session(&gorm.Session{}).Order("job_id, position"))
	for _, r := range rows {
		out[r.JobID] = job.Costing{JobID: r.JobID, HandH: r.HandH, HandDoneH: r.HandDoneH, FloatKm: r.FloatKm, FloatDoneKm: r.FloatDoneKm,
			FloatSharePercent: r.FloatSharePercent, FloatShareWhy: r.FloatShareWhy, ResowPercent: r.ResowPercent, ResowWhy: r.ResowWhy}
	}
	for _, m := range machines {
		c := out[m.JobID]
		c.Machines = append(c.Machines, m.MachineHours)
		out[m.JobID] = c
	}
	for _, o := range others {
		c := out[o.JobID]
		c.Others = append(c.Others, o.OthersWork)
		out[o.JobID] = c
	}
	return out, err
}

// KeepCosting enters what a job costs beyond its other facts, or enters it anew.
func (s *Store) KeepCosting(ctx context.Context, a job.Act, c job.Costing) error {
	return s.done(ctx, a, "enter a job's costs", func(t tx) error {
		j, err := locked[job.Job](t, "job", c.JobID)
		if err != nil {
			return err
		}
		if err := c.Check(); err != nil {
			return err
		}
		if err := t.keepCosting(c); err != nil {
			return err
		}
		return t.tell("job", j.ID, "entered the costs of %s: hours of %d machines, %d lines of others' work", j.Code, len(c.Machines), len(c.Others))
	})
}

func (t tx) keepCosting(c job.Costing) error {
	for _, child := range []any{&costingMachineRow{}, &costingOtherRow{}} {
		if err := t.Where("job_id = ?", c.JobID).Delete(child).Error; err != nil {
			return err
		}
	}
	row := costingRow{c.JobID, c.HandH, c.HandDoneH, c.FloatKm, c.FloatDoneKm, c.FloatSharePercent, c.FloatShareWhy, c.ResowPercent, c.ResowWhy}
	if err := t.replace(&row); err != nil {
		return err
	}
	for i, m := range c.Machines {
		if err := t.Create(&costingMachineRow{c.JobID, i, m}).Error; err != nil {
			return err
		}
	}
	for i, o := range c.Others {
		if err := t.Create(&costingOtherRow{c.JobID, i, o}).Error; err != nil {
			return err
		}
	}
	return nil
}
