package seed_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/seed"
)

func filled(t *testing.T, p seed.Placements) seed.Filled {
	t.Helper()
	f, err := seed.FilledPlacements(p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Whole % of placements filled by the Poisson law, worked out beside a table of
// logarithms; 5 % of live seeds becoming plants is "not uncommon" from field-sown
// saltbush (Stevens, Barrett-Lennard & Dixon 2006, Aust. J. Agric. Res. 57:1279-1289).
func TestPlacementsFilledByThePoissonLaw(t *testing.T) {
	emergence := []float64{0.02, 0.05, 0.10, 0.15}
	for live, percents := range map[float64][]float64{10: {18, 39, 63, 78}, 20: {33, 63, 86, 95}, 30: {45, 78, 95, 99}, 60: {70, 95, 100, 100}} {
		for i, want := range percents {
			f := filled(t, seed.Placements{EmergenceFraction: emergence[i], LiveSeeds: &live})
			if got := math.Round(100 * f.FilledFraction); got != want {
				t.Errorf("%v live at %v: %v %%, not %v", live, emergence[i], got, want)
			}
		}
	}
}

// At 5 %, 59 live seeds counted out, or a mean of 60, fill 95 % of placements; 50 fill
// 92.3 or 91.8 %.
func TestBothLawsAtFivePercent(t *testing.T) {
	for law, want := range map[seed.Law]struct {
		needed int
		fifty  float64
	}{seed.Binomial: {59, 0.923}, seed.Poisson: {60, 0.918}} {
		f := filled(t, seed.Placements{EmergenceFraction: 0.05, Law: law, TargetFraction: pointer(0.95)})
		if *f.LiveSeedsNeeded != want.needed {
			t.Errorf("%s: %d live seeds for 95 %%, not %d", law, *f.LiveSeedsNeeded, want.needed)
		}
		f = filled(t, seed.Placements{EmergenceFraction: 0.05, Law: law, LiveSeeds: pointer(50.0)})
		if !(math.Abs(f.FilledFraction-want.fifty) <= 5e-4) {
			t.Errorf("%s: 50 live seeds fill %v, not %v", law, f.FilledFraction, want.fifty)
		}
	}
}

func TestATargetReachedExactlyNeedsNoSeedMore(t *testing.T) {
	for _, c := range []struct {
		emergence, target float64
		needed            int
	}{
		{0.1, 0.271, 3}, {0.1, 0.3439, 4}, {0.5, 0.875, 3}, {0.9, 0.9, 1}, {0.9, 0.99, 2}, {0.2, 0.36, 2}, {0.2, 0.488, 3},
		{0.3, 0.51, 2}, {0.99, 0.9999, 2}, {0.1, 0.2711, 4}, {1, 1, 1}, {1, 0.3, 1}, {1, 0, 0}, {0.4, 0, 0}, {0, 0, 0},
	} {
		f := filled(t, seed.Placements{EmergenceFraction: c.emergence, Law: seed.Binomial, TargetFraction: &c.target})
		if *f.LiveSeedsNeeded != c.needed {
			t.Errorf("%v at %v: %d live seeds, not %d", c.target, c.emergence, *f.LiveSeedsNeeded, c.needed)
		}
	}
}

func TestEveryDecimalTargetOfTheBinomialLawIsMet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.IntRange(1, 9).Draw(t, "tenths")
		seeds := rapid.IntRange(1, 6).Draw(t, "seeds")
		rest := 1.0
		for range seeds {
			rest *= float64(10 - tenths)
		}
		scale := math.Pow(10, float64(seeds))
		target := (scale - rest) / scale // the decimal a person would type, exact in its digits
		f, err := seed.FilledPlacements(seed.Placements{EmergenceFraction: float64(tenths) / 10, Law: seed.Binomial, TargetFraction: &target})
		if err != nil || *f.LiveSeedsNeeded != seeds {
			t.Fatalf("%v at %d/10: %+v, %v", target, tenths, f, err)
		}
	})
}

func TestNeededSeedsAreTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := seed.Placements{
			EmergenceFraction: rapid.Float64Range(0.001, 0.999).Draw(t, "emergence"),
			Law:               rapid.SampledFrom([]seed.Law{seed.Poisson, seed.Binomial}).Draw(t, "law"),
			TargetFraction:    pointer(rapid.Float64Range(0.01, 0.999).Draw(t, "target")),
		}
		f, err := seed.FilledPlacements(p)
		if err != nil {
			t.Fatal(err)
		}
		fewer, err := seed.FilledPlacements(seed.Placements{EmergenceFraction: p.EmergenceFraction, Law: p.Law, LiveSeeds: pointer(float64(*f.LiveSeedsNeeded - 1))})
		if err != nil {
			t.Fatal(err)
		}
		if !(f.FilledFraction >= *p.TargetFraction-1e-12 && fewer.FilledFraction < *p.TargetFraction) {
			t.Fatalf("%d fill %v, one fewer %v; target %v", *f.LiveSeedsNeeded, f.FilledFraction, fewer.FilledFraction, *p.TargetFraction)
		}
	})
}

func TestEmergenceAtItsEnds(t *testing.T) {
	for _, c := range []struct {
		law                   seed.Law
		emergence, live, want float64
	}{
		{seed.Binomial, 1, 1, 1}, {seed.Binomial, 1, 0, 0}, {seed.Binomial, 0, 100, 0},
		{seed.Poisson, 0, 100, 0}, {seed.Poisson, 1, 0, 0}, {seed.Poisson, 1, 1, 1 - 1/math.E},
	} {
		if f := filled(t, seed.Placements{EmergenceFraction: c.emergence, Law: c.law, LiveSeeds: &c.live}); !(math.Abs(f.FilledFraction-c.want) <= 1e-15) {
			t.Errorf("%s, %v live at %v: %v, not %v", c.law, c.live, c.emergence, f.FilledFraction, c.want)
		}
	}
}

func TestPlacementsRefusals(t *testing.T) {
	for _, c := range []struct {
		field string
		ask   seed.Placements
	}{
		{"emergence_fraction", seed.Placements{EmergenceFraction: 1.2, LiveSeeds: pointer(10.0)}},
		{"emergence_fraction", seed.Placements{EmergenceFraction: 0, TargetFraction: pointer(0.5)}},
		{"emergence_fraction", seed.Placements{EmergenceFraction: 1e-300, TargetFraction: pointer(0.5)}},
		{"law", seed.Placements{EmergenceFraction: 0.1, Law: "normal", LiveSeeds: pointer(10.0)}},
		{"live_seeds", seed.Placements{EmergenceFraction: 0.1}},
		{"live_seeds", seed.Placements{EmergenceFraction: 0.1, LiveSeeds: pointer(math.Inf(1))}},
		{"target_fraction", seed.Placements{EmergenceFraction: 0.1, LiveSeeds: pointer(1.0), TargetFraction: pointer(0.5)}},
		{"target_fraction", seed.Placements{EmergenceFraction: 1, TargetFraction: pointer(1.0)}},
		{"target_fraction", seed.Placements{EmergenceFraction: 0.5, Law: seed.Binomial, TargetFraction: pointer(1.0)}},
	} {
		if _, err := seed.FilledPlacements(c.ask); fault.Fields(err)[c.field] == "" {
			t.Errorf("%s: %v", c.field, err)
		}
	}
}
