package bill

import (
	"strconv"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// mostPlain bounds every price, quantity and amount that is entered.
const mostPlain = 100_000_000_000

// bounded refuses a figure that no bill of this trade can hold.
func bounded(field string, f money.Factor) error {
	if f.Within(mostPlain) {
		return nil
	}
	return fault.Refuse(field, "%s is %s, enter a figure up to 100,000,000,000", words(field), f)
}

// fromZero refuses what is below 0 or beyond all bounds.
func fromZero(field string, f money.Factor) error {
	if f.Sign() < 0 {
		return fault.Refuse(field, "%s is %s, enter 0 or more", words(field), f)
	}
	return bounded(field, f)
}

// words is a field's name as a sentence has it.
func words(field string) string { return strings.ReplaceAll(field, "_", " ") }

// at is the path of one row of a list.
func at(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }
