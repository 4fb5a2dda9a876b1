package seed

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// Hold asks what store keeps a lot at FinalPercent or better for Days, from
// InitialPercent; both above 0 and below 100, the final one the lower.
type Hold struct {
	InitialPercent, FinalPercent, Days float64
}

// sigmaNeeded is the least sigma, in days, that the hold asks for.
func (h Hold) sigmaNeeded() (float64, error) {
	for _, p := range []struct {
		field   string
		percent float64
	}{{"initial_percent", h.InitialPercent}, {"final_percent", h.FinalPercent}} {
		if !(p.percent > 0 && p.percent < 100) {
			return 0, fault.Refuse(p.field, "viability is %s %%, enter a figure above 0 and below 100", unit.Plain(p.percent))
		}
	}
	if h.FinalPercent >= h.InitialPercent {
		return 0, fault.Refuse("final_percent", "final viability %s %% is not below the initial %s %%, enter a lower one",
			unit.Plain(h.FinalPercent), unit.Plain(h.InitialPercent))
	}
	if !(h.Days > 0 && h.Days <= mostDays) {
		return 0, fault.Refuse("days", "days is %s, enter a figure above 0 and up to %d", unit.Plain(h.Days), mostDays)
	}
	return h.Days / (normalDeviate(h.InitialPercent/100) - normalDeviate(h.FinalPercent/100)), nil
}

// MoistureToHold is the highest moisture content, in % of the wet weight, at which a
// store at a temperature in °C holds the lot: the viability equation solved for m.
func (l Longevity) MoistureToHold(h Hold, temperatureC float64) (percent float64, err error) {
	sigma, err := h.sigmaNeeded()
	if err != nil {
		return 0, err
	}
	percent = math.Pow(10, (l.KE-l.CH*temperatureC-l.CQ*temperatureC*temperatureC-math.Log10(sigma))/l.CW)
	if !(percent > 0 && percent < 100) {
		return 0, fault.Refuse("days", "no moisture content holds the lot for %s days at %s °C, ask for fewer days", unit.Plain(h.Days), unit.Plain(temperatureC))
	}
	return percent, nil
}

// TemperatureToHold is the highest temperature, in °C, at which a store at a moisture
// content in % of the wet weight holds the lot: the viability equation solved for t.
func (l Longevity) TemperatureToHold(h Hold, moisturePercent float64) (celsius float64, err error) {
	sigma, err := h.sigmaNeeded()
	if err != nil {
		return 0, err
	}
	spare := l.KE - l.CW*math.Log10(moisturePercent) - math.Log10(sigma)
	root := l.CH*l.CH + 4*l.CQ*spare
	if !(l.CQ > 0 && root >= 0) {
		return 0, fault.Refuse("days", "no temperature holds the lot for %s days at %s %% moisture, ask for fewer days", unit.Plain(h.Days), unit.Plain(moisturePercent))
	}
	return (math.Sqrt(root) - l.CH) / (2 * l.CQ), nil
}

// WetBasisPercent turns a moisture content in % of the dry weight, 0 or more, into % of
// the wet weight, which the viability equation takes.
func WetBasisPercent(dryBasisPercent float64) float64 {
	return 100 * dryBasisPercent / (100 + dryBasisPercent)
}

// DryBasisPercent turns a moisture content in % of the wet weight, from 0 and below 100,
// into % of the dry weight.
func DryBasisPercent(wetBasisPercent float64) float64 {
	return 100 * wetBasisPercent / (100 - wetBasisPercent)
}
