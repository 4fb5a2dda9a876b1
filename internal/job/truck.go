package job

import (
	"slices"
	"time"

	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// TruckJob is one job as it goes out of signal: its rows laid, without money, papers or
// what belongs to other farms.
type TruckJob struct {
	Facts Facts
	Rows  RowsPlanned
	Kept  []TruckEntry // what the truck entered on the job that no other noun holds
	Drill *Drill       `json:",omitempty"` // what goes into the drill; nil where there is no understorey
}

// TruckDay is the day's work as a phone takes it along.
type TruckDay struct {
	Day      unit.Date
	At       time.Time // by the office's clock
	Zone     string
	Business string
	PersonID int64
	Person   string
	Demo     bool
	Jobs     []TruckJob
	Machines []machine.Machine
	Services []string // of machines due soon, a sentence each
	Token    string   // the session's word, which every entry carries back
}

// ForTruck is the job without what the truck has no use for.
func ForTruck(f Facts, rows RowsPlanned, kept []TruckEntry) TruckJob {
	shelf, sown, drill := f.shelfForTruck(), f.Sown, f.drillForTruck()
	f.Business = Business{Name: f.Business.Name, Zone: f.Business.Zone}
	f.Farm = Farm{ID: f.Farm.ID, Name: f.Farm.Name}
	f.Paddock = Paddock{ID: f.Paddock.ID, Name: f.Paddock.Name}
	f.Alternatives, f.Rates, f.Papers, f.Acceptances, f.Held, f.Logs, f.Questions, f.Yard = nil, nil, nil, nil, nil, nil, nil, Yard{}
	f.Costs, f.Moved = CostFacts{}, unpriced(f.Moved)
	if f.Sower != nil {
		sower := *f.Sower
		sower.Owning = nil
		f.Sower = &sower
	}
	if f.Shelf = shelf; sown != nil {
		f.Sown = &Sown{JobID: sown.JobID, PlannedM: sown.PlannedM, CoveredM: sown.CoveredM}
	}
	return TruckJob{f, rows, kept, drill}
}

// unpriced is a ledger without what its stock cost.
func unpriced(moved []Movement) []Movement {
	out := slices.Clone(moved)
	for i := range out {
		out[i].Value = 0
	}
	return out
}

// shelfForTruck keeps the lots of the recipe and those of the same species, which a
// refusal may name as the way out; what other jobs hold back stays without their names.
func (f Facts) shelfForTruck() Shelf {
	shelf := Shelf{Tests: map[int64][]seed.Test{}}
	if f.Recipe == nil {
		return shelf
	}
	for _, lot := range f.Shelf.Lots {
		if !slices.ContainsFunc(f.RecipeLots(), func(l seed.Lot) bool { return l.Species == lot.Species }) {
			continue
		}
		lot.CostPerKg, lot.TreatmentPerKg, lot.Supplier, lot.SupplierLot, lot.Origin, lot.Note = money.Factor{}, money.Factor{}, "", "", "", ""
		shelf.Lots = append(shelf.Lots, lot)
		shelf.Tests[lot.ID] = f.Shelf.Tests[lot.ID]
		shelf.carry(f, LotStock, lot.ID)
	}
	if product, ok := f.Shelf.Product(f.Recipe.ProductID); ok {
		shelf.Products = []mix.Product{{ID: product.ID, Name: product.Name, BulkDensityKgPerM3: product.BulkDensityKgPerM3, BagL: product.BagL, Note: product.Note}}
		shelf.carry(f, MediumStock, product.ID)
	}
	return shelf
}

func (s *Shelf) carry(f Facts, kind StockKind, id int64) {
	for _, b := range f.Shelf.Balances {
		if b.Kind == kind && b.ID == id {
			s.Balances = append(s.Balances, b)
		}
	}
	if others := f.Shelf.HeldBack(kind, id, f.Job.ID); others > 0 {
		s.Held = append(s.Held, Held{0, kind, id, others, others})
	}
}
