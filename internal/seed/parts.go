package seed

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// partsRounding is what three percentages, each printed to one decimal, may be off by.
const partsRounding = 0.15

// CheckParts refuses parts of purity out of range, and three that do not make the whole.
func (l Lot) CheckParts() error {
	if err := percentageAboveZero("purity_percent", "purity", l.PurityPercent); err != nil {
		return err
	}
	sum, given := l.PurityPercent, 0
	for _, part := range []struct {
		field, what string
		percent     *float64
	}{{"inert_percent", "inert matter", l.InertPercent}, {"other_seed_percent", "other seed", l.OtherSeedPercent}} {
		if part.percent == nil {
			continue
		}
		if err := percentage(part.field, part.what, *part.percent); err != nil {
			return err
		}
		sum += *part.percent
		given++
	}
	if given == 2 && !(math.Abs(sum-100) <= partsRounding) || sum > 100+partsRounding {
		return fault.Refuse("purity_percent", "pure seed, inert matter and other seed make %s %%, not 100: correct a part", unit.Plain(math.Round(sum*100)/100))
	}
	return nil
}
