package machine

import (
	"errors"
	"math"

	"rowtally/internal/money"
	"rowtally/internal/working"
)

// RecoveryIn asks for the yearly sum that pays a machine's loss of value and the
// interest on what is tied up in it.
type RecoveryIn struct {
	PurchasePrice   money.Factor `json:"purchase_price"`
	EndValue        money.Factor `json:"end_value"`
	Years           float64      `json:"years"`            // 0.01 to 100
	InterestPercent float64      `json:"interest_percent"` // a year, 0 to 100
}

// Recovery is the capital recovery: depreciation and interest in one yearly sum.
type Recovery struct {
	Factor  float64     `json:"factor"` // per year
	PerYear money.Cents `json:"per_year"`

	in    RecoveryIn
	exact money.Factor // per year, before it is rounded to cents
}

// recoverySource names the formula in a working.
const recoverySource = "annuity formula i ÷ (1 − (1 + i)^−n), as Iowa State A3-29 uses it"

// RecoveryFactor is the share of a sum that repays it with interest in equal yearly
// payments; without interest it is one part in the years.
func RecoveryFactor(years, interestPercent float64) float64 {
	if interestPercent == 0 {
		return 1 / years
	}
	i := interestPercent / 100
	return i / -math.Expm1(-years*math.Log1p(i))
}

// CapitalRecovery is (purchase price − end value) × factor + end value × interest. The
// factor keeps its full precision; the sum is rounded to cents once.
func CapitalRecovery(in RecoveryIn) (Recovery, error) {
	err := errors.Join(priced("purchase_price", in.PurchasePrice), priced("end_value", in.EndValue),
		within("years", in.Years, leastYears, mostYears), within("interest_percent", in.InterestPercent, 0, 100))
	if err != nil {
		return Recovery{}, err
	}
	return recoveryOf(in), nil
}

func recoveryOf(in RecoveryIn) Recovery {
	out := Recovery{Factor: RecoveryFactor(in.Years, in.InterestPercent), in: in}
	lost := in.PurchasePrice.Minus(in.EndValue)
	out.exact = lost.Times(money.FactorOf(out.Factor, precision)).Plus(percentOf(in.EndValue, in.InterestPercent))
	out.PerYear = out.exact.Cents()
	return out
}

// Working shows the factor and the yearly sum.
func (r Recovery) Working() working.Steps {
	var steps working.Steps
	steps = steps.Add("capital recovery factor", plain(r.in.InterestPercent)+" % over "+plain(r.in.Years)+" years", working.Number(r.Factor, 6), "per year", recoverySource)
	return addAmount(steps, "capital recovery", "("+r.in.PurchasePrice.String()+" − "+r.in.EndValue.String()+") × factor + "+
		r.in.EndValue.String()+" × "+plain(r.in.InterestPercent)+" %", r.PerYear, "$ a year", "")
}
