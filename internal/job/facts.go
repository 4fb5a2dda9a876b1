package job

import (
	"slices"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/count"
	"rowtally/internal/ground"
	"rowtally/internal/machine"

	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// Facts is everything that is known of one job on one day. Figures are worked out from
// it; nothing in it is a figure that could be worked out.
type Facts struct {
	Today        unit.Date
	Business     Business
	Job          Job
	Farm         Farm
	Paddock      Paddock // zero while no boundary is read
	Layout       *Layout // nil while rows are not laid
	Recipe       *Recipe // nil while no lots are chosen
	Rates        []bill.Rate
	Alternatives []Alternative // in which it is offered, A first; none where it is offered in its own alone
	Terms        Terms         // the job's own, else the business's

	Costs CostFacts // read for one job at a time: empty where a list of jobs is read

	Shelf Shelf
	Yard  Yard

	Readings []ground.Reading // of the paddock's soil and water, withdrawn ones too

	Papers      []bill.Paper   // of this job, in order of issue
	Placed      []bill.Placing // of payments, on the job's invoice
	Acceptances []bill.Acceptance
	Held        []Held // of this job
	Catches     []mix.Catch
	Tubs        []mix.Tub
	CleanOuts   []mix.CleanOut
	Moved       []Movement       // the stock ledger of this job, oldest first
	Sower       *machine.Machine // that the recipe names; nil while it names none
	Understorey *Understorey     // nil while none is chosen
	DrillLoads  []DrillLoad      // of its seed, oldest first
	DaySheets   []machine.DaySheet
	Logs        []Log
	Sown        *Sown         // nil while no log is matched
	CountPlans  []count.Plan  // the last one is walked
	Counts      []count.Count // of the job, withdrawn ones too
	Measuring   Measuring

	Questions []Question // asked by the farm's link, oldest first

	known *known // nil: nothing is remembered
}

// Shelf is what the business has to sow and to bulk with, and how much of it is free.
type Shelf struct {
	Lots     []seed.Lot
	Tests    map[int64][]seed.Test // by lot
	Products []mix.Product
	Balances []Balance
	Worths   []StockWorth // of the media
	Held     []Held       // of every job

	Conditions map[int64][]seed.StorageCondition // by lot

	known *lotsKnown // nil: nothing is remembered
}

// Lot finds a lot by its number in the store.
func (s Shelf) Lot(id int64) (seed.Lot, bool) {
	for _, l := range s.Lots {
		if l.ID == id {
			return l, true
		}
	}
	return seed.Lot{}, false
}

// Product finds a medium by its number in the store.
func (s Shelf) Product(id int64) (mix.Product, bool) {
	for _, p := range s.Products {
		if p.ID == id {
			return p, true
		}
	}
	return mix.Product{}, false
}

// OnHand is what lies at both places together, in g or mL.
func (s Shelf) OnHand(kind StockKind, id int64) int64 {
	var sum int64
	for _, b := range s.Balances {
		if b.Kind == kind && b.ID == id {
			sum += b.OnHand
		}
	}
	return sum
}

// HeldBack is what agreed jobs other than the one named have claimed, in g or mL.
func (s Shelf) HeldBack(kind StockKind, id, exceptJob int64) int64 {
	var sum int64
	for _, h := range s.Held {
		if h.StockKind == kind && h.StockID == id && h.JobID != exceptJob {
			sum += h.Held
		}
	}
	return sum
}

// Free is what the job named may use: on hand less what other jobs hold back.
func (s Shelf) Free(kind StockKind, id, forJob int64) int64 {
	return s.OnHand(kind, id) - s.HeldBack(kind, id, forJob)
}

// InZone sets the moments that pages and papers print in the business's own zone.
func (f *Facts) InZone(zone *time.Location) {
	for i := range f.Acceptances {
		f.Acceptances[i].AcceptedAt = f.Acceptances[i].AcceptedAt.In(zone)
	}
	for i := range f.CountPlans {
		f.CountPlans[i].MadeAt = f.CountPlans[i].MadeAt.In(zone)
	}
	for i := range f.Logs {
		f.Logs[i].LoadedAt = f.Logs[i].LoadedAt.In(zone)
	}
	if f.Sown != nil {
		f.Sown.MadeAt = f.Sown.MadeAt.In(zone)
	}
	for _, q := range f.Questions {
		for i := range q.Words {
			q.Words[i].SaidAt = q.Words[i].SaidAt.In(zone)
		}
	}
}

// Estimate is the job's newest estimate.
func (f Facts) Estimate() (bill.Paper, bool) { return f.newest(bill.Estimate) }

// Quote is the job's newest quote.
func (f Facts) Quote() (bill.Paper, bool) { return f.newest(bill.Quote) }

// Invoice is the job's newest invoice.
func (f Facts) Invoice() (bill.Paper, bool) { return f.newest(bill.Invoice) }

// Invoices are the job's invoices in the order of issue: deposit, progress claims, and last
// the one that bills the rest.
func (f Facts) Invoices() []bill.Paper {
	return slices.DeleteFunc(slices.Clone(f.Papers), func(p bill.Paper) bool { return p.Kind != bill.Invoice })
}

// BilledInAll is what the job's invoices and adjustment notes come to together.
func (f Facts) BilledInAll() money.Cents {
	var sum money.Cents
	for _, p := range f.Papers {
		if p.Kind == bill.Invoice || p.Kind == bill.Adjustment {
			sum += p.Total
		}
	}
	return sum
}

func (f Facts) newest(kind bill.Kind) (found bill.Paper, ok bool) {
	for _, p := range f.Papers {
		if p.Kind == kind {
			found, ok = p, true
		}
	}
	return found, ok
}

// Agreed is the quote that the farmer said yes to, as the yes makes it, with the yes.
func (f Facts) Agreed() (bill.Paper, bill.Acceptance, bool) {
	for i := len(f.Acceptances) - 1; i >= 0; i-- {
		for _, p := range f.Papers {
			if p.ID == f.Acceptances[i].PaperID && p.Kind == bill.Quote {
				agreed, err := p.AgreedBy(f.Acceptances[i])
				return agreed, f.Acceptances[i], err == nil
			}
		}
	}
	return bill.Paper{}, bill.Acceptance{}, false
}

// Catch is the catch test that counts: the last one not withdrawn.
func (f Facts) Catch() (mix.Catch, bool) {
	for i := len(f.Catches) - 1; i >= 0; i-- {
		if !f.Catches[i].Withdrawn {
			return f.Catches[i], true
		}
	}
	return mix.Catch{}, false
}

// Issued finds the paper that a draft would issue once more: the newest of its kind where it
// says the same, or the invoice of a job that is billed whole.
func (f Facts) Issued(kind bill.Kind, draft bill.Paper) (bill.Paper, bool) {
	newest, has := f.newest(kind)
	switch {
	case !has:
		return newest, false
	case kind == bill.Invoice:
		return newest, newest.Part == bill.Whole
	}
	return newest, newest.Says() == draft.Says()
}
