package job

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/working"
)

// Marked is a price without tax beside the planned cost that it stands on.
type Marked struct {
	Cost          Cost
	Price         money.Cents
	MarkupPercent money.Factor // of the cost, to four decimals; below 0 where the price does not cover it
	MarginPercent money.Factor // of the price, to four decimals
}

// MarkedAt sets a price without tax beside the job's planned cost. It refuses a job whose
// cost or price is nothing.
func MarkedAt(f Facts, price money.Cents) (Marked, error) {
	cost, err := CostOf(f)
	if err != nil {
		return Marked{}, err
	}
	m := Marked{Cost: cost, Price: price}
	if cost.Total <= 0 {
		return m, fault.Conflict("The planned cost of this job is nothing yet. %s", strings.Join(cost.LeftOut, " "))
	}
	if m.MarkupPercent, err = money.MarkupPercent(cost.Total.Factor(), price.Factor()); err != nil {
		return m, fault.Conflict("%s", err.Error())
	}
	if m.MarginPercent, err = money.MarginPercent(cost.Total.Factor(), price.Factor()); err != nil {
		return m, fault.Conflict("%s", err.Error())
	}
	return m, nil
}

// Says is the price beside the cost in a sentence.
func (m Marked) Says(b Business) string {
	says := fmt.Sprintf("The planned cost is %s. At %s without tax the mark-up is %s %% of the cost, and the margin %s %% of the price.",
		b.Money(m.Cost.Total), b.Money(m.Price), m.MarkupPercent.Fixed(1), m.MarginPercent.Fixed(1))
	if len(m.Cost.LeftOut) > 0 {
		says += " The cost does not hold yet: " + strings.Join(m.Cost.LeftOut, " ")
	}
	return says
}

// Working shows mark-up and margin from the two amounts.
func (m Marked) Working() working.Steps {
	return m.Cost.Working().
		Add("price", "the lines without tax, those if wanted left out", working.Text(m.Price.Shown()), "", "").
		Add("mark-up", "(price − cost) ÷ cost", working.Text(m.MarkupPercent.Fixed(4)), "%", "").
		Add("margin", "(price − cost) ÷ price", working.Text(m.MarginPercent.Fixed(4)), "%", "")
}

// PriceWay tells how a price is built from a cost.
type PriceWay string

const (
	ByMarkup PriceWay = "mark-up" // per cent of the cost
	ByMargin PriceWay = "margin"  // per cent of the price
)

// mostMarkup bounds a mark-up, in %: more is a slip.
const mostMarkup = 1000

// RatesFromCost builds a job's lines from its planned cost: what goes with the rows by the
// row-km, the rest as one amount, so that together they come to the cost with the mark-up or
// the margin, to what the rounding of prices by the row-km leaves; with the tax on top where
// the business states its prices so. It refuses ("percent") a
// mark-up or margin below 0, a margin of 100 % or more and a mark-up above 1000 %; and a job
// whose cost is nothing yet.
func RatesFromCost(f Facts, way PriceWay, percent money.Factor) ([]bill.Rate, error) {
	switch {
	case percent.Sign() < 0:
		return nil, fault.Refuse("percent", "%s %% would sell below the cost, enter 0 or more", percent)
	case way == ByMargin && percent.Compare(money.Whole(100)) >= 0:
		return nil, fault.Refuse("percent", "a margin is per cent of the price: at %s %% no price is high enough. Enter less than 100, or choose a mark-up", percent)
	case percent.Compare(money.Whole(mostMarkup)) > 0:
		return nil, fault.Refuse("percent", "%s %% is more than anybody adds, enter %d or less", percent, mostMarkup)
	}
	cost, err := CostOf(f)
	if err != nil {
		return nil, err
	}
	if cost.Total <= 0 {
		return nil, fault.Conflict("The planned cost of this job is nothing yet. %s", strings.Join(cost.LeftOut, " "))
	}
	price, err := priceAt(way, cost.Total.Factor(), percent)
	if err != nil {
		return nil, fault.Refuse("percent", "%s", err.Error())
	}
	return ratesOver(f, cost, f.asPriced(price)), nil
}

func priceAt(way PriceWay, cost, percent money.Factor) (money.Cents, error) {
	if way == ByMargin {
		return money.PriceAtMargin(cost, percent)
	}
	return money.PriceAtMarkup(cost, percent)
}

// alongRows are the kinds of cost that grow with the rows, with what their line is called.
var alongRows = map[CostKind]string{SeedCost: "Seed", TreatmentCost: "Treating and inoculating seed", MediumCost: "Bulking medium placed", MachineCost: "Seeding rows on mounds, machines",
	FuelCost: "Fuel", LabourCost: "Hands", ResowCost: "Allowance for sowing again"}

// ratesOver shares a price out over the kinds of a cost, in the order of their lines.
func ratesOver(f Facts, cost Cost, price money.Cents) (rates []bill.Rate) {
	var kinds []CostKind
	for _, l := range cost.Lines {
		if !slices.Contains(kinds, l.Kind) && cost.Of(l.Kind) > 0 {
			kinds = append(kinds, l.Kind)
		}
	}
	weights := make([]money.Factor, len(kinds))
	for i, kind := range kinds {
		weights[i] = cost.Of(kind).Factor()
	}
	rowKm := RowKmOf(cost.RowM)
	for i, share := range money.Share(price, weights) {
		rate := bill.Rate{Position: i + 1, Description: cmp.Or(alongRows[kinds[i]], sentenceCase(string(kinds[i]))), Unit: "each", Basis: bill.Fixed,
			Quantity: money.Whole(1), UnitPrice: share.Factor(), TaxCategory: "S", TaxPercent: f.Business.TaxingOn(f.Today).Percent}
		if alongRows[kinds[i]] != "" && rowKm.Sign() > 0 {
			const decimals = 4
			rate.Unit, rate.Basis, rate.Quantity, rate.UnitPrice = "row-km", bill.RowKm, money.Factor{}, share.Factor().Over(rowKm, decimals)
		}
		rates = append(rates, rate)
	}
	return rates
}
