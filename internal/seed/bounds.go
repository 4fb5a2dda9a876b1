package seed

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// percentage refuses a figure in % that is not a number from 0 to 100.
func percentage(field, what string, percent float64) error {
	if percent >= 0 && percent <= 100 {
		return nil
	}
	return fault.Refuse(field, "%s is %s %%, enter a figure from 0 to 100", what, unit.Plain(percent))
}

// percentageAboveZero refuses a figure in % that is not above 0 and up to 100.
func percentageAboveZero(field, what string, percent float64) error {
	if percent > 0 && percent <= 100 {
		return nil
	}
	return fault.Refuse(field, "%s is %s %%, enter a figure above 0 and up to 100", what, unit.Plain(percent))
}

// finite refuses a figure that is not a number, or is without end.
func finite(field string, v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fault.Refuse(field, "%s is %v, enter a number", field, v)
	}
	return nil
}
