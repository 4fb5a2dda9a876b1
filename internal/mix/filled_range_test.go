package mix_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
)

// doubtful is the illustrative mix with its tests on 400 seeds and emergence in doubt.
func doubtful(seedsTested int, lowFraction, highFraction float64) mix.Recipe {
	r := twoLots()
	for i := range r.Species {
		r.Species[i].Lots[0].SeedsTested = &seedsTested
		r.Species[i].EmergenceLowFraction, r.Species[i].EmergenceHighFraction = &lowFraction, &highFraction
	}
	return r
}

// lived is a simulation of the same doubt by other means: what a laboratory that counted
// live of so many seeds leaves open (a flat prior, as ratios of sums of waiting times), and a
// season that is drawn once for all species, log-normal on either side of the expected share.
func lived(chance *rand.Rand, r mix.Recipe) float64 {
	z := chance.NormFloat64() / 1.959964
	plants := 0.0
	for _, s := range r.Species {
		l := s.Lots[0]
		tested := *l.SeedsTested
		live := int(math.Round(l.GerminationPercent / 100 * float64(tested)))
		alive := beta(chance, live+1, tested-live+1) / (l.GerminationPercent / 100)
		end := *s.EmergenceHighFraction / s.EmergenceFraction
		if z < 0 {
			end = s.EmergenceFraction / *s.EmergenceLowFraction
		}
		plants += *s.LiveSeedsPerPlacement * alive * s.EmergenceFraction * math.Pow(end, z)
	}
	return 1 - math.Exp(-plants)
}

// beta draws a share by the waiting times of a to a+b events.
func beta(chance *rand.Rand, a, b int) float64 {
	wait := func(events int) (sum float64) {
		for range events {
			sum += chance.ExpFloat64()
		}
		return sum
	}
	first := wait(a)
	return first / (first + wait(b))
}

func TestTheClosedRangeAgreesWithASimulation(t *testing.T) {
	const draws = 20_000
	for _, c := range []struct {
		seedsTested       int
		low, high, within float64
	}{
		{400, 0.05, 0.05, 0.008}, // the tests alone
		{400, 0.02, 0.09, 0.008},
		{100, 0.03, 0.08, 0.012},
		{50, 0.04, 0.06, 0.02}, // exact limits of few seeds are wider than a flat prior's
	} {
		r := doubtful(c.seedsTested, c.low, c.high)
		got := madeUp(t, r).Range
		chance := rand.New(rand.NewPCG(11, 26))
		shares := make([]float64, draws)
		for i := range shares {
			shares[i] = lived(chance, r)
		}
		slices.Sort(shares)
		near(t, "low", got.LowFraction, shares[draws*25/1000], c.within)
		near(t, "high", got.HighFraction, shares[draws*975/1000], c.within)
	}
}

func TestEachDoubtWidensTheRange(t *testing.T) {
	m := madeUp(t, doubtful(400, 0.02, 0.10))
	r := *m.Range
	for what, span := range map[string]mix.Span{"tests": r.Tests, "emergence": r.Emergence} {
		if !(r.LowFraction < span.LowFraction && span.LowFraction < m.ExpectedFilledFraction &&
			m.ExpectedFilledFraction < span.HighFraction && span.HighFraction < r.HighFraction) {
			t.Errorf("%s: %+v within %+v about %v", what, span, r.Span, m.ExpectedFilledFraction)
		}
	}
	// 50 live seeds at 2 and 10 in 100 are 1 and 5 plants to a placement
	near(t, "emergence low", r.Emergence.LowFraction, 1-math.Exp(-1), 1e-12)
	near(t, "emergence high", r.Emergence.HighFraction, 1-math.Exp(-5), 1e-12)
	if m := madeUp(t, twoLots()); m.Range != nil {
		t.Errorf("nothing is in doubt, and the range is %+v", m.Range)
	}
}

func TestARangeOfEmergenceIsRefused(t *testing.T) {
	for field, spoil := range map[string]func(*mix.Species){
		"species[0].emergence_low_fraction":  func(s *mix.Species) { s.EmergenceLowFraction = nil },
		"species[0].emergence_high_fraction": func(s *mix.Species) { s.EmergenceHighFraction = nil },
	} {
		r := doubtful(400, 0.02, 0.10)
		spoil(&r.Species[0])
		if _, err := mix.MakeUp(r); fault.Fields(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
	for _, ends := range [][2]float64{{0.06, 0.1}, {0.02, 0.04}, {-0.1, 0.1}, {0.02, 1.1}, {math.NaN(), 0.1}, {0.02, math.NaN()}} {
		if _, err := mix.MakeUp(doubtful(400, ends[0], ends[1])); fault.KindOf(err) != fault.Refused {
			t.Errorf("%v: %v", ends, err)
		}
	}
	if m := madeUp(t, doubtful(400, 0, 0.1)); m.Range.LowFraction != 0 {
		t.Errorf("nothing may come up, and at least %v is filled", m.Range.LowFraction)
	}
}
