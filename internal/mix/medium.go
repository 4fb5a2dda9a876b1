package mix

import (
	"time"

	"rowtally/internal/money"
)

// Product is a bulking medium by product, with its measured density. Stock is not here.
type Product struct {
	ID                 int64
	Name               string  // "vermiculite, medium grade"
	BulkDensityKgPerM3 float64 // measured, loose, above 0
	BagL               float64 // litres to a bag; 0 when it comes loose
	CostPerBag         money.Factor
	ChargePerL         money.Factor // what a litre placed is charged at, without tax
	Note               string
}

// CostOf is what so many mL cost at the price of a bag, to the cent; 0 where it comes loose.
func (p Product) CostOf(ml int64) money.Cents {
	if p.BagL <= 0 {
		return 0
	}
	return money.Whole(ml).Times(p.CostPerBag).Over(money.FactorOf(p.BagL*1000, 6), 2).Cents()
}

// Tub is one fill of the mixing tub, as it was mixed.
type Tub struct {
	ID         int64
	JobID      int64
	Number     int // 1, 2, 3 … within the job
	MixML      int64
	MediumML   int64
	ProductID  int64
	RowM       float64 // row-metres that it should last
	MixedAt    time.Time
	PersonID   int64
	Ingredient []Ingredient
}

// Ingredient is what one lot gave to a tub.
type Ingredient struct {
	LotID int64
	Grams int64
}

// CleanOut is the mix that remained when the hoppers were emptied, split over lots and
// medium as the tubs held them. Kept went back into stock; what was not kept was thrown away.
type CleanOut struct {
	ID         int64
	JobID      int64
	MixML      int64
	MediumML   int64
	ProductID  int64
	Kept       bool
	Note       string
	MadeAt     time.Time
	PersonID   int64
	Ingredient []Ingredient
}

// Catch is one catch test at the truck: what was typed, not what follows from it.
type Catch struct {
	ID        int64
	JobID     int64
	CaughtML  float64
	RunM      float64
	Outlets   int
	SpacingM  float64 // measured spacing of placements over the run
	CaughtAt  time.Time
	PersonID  int64
	Withdrawn bool
}
