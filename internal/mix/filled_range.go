package mix

import (
	"math"

	"rowtally/internal/seed"
)

// FilledRange is the 95 % interval of the expected share of placements filled, carried from
// the germination tests and from the range of the share that becomes plants. A source that
// is not in doubt leaves its own span at the expected share.
type FilledRange struct {
	Span
	Tests     Span `json:"tests"`     // the tests alone in doubt
	Emergence Span `json:"emergence"` // the share that becomes plants alone in doubt
}

// Span is an interval of a share, 0..1.
type Span struct {
	LowFraction  float64 `json:"low_fraction"`
	HighFraction float64 `json:"high_fraction"`
}

// rangeOf carries the doubt over in closed form. Lots are tested apart, so what their tests
// leave open adds up by squares about the mean (Zou & Donner 2008, Statistics in Medicine
// 27:1693-1702). Emergence is the season's and the site's: all species stand at the same end
// of their ranges together. The two are independent and multiply, so they join by squares on
// the scale of logarithms.
func (m Mix) rangeOf() (*FilledRange, error) {
	tests, tested, err := m.testsSpan()
	if err != nil {
		return nil, err
	}
	emergence, ranged := m.emergenceSpan()
	if !tested && !ranged {
		return nil, nil
	}
	mean := m.meanPlants()
	join := func(a, b float64) float64 { return math.Hypot(math.Log(mean/a), math.Log(mean/b)) }
	both := Span{mean * math.Exp(-join(tests.LowFraction, emergence.LowFraction)), mean * math.Exp(join(tests.HighFraction, emergence.HighFraction))}
	if mean == 0 {
		both = Span{0, emergence.HighFraction}
	}
	return &FilledRange{both.filled(), tests.filled(), emergence.filled()}, nil
}

// testsSpan is the mean number of plants to a placement with the tests alone in doubt.
func (m Mix) testsSpan() (span Span, tested bool, err error) {
	mean, low, high := m.meanPlants(), 0.0, 0.0
	for i, s := range m.recipe.Species {
		plants := m.Species[i].LiveSeedsPerPlacement * s.EmergenceFraction
		for k, share := range shares(s.draws()) {
			ends, err := s.Lots[k].liveEnds()
			if err != nil {
				return span, false, err
			}
			tested = tested || s.Lots[k].SeedsTested != nil
			low, high = math.Hypot(low, plants*share*(1-ends[0])), math.Hypot(high, plants*share*(ends[1]-1))
		}
	}
	return Span{max(0, mean-low), mean + high}, tested, nil
}

// emergenceSpan is the mean number of plants to a placement with emergence alone in doubt.
func (m Mix) emergenceSpan() (span Span, ranged bool) {
	for i, s := range m.recipe.Species {
		low, high := s.EmergenceFraction, s.EmergenceFraction
		if s.EmergenceLowFraction != nil {
			low, high, ranged = *s.EmergenceLowFraction, *s.EmergenceHighFraction, true
		}
		span.LowFraction += m.Species[i].LiveSeedsPerPlacement * low
		span.HighFraction += m.Species[i].LiveSeedsPerPlacement * high
	}
	return span, ranged
}

// filled turns mean numbers of plants into shares of placements filled.
func (s Span) filled() Span {
	return Span{seed.FilledFraction(s.LowFraction), seed.FilledFraction(s.HighFraction)}
}
