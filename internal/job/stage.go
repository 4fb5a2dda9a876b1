package job

import (
	"slices"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// Stage is how far a job is. It is read off what has happened; nobody sets it.
type Stage string

const (
	Asked    Stage = "asked"
	LookedAt Stage = "looked at"
	Quoted   Stage = "quoted"
	Agreed   Stage = "agreed"
	Sowing   Stage = "sowing"
	AllSown  Stage = "sown"
	Billed   Stage = "billed"
	Settled  Stage = "settled"
	Declined Stage = "declined"
)

// sownShare is the share of the planned rows from which a job reads as sown: what is
// left below it is headland ends and gaps, not rows that somebody still has to drive.
// Our own rule.
const sownShare = 0.95

// StageOf reads the stage off the facts: the last thing that happened rules.
func StageOf(f Facts) Stage {
	invoice, billed := f.Invoice()
	billed = billed && invoice.Part == bill.Whole
	agreed := f.saidYes()
	_, quoted := f.Quote()
	switch {
	case billed && f.PaidOn() >= f.BilledInAll():
		return Settled
	case billed:
		return Billed
	case f.Job.DeclinedOn != "":
		return Declined
	case f.Sown != nil && f.Sown.PlannedM > 0 && f.Sown.CoveredM >= sownShare*f.Sown.PlannedM:
		return AllSown
	case f.begun():
		return Sowing
	case agreed:
		return Agreed
	case quoted:
		return Quoted
	case f.Job.VisitedOn != "":
		return LookedAt
	}
	return Asked
}

// saidYes tells whether a quote of the job was agreed to.
func (f Facts) saidYes() bool {
	for _, yes := range f.Acceptances {
		if slices.ContainsFunc(f.Papers, func(p bill.Paper) bool { return p.ID == yes.PaperID && p.Kind == bill.Quote }) {
			return true
		}
	}
	return false
}

// Past tells whether the job is of an earlier season and nothing is left to do for it: it is
// settled or declined, no question of the farmer's is open, and no places of a count are drawn.
func (f Facts) Past() bool {
	stage := StageOf(f)
	return (stage == Settled || stage == Declined) && f.Job.Season < f.Today.Time().Year() && !f.Queried() && len(f.CountPlans) == 0
}

// PaidOn is what was paid on the job's invoices.
func (f Facts) PaidOn() money.Cents {
	var sum money.Cents
	for _, one := range f.Placed {
		sum += one.Amount
	}
	return sum
}

// begun tells whether anything was mixed, sown or logged.
func (f Facts) begun() bool {
	return len(f.Tubs) > 0 || len(f.DaySheets) > 0 || f.Sown != nil
}

// Open tells whether the job still wants something of the season: seed, days, a paper.
func (s Stage) Open() bool { return s != Billed && s != Settled && s != Declined }
