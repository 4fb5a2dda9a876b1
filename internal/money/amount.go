package money

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// Largest is the largest amount that the program reckons with, of either sign:
// 999,999,999,999.99. Ten thousand of them still add up without overflow.
const Largest Cents = 99_999_999_999_999

// Amount rounds the factor to whole cents as Cents does, and errs beyond Largest.
func (f Factor) Amount() (Cents, error) {
	rounded := f.d.Shift(2).Round(0)
	if rounded.Abs().GreaterThan(decimal.NewFromInt(int64(Largest))) {
		return 0, fmt.Errorf("the amount is too large, money goes up to %s", Largest.Shown())
	}
	return Cents(rounded.IntPart()), nil
}

// Within tells whether the factor lies between -most and most.
func (f Factor) Within(most int64) bool {
	return !f.d.Abs().GreaterThan(decimal.NewFromInt(most))
}

// Percent is that many per cent of the factor, exactly.
func (f Factor) Percent(percent Factor) Factor { return Factor{f.d.Mul(percent.d).Shift(-2)} }

// Sum adds factors exactly.
func Sum(parts ...Factor) Factor {
	var total Factor
	for _, part := range parts {
		total = total.Plus(part)
	}
	return total
}
