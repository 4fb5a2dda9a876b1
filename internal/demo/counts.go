package demo

import (
	"rowtally/internal/count"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// walked draws the places of a job's counts: stretches of ten placements.
func (b *builder) walked(jobID int64, on unit.Date, number int64) {
	f := b.facts(jobID, on)
	if b.failed != nil {
		return
	}
	plan, err := f.DrawCountPlan(job.CountWanted{PerStretch: 10, SharePercent: 50, WithinPercent: 10, Rho: count.GuessedRho}, number)
	b.keep("draw places", err)
	_, err = b.books.AddCountPlan(b.ctx, b.at(on), plan)
	b.keep("count plan", err)
}

// counted keeps a count at the places of a job's plan: so many of ten placements occupied at
// each, in the order of walking.
func (b *builder) counted(jobID int64, on unit.Date, kind count.Kind, volunteers string, occupied ...int) {
	plan, drawn := b.facts(jobID, on).CountPlan()
	if b.failed != nil || !drawn {
		return
	}
	c := count.Count{JobID: jobID, PlanID: plan.ID, Kind: kind, CountedOn: on, CountedBy: contractorName, Volunteers: volunteers}
	for i, n := range occupied {
		c.Stretches = append(c.Stretches, count.Stretch{Place: i + 1, Placements: plan.PerStretch, Occupied: n})
	}
	_, err := b.books.AddCount(b.ctx, b.at(on), c)
	b.keep("count", err)
}
