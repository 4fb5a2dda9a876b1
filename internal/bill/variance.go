package bill

import (
	"errors"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/working"
)

// VarianceIn is what one input (seed, medium, hours, fuel) should have taken and what it
// took. PlannedQuantity is the standard for the ACTUAL output: what the rows really sown
// should have taken, not what the quote had.
type VarianceIn struct {
	PlannedQuantity money.Exact  `json:"planned_quantity"`
	PlannedPrice    money.Factor `json:"planned_price"`
	ActualQuantity  money.Exact  `json:"actual_quantity"`
	ActualPrice     money.Factor `json:"actual_price"`
}

// Variance parts the difference of cost into its two causes. + means dearer than planned.
// The two causes add to the total, to the cent.
type Variance struct {
	Price    money.Cents `json:"price_variance"`    // (actual price − planned price) × actual quantity
	Quantity money.Cents `json:"quantity_variance"` // (actual quantity − planned quantity) × planned price
	Total    money.Cents `json:"total_variance"`

	in VarianceIn
}

// Compare works out a variance. Quantities and prices are 0 or more; nothing planned, or
// nothing used, still gives a variance, which is why none is given in per cent.
func Compare(in VarianceIn) (Variance, error) {
	err := errors.Join(
		fromZero("planned_quantity", in.PlannedQuantity.Factor), fromZero("planned_price", in.PlannedPrice),
		fromZero("actual_quantity", in.ActualQuantity.Factor), fromZero("actual_price", in.ActualPrice))
	if err != nil {
		return Variance{}, err
	}
	price := in.ActualPrice.Minus(in.PlannedPrice).Times(in.ActualQuantity.Factor)
	quantity := in.ActualQuantity.Minus(in.PlannedQuantity.Factor).Times(in.PlannedPrice)
	if _, err := price.Amount(); err != nil {
		return Variance{}, fault.Refuse("actual_price", "quantity times price is too large: %v", err)
	}
	if _, err := quantity.Amount(); err != nil {
		return Variance{}, fault.Refuse("planned_price", "quantity times price is too large: %v", err)
	}
	shown := money.Allot([]money.Factor{price, quantity})
	return Variance{shown[0], shown[1], shown[0] + shown[1], in}, nil
}

// varianceSource names the rule in a working.
const varianceSource = "standard costing, two-way split; + is dearer than planned"

// Working shows the two causes and their sum.
func (v Variance) Working() working.Steps {
	in := v.in
	var steps working.Steps
	steps = addAmount(steps, "price variance", "("+in.ActualPrice.String()+" − "+in.PlannedPrice.String()+") × "+in.ActualQuantity.String(), v.Price, varianceSource)
	steps = addAmount(steps, "quantity variance", "("+in.ActualQuantity.String()+" − "+in.PlannedQuantity.String()+") × "+in.PlannedPrice.String(), v.Quantity, varianceSource)
	return addAmount(steps, "total variance", v.Price.Shown()+" + "+v.Quantity.Shown(), v.Total, varianceSource)
}
