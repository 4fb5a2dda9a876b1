package seed

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

const storageSource = "Ellis & Roberts 1980, Annals of Botany 45:13-30 (the viability equation)"

// Longevity holds the four constants of the viability equation for one species.
type Longevity struct {
	KE float64 `json:"ke"`
	CW float64 `json:"cw"`
	CH float64 `json:"ch"`
	CQ float64 `json:"cq"`
}

// SigmaDays is the time in which viability falls by one normal equivalent deviate in a
// store at a moisture content in % of the wet weight (above 0, below 100) and a
// temperature in °C: 10^(KE - CW log10 m - CH t - CQ t²).
func (l Longevity) SigmaDays(moisturePercent, temperatureC float64) float64 {
	return math.Pow(10, l.KE-l.CW*math.Log10(moisturePercent)-l.CH*temperatureC-l.CQ*temperatureC*temperatureC)
}

// Storage asks how a lot keeps. Moisture is in % of the wet weight, above 0 and below
// 100; temperature in °C, -200 to 100; percentages of viability 0 to 100; Days 0 or more.
// An initial viability of 100 or 0 % has no deviate: SeedsTested n turns it into
// 100 (n - 0.25) / n or 25 / n.
type Storage struct {
	Longevity
	MoisturePercent float64  `json:"moisture_percent"`
	TemperatureC    float64  `json:"temperature_c"`
	InitialPercent  *float64 `json:"initial_percent,omitempty"`
	SeedsTested     *int     `json:"seeds_tested,omitempty"`
	Days            *float64 `json:"days,omitempty"`
	FinalPercent    *float64 `json:"final_percent,omitempty"`
}

// Keeping says how a lot keeps; what the question gave no figures for is nil, and so is
// the half-life of a lot that starts below 50 %.
type Keeping struct {
	SigmaDays        float64  `json:"sigma_days"`
	ViabilityPercent *float64 `json:"viability_percent,omitempty"`
	DaysToFinal      *float64 `json:"days_to_final,omitempty"`
	HalfLifeDays     *float64 `json:"half_life_days,omitempty"`

	of             Storage
	initialPercent float64 // as it enters the equation
	initialDeviate float64 // Ki
}

// Keep works out how a lot keeps in its store, by the viability equation.
func Keep(s Storage) (Keeping, error) {
	if err := s.check(); err != nil {
		return Keeping{}, err
	}
	k := Keeping{of: s, SigmaDays: s.SigmaDays(s.MoisturePercent, s.TemperatureC)}
	if !(k.SigmaDays > 0) || math.IsInf(k.SigmaDays, 1) {
		return Keeping{}, fault.Refuse("ke", "the constants give no length of life at %s %% moisture and %s °C, look them up again",
			unit.Plain(s.MoisturePercent), unit.Plain(s.TemperatureC))
	}
	if s.InitialPercent == nil {
		return k, nil
	}
	k.initialPercent = testedPercent(*s.InitialPercent, s.SeedsTested)
	k.initialDeviate = normalDeviate(k.initialPercent / 100)
	k.fill()
	return k, nil
}

// fill works out the figures that an initial viability makes possible.
func (k *Keeping) fill() {
	if k.of.Days != nil {
		left := 100 * normalShare(k.initialDeviate-*k.of.Days/k.SigmaDays)
		k.ViabilityPercent = &left
	}
	if k.of.FinalPercent != nil {
		days := k.SigmaDays * (k.initialDeviate - normalDeviate(*k.of.FinalPercent/100))
		k.DaysToFinal = &days
	}
	if k.initialPercent >= 50 {
		days := k.SigmaDays * k.initialDeviate
		k.HalfLifeDays = &days
	}
}

// testedPercent moves 100 and 0 % a quarter of a seed inwards, where they have a deviate.
func testedPercent(percent float64, seeds *int) float64 {
	switch {
	case percent == 100 && seeds != nil:
		return 100 * (float64(*seeds) - 0.25) / float64(*seeds)
	case percent == 0 && seeds != nil:
		return 25 / float64(*seeds)
	}
	return percent
}

// Working shows the length of life and what follows from it.
func (k Keeping) Working() working.Steps {
	steps := working.Steps{}.Add("sigma", "10^(KE - CW log10 m - CH t - CQ t²)", working.Number(k.SigmaDays, 1), "days", storageSource)
	if k.of.InitialPercent == nil {
		return steps
	}
	steps = steps.
		Add("viability at the start", "100 % and 0 % moved in by a quarter of a seed", working.Number(k.initialPercent, 2), "%", "").
		Add("Ki", "normal equivalent deviate of the start", working.Number(k.initialDeviate, 4), "deviates", storageSource)
	if k.ViabilityPercent != nil {
		steps = steps.Add("viability left", "normal share below Ki - days / sigma", working.Number(*k.ViabilityPercent, 2), "%", storageSource)
	}
	if k.DaysToFinal != nil {
		steps = steps.Add("time to the final viability", "sigma x (Ki - deviate of the final)", working.Number(*k.DaysToFinal, 0), "days", storageSource)
	}
	if k.HalfLifeDays != nil {
		steps = steps.Add("time to 50 %", "sigma x Ki", working.Number(*k.HalfLifeDays, 0), "days", storageSource)
	}
	return steps
}
