package job

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// CostKind tells what a line of a job's cost is for.
type CostKind string

const (
	SeedCost      CostKind = "seed"
	TreatmentCost CostKind = "seed treatment" // of lots, and inoculant
	MediumCost    CostKind = "medium"
	MachineCost   CostKind = "machine"
	FuelCost      CostKind = "fuel"
	LabourCost    CostKind = "labour"
	FloatCost     CostKind = "travel and float"
	OthersCost    CostKind = "others' work"
	ResowCost     CostKind = "sowing again"
	OverheadCost  CostKind = "overhead"
)

// CostLine is one line of what a job costs, without tax: quantity × price, to the cent.
type CostLine struct {
	Kind     CostKind
	ID       int64 // of the lot, medium or machine; the place of a line of others' work
	What     string
	Quantity money.Factor
	Unit     string
	Price    money.Factor // of one unit
	Amount   money.Cents
	Source   string // where the quantity and the price come from
	AsPlan   bool   // of what was spent: nothing is told of it yet, and the plan stands in
}

// Cost is what a job costs, without tax.
type Cost struct {
	Lines   []CostLine
	Total   money.Cents // the lines added up
	RowM    float64     // metres of row that it is for; 0 for a job without rows
	GrossM2 float64     // of the paddock
	LeftOut []string    // what it does not hold yet, in sentences
}

// priceDecimals is how finely an average price is carried: no quantity of this trade makes
// a cent of what is beyond.
const priceDecimals = 10

// Of is what the lines of some kinds come to.
func (c Cost) Of(kinds ...CostKind) (sum money.Cents) {
	for _, l := range c.Lines {
		for _, kind := range kinds {
			if l.Kind == kind {
				sum += l.Amount
			}
		}
	}
	return sum
}

// PerRowKm is the cost of one row-km; ok is false where there are no rows.
func (c Cost) PerRowKm() (each money.Cents, ok bool) { return shareOf(c.Total, c.RowM/1000) }

// PerHa is the cost of one gross hectare of the paddock; ok is false while it is not known.
func (c Cost) PerHa() (each money.Cents, ok bool) { return shareOf(c.Total, c.GrossM2/1e4) }

// shareOf divides an amount by a measure, to the cent; ok is false where that is nothing.
func shareOf(total money.Cents, by float64) (money.Cents, bool) {
	divisor := money.FactorOf(by, 6)
	if divisor.Sign() <= 0 {
		return 0, false
	}
	return total.Factor().Over(divisor, 2).Cents(), true
}

// Working shows every line and what they come to.
func (c Cost) Working() working.Steps {
	var steps working.Steps
	for _, l := range c.Lines {
		steps = steps.Add(string(l.Kind)+": "+l.What, l.Quantity.String()+" "+l.Unit+" × "+priceShown(l.Price), working.Text(l.Amount.Shown()), "$", l.Source)
	}
	steps = steps.Add("cost of the job", "the lines added up", working.Text(c.Total.Shown()), "$", "")
	if each, ok := c.PerRowKm(); ok {
		steps = steps.Add("cost of a row-km", "÷ "+unit.Grouped(c.RowM/1000, 3)+" row-km", working.Text(each.Shown()), "$/row-km", "")
	}
	if each, ok := c.PerHa(); ok {
		steps = steps.Add("cost of a hectare", "÷ "+unit.Grouped(c.GrossM2/1e4, 2)+" gross ha", working.Text(each.Shown()), "$/ha", "")
	}
	return steps
}

// priceShown writes a price with at most four decimals, as a price is said.
func priceShown(f money.Factor) string {
	const most = 4
	if f.Decimals() <= 2 {
		return f.Cents().Shown()
	}
	return money.FactorOf(f.Float(), most).Plain()
}

// PriceShown writes the price of a unit, with at most four decimals.
func (l CostLine) PriceShown() string { return priceShown(l.Price) }

// QuantityShown writes the quantity: kilograms to the gram, all else with two decimals.
func (l CostLine) QuantityShown() string { return quantityShown(l.Quantity, l.Unit) }

func quantityShown(f money.Factor, unitName string) string {
	decimals := 2
	if unitName == "kg" {
		decimals = 3
	}
	return unit.Grouped(f.Float(), decimals)
}

// reckoning gathers a cost line by line; an amount too large to be kept stops it.
type reckoning struct {
	Cost
	failed error
}

// add puts a line in that is quantity × price; one of nothing is left out.
func (r *reckoning) add(l CostLine) {
	if l.Quantity.Sign() == 0 || r.failed != nil {
		return
	}
	amount, err := l.Quantity.Times(l.Price).Amount()
	if err != nil {
		r.failed = fault.Refuse("", "%s comes to too much: %v", l.What, err)
		return
	}
	l.Amount = amount
	r.put(l)
}

// put puts a line in whose amount is known.
func (r *reckoning) put(l CostLine) {
	r.Lines = append(r.Lines, l)
	r.Total += l.Amount
	if _, err := r.Total.Factor().Amount(); err != nil && r.failed == nil {
		r.failed = fault.Refuse("", "the cost of the job comes to too much: %v", err)
	}
}

// leaveOut says what the cost does not hold.
func (r *reckoning) leaveOut(sentence string, args ...any) {
	r.LeftOut = append(r.LeftOut, fmt.Sprintf(sentence, args...))
}

// spread adds what is reckoned on the other lines: the allowance to sow again, then the
// overhead.
func (r *reckoning) spread(c Costing, rates CostRates) {
	r.share(ResowCost, "allowance to sow again", c.ResowPercent, r.Of(SeedCost, TreatmentCost, MediumCost, MachineCost, FuelCost, LabourCost),
		"seed, medium, machines and labour", c.ResowWhy)
	r.share(OverheadCost, "overhead", rates.OverheadPercent, r.Total, "the lines above", "your rate")
	if r.RowM > 0 && rates.OverheadPerRowKm.Sign() > 0 {
		r.add(CostLine{Kind: OverheadCost, ID: 1, What: "overhead by the row-km", Quantity: money.FactorOf(r.RowM/1000, 3), Unit: "row-km", Price: rates.OverheadPerRowKm, Source: "your rate"})
	}
}

// share adds some per cent of an amount.
func (r *reckoning) share(kind CostKind, what string, percent money.Factor, of money.Cents, ofWhat, source string) {
	if of == 0 {
		return
	}
	r.add(CostLine{Kind: kind, What: what, Quantity: percent, Unit: "% of " + of.Shown(), Price: of.Factor().Percent(money.Whole(1)), Source: "of " + ofWhat + "; " + source})
}
