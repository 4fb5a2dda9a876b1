package machine

import (
	"strconv"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// Bounds that no machine of this trade exceeds; they keep every sum finite.
const (
	leastYears      = 0.01
	mostYears       = 100
	mostYearlyHours = 8784 // hours in a leap year
	mostMeterH      = 200_000
	mostPrice       = 1_000_000_000
)

// within refuses a measure outside least to most, and what is no number.
func within(field string, v, least, most float64) error {
	if v >= least && v <= most {
		return nil
	}
	return fault.Refuse(field, "%s is %s, enter a figure from %s to %s", words(field), plain(v), plain(least), plain(most))
}

// priced refuses an amount below 0 or beyond mostPrice.
func priced(field string, f money.Factor) error {
	if f.Sign() >= 0 && f.Within(mostPrice) {
		return nil
	}
	return fault.Refuse(field, "%s is %s, enter an amount from 0 to 1,000,000,000", words(field), f)
}

func plain(v float64) string { return strconv.FormatFloat(v, 'g', 12, 64) }

// words is a field's name as a sentence has it.
func words(field string) string { return strings.ReplaceAll(field, "_", " ") }

// precision is the count of decimals that a measured factor of money is taken with.
const precision = 15

// percentOf is a share of an amount, in per cent, at full precision.
func percentOf(amount money.Factor, percent float64) money.Factor {
	return amount.Percent(money.FactorOf(percent, precision))
}

// per spreads an amount over hours, at full precision.
func per(amount money.Factor, hours float64) money.Factor {
	return amount.Over(money.FactorOf(hours, precision), precision)
}
