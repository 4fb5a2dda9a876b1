package seed

import (
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Layer tells what a lot is sown as.
type Layer string

const (
	Shrub       Layer = "shrub"       // in placements along the rows
	Understorey Layer = "understorey" // over the alleys, by area
)

// Lot is one seed lot as its certificate and label describe it. Stock is not here: it
// is the sum of the lot's movements.
type Lot struct {
	ID          int64
	Code        string // ours, "D26-01": one number on every screen, paper and tub label
	Species     string // botanical name
	CommonName  string
	Form        string // "fruit, bracts on", "seed, bracts removed"
	Unit        string // what the germination test counted and UnitsPerKg counts: "fruit", "naked seed"
	Layer       Layer
	Origin      string // where it was collected, and by whose permission
	Permit      string // reference of the permit to collect
	Supplier    string // collector or seller, by role
	SupplierLot string
	Harvest     Harvest   // month of collection
	Treatment   string    // product; a treated lot is never fed to stock
	TreatedOn   unit.Date // "" when untreated, or the day is not known

	ReceivedOn        unit.Date
	PurityPercent     float64      // by mass, above 0 up to 100
	InertPercent      *float64     // by mass; nil when the certificate does not say
	OtherSeedPercent  *float64     // by mass, of crops and weeds; nil likewise
	UnitsPerKg        float64      // per kg of pure seed, of Unit
	BulkDensityKgPerL float64      // measured, loose; 0 when not measured
	CostPerKg         money.Factor // landed, without tax
	TreatmentPerKg    money.Factor // what treating or coating a kg of it cost beside that, without tax; 0 where the lot came treated
	CountHard         bool         // hard seed counted as live
	RetestMonths      int          // months after which a test no longer counts: its species' setting, or its own

	HoldReason string // why nothing may be mixed from it; "" when it may
	HeldOn     unit.Date
	Note       string
}

// ReadyPerKg is what a kg of it ready to sow cost, without tax: landed and treated.
func (l Lot) ReadyPerKg() money.Factor { return l.CostPerKg.Plus(l.TreatmentPerKg) }

// OnHold tells whether nothing may be mixed from the lot.
func (l Lot) OnHold() bool { return l.HoldReason != "" }

// Treated is what the lot was treated with, and when: "insecticide, 3 Mar 2026"; "" when
// untreated.
func (l Lot) Treated() string {
	if l.Treatment == "" || l.TreatedOn == "" {
		return l.Treatment
	}
	return l.Treatment + ", " + l.TreatedOn.String()
}
