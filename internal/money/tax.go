package money

import "github.com/shopspring/decimal"

var hundred = Whole(100)

// SplitInclusive parts a price that holds its tax: the tax is rounded first, halves away
// from zero, and the price without tax is what remains, so that both add up. percent is
// the rate on the price without tax, 0 or above (at 10 the tax is 1/11).
func SplitInclusive(inclusive Cents, percent Factor) (exclusive, tax Cents) {
	tax = inclusive.Factor().Times(percent).Over(hundred.Plus(percent), 2).Cents()
	return inclusive - tax, tax
}

// CashStep is the smallest coin: 5 cents.
const CashStep Cents = 5

// CashRounded is a total as it is paid in coins: 1 and 2 cents go down, 3 and 4 up, 6
// and 7 down, 8 and 9 up. It is for the total alone, never for a line, a card or a
// transfer (Prices Surveillance Authority guideline 1991, after the ACCC).
func CashRounded(total Cents) Cents {
	steps := decimal.NewFromInt(int64(total)).DivRound(decimal.NewFromInt(int64(CashStep)), 0)
	return Cents(steps.IntPart()) * CashStep
}
