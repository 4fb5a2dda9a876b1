package money

import "errors"

// percentDecimals is the precision of a mark-up or margin worked out from two amounts.
const percentDecimals = 4

// PriceAtMarkup is the cost and a mark-up in per cent of the cost, to whole cents.
// Neither holds tax.
func PriceAtMarkup(cost, markupPercent Factor) (Cents, error) {
	return cost.Plus(cost.Percent(markupPercent)).Amount()
}

// PriceAtMargin is the price of which a margin in per cent of the price is left above
// the cost, to whole cents. A margin of 100 % or more has no price.
func PriceAtMargin(cost, marginPercent Factor) (Cents, error) {
	if marginPercent.Compare(hundred) >= 0 {
		return 0, errors.New("a margin is per cent of the price and stays below 100, enter less, or a mark-up on the cost")
	}
	return cost.Times(hundred).Over(hundred.Minus(marginPercent), 2).Amount()
}

// MarkupPercent is what the price stands above the cost, in per cent of the cost, to
// four decimals.
func MarkupPercent(cost, price Factor) (Factor, error) {
	if cost.Sign() <= 0 {
		return Factor{}, errors.New("there is no mark-up on a cost of nothing, enter the cost")
	}
	return price.Minus(cost).Times(hundred).Over(cost, percentDecimals), nil
}

// MarginPercent is what the price stands above the cost, in per cent of the price, to
// four decimals.
func MarginPercent(cost, price Factor) (Factor, error) {
	if price.Sign() <= 0 {
		return Factor{}, errors.New("there is no margin in a price of nothing, enter the price")
	}
	return price.Minus(cost).Times(hundred).Over(price, percentDecimals), nil
}
