package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// SeasonFacts is of each job of a season what its cost and its bill are worked out from,
// and nothing else: its ledger added up, day sheets, papers without their lines, row-km
// sown and what was entered. However many jobs there are, each noun is read once.
func (s *Store) SeasonFacts(ctx context.Context, season int, today unit.Date) ([]job.Facts, error) {
	db := s.reader(ctx)
	jobs, err := s.Jobs(ctx, season)
	if err != nil || len(jobs) == 0 {
		return nil, err
	}
	out := make([]job.Facts, len(jobs))
	at := map[int64]*job.Facts{}
	for i, j := range jobs {
		out[i].Job, out[i].Today = j, today
		at[j.ID] = &out[i]
	}
	readings := hung{db: db, at: at}.ofSeason(season)
	readings = append(readings, func() error { return s.shareFacts(ctx, out, jobs[0].SeasonEnd(today)) })
	return out, sideBySide(readings)
}

// Seasons are the years that jobs are of, the newest first.
func (s *Store) Seasons(ctx context.Context) (years []int, err error) {
	err = s.reader(ctx).Raw(`SELECT DISTINCT season FROM jobs ORDER BY season DESC`).Scan(&years).Error
	return years, err
}

// shareFacts gives every job what all of them share.
func (s *Store) shareFacts(ctx context.Context, facts []job.Facts, end unit.Date) error {
	farms, err := s.Farms(ctx)
	if err != nil {
		return err
	}
	yard, err := s.Yard(ctx, end)
	if err != nil {
		return err
	}
	rates, err := s.CostRates(ctx)
	if err != nil {
		return err
	}
	inoculants, err := s.Inoculants(ctx)
	if err != nil {
		return err
	}
	var shelf job.Shelf
	if shelf.Lots, err = all[seed.Lot](s.reader(ctx).Select("id, code, species, common_name, cost_per_kg, treatment, treatment_per_kg")); err != nil {
		return err
	}
	shelf.Products, err = s.Products(ctx)
	byID := map[int64]job.Farm{}
	for _, f := range farms {
		byID[f.ID] = f
	}
	for i := range facts {
		f := &facts[i]
		f.Farm, f.Yard, f.Shelf, f.Costs.Rates, f.Costs.Inoculants = byID[f.Job.FarmID], yard, shelf, rates, inoculants
	}
	return err
}

// ofSeason reads what a season's jobs cost and brought, a noun each.
func (h hung) ofSeason(season int) []func() error {
	const ofSeason = "job_id IN (SELECT id FROM jobs WHERE season = ?)"
	named := func() *gorm.DB { return several(h.db).Where(ofSeason, season) }
	return []func() error{
		func() error {
			moved, err := all[job.Movement](named().Select("job_id, stock_kind, stock_id, sum(quantity) AS quantity, sum(value) AS value").
				Group("job_id, stock_kind, stock_id").Order("min(id)"))
			for _, m := range moved {
				h.give(m.JobID, func(f *job.Facts) { f.Moved = append(f.Moved, m) })
			}
			return err
		},
		func() error {
			sheets, err := all[machine.DaySheet](named().Select("id, job_id, machine_id, day, meter_from_min, meter_to_min, row_m, fuel_ml, standby_min").Order("day, id"))
			for _, d := range sheets {
				h.give(d.JobID, func(f *job.Facts) { f.DaySheets = append(f.DaySheets, d) })
			}
			return err
		},
		func() error {
			sown, err := all[job.Sown](named().Select("job_id, planned_m, covered_m"))
			for _, r := range sown {
				h.give(r.JobID, func(f *job.Facts) { f.Sown = &r })
			}
			return err
		},
		func() error {
			papers, err := all[paperRow](named().Select("id, kind, job_id, issued_on, net_total").Where("kind IN ?", []bill.Kind{bill.Invoice, bill.Adjustment}).Order("id"))
			for _, p := range papers {
				h.give(p.JobID, func(f *job.Facts) { f.Papers = append(f.Papers, p.paper()) })
			}
			return err
		},
		func() error {
			entered, err := costings(named(), named())
			for id, c := range entered {
				h.give(id, func(f *job.Facts) { f.Costs.Costing = &c })
			}
			return err
		},
	}
}
