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
	if err := s.shareFacts(ctx, out, jobs[0].SeasonEnd(today)); err != nil {
		return nil, err
	}
	if err := fillSeason(db, season, at); err != nil {
		return nil, err
	}
	return out, fillInoculated(db, season, at)
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

// fillSeason reads what hangs on the jobs of a season.
func fillSeason(db *gorm.DB, season int, at map[int64]*job.Facts) error {
	const ofSeason = "job_id IN (SELECT id FROM jobs WHERE season = ?)"
	named := func() *gorm.DB { return db.Session(&gorm.Session{}).Where(ofSeason, season) }
	sheets, err := all[machine.DaySheet](named().Select("id, job_id, machine_id, day, meter_from_min, meter_to_min, row_m, fuel_ml, standby_min").Order("day, id"))
	if err != nil {
		return err
	}
	for _, d := range sheets {
		at[d.JobID].DaySheets = append(at[d.JobID].DaySheets, d)
	}
	moved, err := all[job.Movement](named().Select("job_id, stock_kind, stock_id, sum(quantity) AS quantity, sum(value) AS value").
		Group("job_id, stock_kind, stock_id").Order("min(id)"))
	if err != nil {
		return err
	}
	for _, m := range moved {
		at[m.JobID].Moved = append(at[m.JobID].Moved, m)
	}
	return fillSeasonBills(named, at)
}

// fillInoculated reads what is inoculated of the jobs' understoreys, and nothing else of them.
func fillInoculated(db *gorm.DB, season int, at map[int64]*job.Facts) error {
	by, err := speciesSown(db.Table("understorey_species AS s").Where("s.inoculant_group <> '' AND s.job_id IN (SELECT id FROM jobs WHERE season = ?)", season))
	for id, species := range by {
		at[id].Understorey = &job.Understorey{JobID: id, Species: species}
	}
	return err
}

func fillSeasonBills(named func() *gorm.DB, at map[int64]*job.Facts) error {
	sown, err := all[job.Sown](named().Select("job_id, planned_m, covered_m"))
	if err != nil {
		return err
	}
	for _, r := range sown {
		at[r.JobID].Sown = &r
	}
	papers, err := all[paperRow](named().Select("id, kind, job_id, issued_on, net_total").Where("kind IN ?", []bill.Kind{bill.Invoice, bill.Adjustment}).Order("id"))
	if err != nil {
		return err
	}
	for _, p := range papers {
		at[p.JobID].Papers = append(at[p.JobID].Papers, p.paper())
	}
	entered, err := costings(named(), named())
	for id, c := range entered {
		at[id].Costs.Costing = &c
	}
	return err
}
