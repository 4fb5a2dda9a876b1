package bill

import (
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// TaxRate is the rate of the tax from a day on, that day included.
type TaxRate struct {
	FromOn  unit.Date
	Percent money.Factor // 0 to 100
	Note    string       // where it was read
}

// RateOn is the rate of a day: of the latest change up to it, first where none has come yet.
// The rates are in the order of their days.
func RateOn(day unit.Date, first money.Factor, changes []TaxRate) money.Factor {
	percent := first
	for _, r := range changes {
		if r.FromOn <= day {
			percent = r.Percent
		}
	}
	return percent
}
