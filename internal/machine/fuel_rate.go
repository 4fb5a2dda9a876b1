package machine

import (
	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// FuelRateKind tells what a dated rate of fuel is of.
type FuelRateKind string

const (
	PriceOfFuel  FuelRateKind = "price"  // paid, without tax
	CreditOfFuel FuelRateKind = "credit" // fuel tax credit that the business claims
)

// FuelRate is a price or a credit of a litre of fuel from a day on. None is shipped: credits
// change several times a year and differ by use, the tax office's table has them.
type FuelRate struct {
	ID     int64
	Kind   FuelRateKind
	FromOn unit.Date
	PerL   money.Factor // $ a litre, 0 to 100
	Note   string       // where it stands: the docket, the table's day
}

// mostPerL bounds the price of a litre in $.
const mostPerL = 100

// Check refuses a rate without a day, and an amount that no litre costs.
func (r FuelRate) Check() error {
	switch {
	case r.Kind != PriceOfFuel && r.Kind != CreditOfFuel:
		return fault.Refuse("kind", "%q is neither a price nor a credit, choose one of them", r.Kind)
	case r.FromOn == "":
		return fault.Refuse("from_on", "the day is missing, enter the day from which the %s counts", r.Kind)
	case r.PerL.Sign() < 0 || !r.PerL.Within(mostPerL):
		return fault.Refuse("per_l", "a %s of %s a litre is outside what is possible, enter dollars a litre from 0 to %d", r.Kind, r.PerL, mostPerL)
	}
	return nil
}

// FuelRates is every dated rate, in any order.
type FuelRates []FuelRate

// FuelPrice is what a litre costs on a day: the price, less the credit. A day before the
// first rate has none.
type FuelPrice struct {
	Price, Credit     money.Factor // $ a litre
	PriceOn, CreditOn unit.Date    // from which each counts; "" for none
}

// On is the price and the credit that count on a day.
func (rates FuelRates) On(day unit.Date) FuelPrice {
	var p FuelPrice
	p.Price, p.PriceOn = rates.last(PriceOfFuel, day)
	p.Credit, p.CreditOn = rates.last(CreditOfFuel, day)
	return p
}

func (rates FuelRates) last(kind FuelRateKind, day unit.Date) (perL money.Factor, on unit.Date) {
	for _, r := range rates {
		if r.Kind == kind && r.FromOn <= day && r.FromOn > on {
			perL, on = r.PerL, r.FromOn
		}
	}
	return perL, on
}
