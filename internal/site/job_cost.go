package site

import (
	"context"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// costBooks is what the pages about cost ask of the store.
type costBooks interface {
	KeepCosting(ctx context.Context, act job.Act, c job.Costing) error
	KeepCostPlan(ctx context.Context, act job.Act, paperID int64, c job.Cost) error
	CostRates(ctx context.Context) (job.CostRates, error)
	KeepCostRates(ctx context.Context, act job.Act, rates job.CostRates) error
	Seasons(ctx context.Context) ([]int, error)
	SeasonFacts(ctx context.Context, season int, today unit.Date) ([]job.Facts, error)
}

func (s *site) costRoutes() []route {
	return []route{
		office(get, "/jobs/:id/cost", s.jobCost),
		office(get, "/jobs/:id/costs", s.jobCosting),
		office(post, "/jobs/:id/costs", s.jobCosting),
		office(get, "/accounts/season", s.seasonCost),
		office(get, "/business/costs", s.costRates),
		office(post, "/business/costs", s.costRates),
	}
}

type costPage struct {
	Frame
	Job      job.Job
	Cannot   string // why there is no cost yet; "" when there is
	Plan     job.Cost
	PerRowKm string // "" where there are no rows
	PerHa    string
	Time     job.MachineTime // how long the rows take their sower
	Check    *job.CostCheck  // nil while nothing is done
	NotYet   string          // why it is nil
	Spent    string
	Bars     *costBars
	Quoted   *job.Earned // by the quote and the plan
	Billed   *job.Earned // by the invoice and what was spent
}

// jobCost shows what a job costs as planned, what it has cost, and what it brings.
func (s *site) jobCost(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	page := costPage{Frame: r.frame("jobs", "Cost of "+facts.Job.Name), Job: facts.Job, Time: facts.MachineTime()}
	page.Plan, err = job.CostOf(facts)
	if err != nil {
		if fault.KindOf(err) == fault.Internal {
			return err
		}
		page.Cannot = err.Error()
		return r.show("job_cost", page)
	}
	if each, ok := page.Plan.PerRowKm(); ok {
		page.PerRowKm = each.Shown()
	}
	if each, ok := page.Plan.PerHa(); ok {
		page.PerHa = each.Shown()
	}
	if earned, ok := facts.ByPlan(page.Plan); ok {
		page.Quoted = &earned
	}
	return s.showSpent(r, facts, page)
}

// showSpent adds what the job has cost so far, beside its plan.
func (s *site) showSpent(r *request, facts job.Facts, page costPage) error {
	check, err := job.CheckCost(facts)
	switch {
	case fault.KindOf(err) == fault.Internal && err != nil:
		return err
	case err != nil:
		page.NotYet = err.Error()
		return r.show("job_cost", page)
	}
	page.Check, page.Bars = &check, barsOfCost(check)
	if earned, ok := facts.ByBill(check.Spent); ok {
		page.Billed = &earned
	}
	return r.show("job_cost", page)
}

// freezePlan keeps what the job is planned to cost with a quote that was issued just now, so
// that the work is measured by it. A job without a cost yet has none to keep.
func (s *site) freezePlan(r *request, facts job.Facts, issued bill.Paper) error {
	if issued.Kind != bill.Quote {
		return nil
	}
	plan, err := job.CostOf(facts)
	if err != nil {
		if fault.KindOf(err) == fault.Internal {
			return err
		}
		return nil
	}
	act := r.act()
	act.Key = ""
	return s.Books.KeepCostPlan(r.Context(), act, issued.ID, plan)
}
