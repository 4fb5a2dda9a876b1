package store

import (
	"context"
	"errors"
	"slices"
	"sync"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// Facts is everything that is known of one job on a day.
func (s *Store) Facts(ctx context.Context, jobID int64, today unit.Date) (job.Facts, error) {
	j, err := s.Job(ctx, jobID)
	if err != nil {
		return job.Facts{}, err
	}
	all, err := s.factsOf(ctx, []job.Job{j}, today)
	if err != nil {
		return job.Facts{}, err
	}
	f := all[0]
	if end := j.SeasonEnd(today); end < today {
		if f.Yard, err = s.Yard(ctx, end); err != nil {
			return f, err
		}
	}
	f.Costs, err = s.costFacts(ctx, jobID)
	return f, err
}

// costFacts is what only the cost of a job asks for.
func (s *Store) costFacts(ctx context.Context, jobID int64) (c job.CostFacts, err error) {
	if c.Costing, err = perhaps(s.Costing(ctx, jobID)); err != nil {
		return c, err
	}
	if c.Plans, err = costPlans(s.reader(ctx), jobID); err != nil {
		return c, err
	}
	if c.Inoculants, err = s.Inoculants(ctx); err != nil {
		return c, err
	}
	c.Rates, err = s.CostRates(ctx)
	return c, err
}

// FactsWhere is everything that is known of the jobs wanted, in the order of their codes.
func (s *Store) FactsWhere(ctx context.Context, today unit.Date, want func(job.Job) bool) ([]job.Facts, error) {
	jobs, err := s.Jobs(ctx, 0)
	if err != nil {
		return nil, err
	}
	wanted := jobs[:0:0]
	for _, j := range jobs {
		if want(j) {
			wanted = append(wanted, j)
		}
	}
	return s.factsOf(ctx, wanted, today)
}

// Shelf is the shed and the truck with everything in them.
func (s *Store) Shelf(ctx context.Context) (shelf job.Shelf, err error) {
	if shelf.Lots, err = s.Lots(ctx); err != nil {
		return shelf, err
	}
	tests, err := s.Tests(ctx, 0)
	if err != nil {
		return shelf, err
	}
	shelf.Tests = map[int64][]seed.Test{}
	for _, t := range tests {
		shelf.Tests[t.LotID] = append(shelf.Tests[t.LotID], t)
	}
	conditions, err := s.StorageConditions(ctx, 0)
	if err != nil {
		return shelf, err
	}
	shelf.Conditions = map[int64][]seed.StorageCondition{}
	for _, c := range conditions {
		shelf.Conditions[c.LotID] = append(shelf.Conditions[c.LotID], c)
	}
	if shelf.Products, err = s.Products(ctx); err != nil {
		return shelf, err
	}
	if shelf.Balances, err = s.Balances(ctx); err != nil {
		return shelf, err
	}
	if shelf.Worths, err = s.StockWorths(ctx); err != nil {
		return shelf, err
	}
	shelf.Remember()
	shelf.Held, err = s.HeldBack(ctx, 0)
	return shelf, err
}

func (s *Store) factsOf(ctx context.Context, jobs []job.Job, today unit.Date) ([]job.Facts, error) {
	facts := make([]job.Facts, len(jobs))
	for i, j := range jobs {
		facts[i] = job.Facts{Today: today, Job: j}
	}
	var shared job.Facts
	readings := s.sharedReadings(ctx, &shared, today)
	for some := range slices.Chunk(facts, mostNamed) {
		readings = append(readings, hangOn(s.reader(ctx), some).readings()...)
	}
	if err := sideBySide(readings); err != nil {
		return nil, err
	}
	zone := zoneOf(shared.Business)
	for i := range facts {
		share(&facts[i], shared)
		facts[i].InZone(zone)
		facts[i].Remember()
	}
	return facts, nil
}

// sharedReadings read what all jobs share.
func (s *Store) sharedReadings(ctx context.Context, shared *job.Facts, today unit.Date) []func() error {
	return []func() error{
		func() (err error) {
			shared.Business, err = s.Business(ctx)
			if fault.KindOf(err) == fault.Missing {
				return nil
			}
			return err
		},
		func() (err error) { shared.Shelf, err = s.Shelf(ctx); return err },
		func() (err error) { shared.Yard, err = s.Yard(ctx, today); return err },
	}
}

// share gives a job what all jobs share, and finds in it what is its own.
func share(f *job.Facts, shared job.Facts) {
	f.Business, f.Shelf, f.Yard = shared.Business, shared.Shelf, shared.Yard
	for _, h := range f.Shelf.Held {
		if h.JobID == f.Job.ID {
			f.Held = append(f.Held, h)
		}
	}
	if f.Recipe == nil {
		return
	}
	if sower, named := f.Yard.Machine(f.Recipe.SowerID); named {
		f.Sower = &sower
	}
}

// sideBySide reads as many at once as there are readers.
func sideBySide(readings []func() error) error {
	errs := make([]error, len(readings))
	var going sync.WaitGroup
	turn := make(chan struct{}, readers)
	for i, read := range readings {
		turn <- struct{}{}
		going.Go(func() {
			errs[i] = read()
			<-turn
		})
	}
	going.Wait()
	return errors.Join(errs...)
}

// zoneOf is where the business's days are counted; UTC while no zone is set.
func zoneOf(b job.Business) *time.Location {
	zone, err := time.LoadLocation(b.Zone)
	if err != nil {
		return time.UTC
	}
	return zone
}

// perhaps is a pointer to what is there, nil when it is not.
func perhaps[T any](v T, has bool, err error) (*T, error) {
	if !has || err != nil {
		return nil, err
	}
	return &v, nil
}
