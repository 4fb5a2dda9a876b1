package money

import (
	"slices"

	"github.com/shopspring/decimal"
)

// Allot rounds parts to whole cents so that they add to their rounded sum: what is
// printed below a total adds up to it. Every part stays within one cent of its exact
// value and a part of whole cents stays as it is: the cents that are over go to the
// parts that lost most by rounding down, the earlier first.
func Allot(parts []Factor) []Cents {
	cents := make([]Cents, len(parts))
	lost := make([]decimal.Decimal, len(parts))
	over := Sum(parts...).Cents()
	for i, part := range parts {
		exact := part.d.Shift(2)
		down := exact.Floor()
		cents[i], lost[i] = Cents(down.IntPart()), exact.Sub(down)
		over -= cents[i]
	}
	order := make([]int, len(parts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return lost[b].Cmp(lost[a]) })
	for _, i := range order[:over] {
		cents[i]++
	}
	return cents
}

// shareDecimals is the precision of a share before it is rounded to cents.
const shareDecimals = 24

// Share divides an amount in proportion to weights, none negative and not all zero, so
// that the shares add to the amount.
func Share(total Cents, weights []Factor) []Cents {
	whole := Sum(weights...)
	parts := make([]Factor, len(weights))
	for i, weight := range weights {
		parts[i] = total.Factor().Times(weight).Over(whole, shareDecimals)
	}
	return Allot(parts)
}
