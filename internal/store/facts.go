package store

import (
	"context"
	"errors"
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
	shelf.Held, err = s.HeldBack(ctx, 0)
	return shelf, err
}

func (s *Store) factsOf(ctx context.Context, jobs []job.Job, today unit.Date) ([]job.Facts, error) {
	business, err := s.Business(ctx)
	if err != nil && fault.KindOf(err) != fault.Missing {
		return nil, err
	}
	shelf, err := s.Shelf(ctx)
	if err != nil {
		return nil, err
	}
	asked, err := s.questionsOf(ctx, jobs)
	if err != nil {
		return nil, err
	}
	yard, err := s.Yard(ctx, today)
	if err != nil {
		return nil, err
	}
	all := make([]job.Facts, len(jobs))
	for i, j := range jobs {
		all[i] = job.Facts{Today: today, Business: business, Job: j, Shelf: shelf, Yard: yard, Questions: asked[j.ID]}
	}
	err = s.fillAll(ctx, all)
	zone := zoneOf(business)
	for i := range all {
		all[i].InZone(zone)
	}
	return all, err
}

// fillAll reads what hangs on each job, as many at once as there are readers.
func (s *Store) fillAll(ctx context.Context, all []job.Facts) error {
	errs := make([]error, len(all))
	var reading sync.WaitGroup
	turn := make(chan struct{}, readers)
	for i := range all {
		turn <- struct{}{}
		reading.Go(func() {
			errs[i] = s.fillFacts(ctx, &all[i])
			<-turn
		})
	}
	reading.Wait()
	return errors.Join(errs...)
}

// questionsOf reads what was asked about some jobs, by job, in one statement.
func (s *Store) questionsOf(ctx context.Context, jobs []job.Job) (map[int64][]job.Question, error) {
	only := int64(0)
	if len(jobs) == 1 {
		only = jobs[0].ID
	}
	asked, err := s.Questions(ctx, only)
	out := map[int64][]job.Question{}
	for _, q := range asked {
		out[q.JobID] = append(out[q.JobID], q)
	}
	return out, err
}

// fillFacts reads what hangs on one job.
func (s *Store) fillFacts(ctx context.Context, f *job.Facts) error {
	id := f.Job.ID
	var errs [12]error
	f.Farm, errs[0] = s.Farm(ctx, f.Job.FarmID)
	if f.Job.PaddockID != 0 {
		if f.Paddock, errs[1] = s.Paddock(ctx, f.Job.PaddockID); errs[1] == nil {
			f.Readings, errs[1] = s.Readings(ctx, f.Job.PaddockID)
		}
	}
	f.Layout, errs[2] = perhaps(s.Layout(ctx, id))
	f.Recipe, errs[3] = perhaps(s.Recipe(ctx, id))
	f.Sown, errs[4] = perhaps(s.Sown(ctx, id))
	f.Rates, errs[5] = s.Rates(ctx, id)
	f.Papers, errs[6] = s.Papers(ctx, id)
	f.Acceptances, errs[7] = s.Acceptances(ctx, id)
	f.Catches, errs[8] = s.Catches(ctx, id)
	f.Tubs, errs[9] = s.Tubs(ctx, id)
	f.DaySheets, errs[10] = s.DaySheets(ctx, id)
	f.Measuring, errs[11] = s.Measuring(ctx, id)
	logs, err := s.Logs(ctx, id)
	f.Logs = logs
	err = errors.Join(err, s.fillMixing(ctx, f), s.fillQuoting(ctx, f))
	placed, unread := s.Placings(ctx, id)
	f.Placed, err = placed, errors.Join(err, unread)
	for _, h := range f.Shelf.Held {
		if h.JobID == id {
			f.Held = append(f.Held, h)
		}
	}
	return errors.Join(append(errs[:], err)...)
}

// fillMixing reads what was mixed, what remained, and what is sown between the rows.
func (s *Store) fillMixing(ctx context.Context, f *job.Facts) error {
	id := f.Job.ID
	var errs [6]error
	f.CountPlans, errs[4] = s.CountPlans(ctx, id)
	f.Counts, errs[5] = s.Counts(ctx, id)
	f.DrillLoads, errs[3] = s.DrillLoads(ctx, id)
	f.CleanOuts, errs[0] = s.CleanOuts(ctx, id)
	f.Moved, errs[1] = all[job.Movement](s.reader(ctx).Where("job_id = ?", id).Order("id"))
	f.Understorey, errs[2] = perhaps(s.Understorey(ctx, id))
	if f.Recipe != nil {
		if sower, named := f.Yard.Machine(f.Recipe.SowerID); named {
			f.Sower = &sower
		}
	}
	return errors.Join(errs[:]...)
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
