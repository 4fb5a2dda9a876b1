package sown

import (
	"fmt"
	"math"
	"testing"
)

// TestSownLengthHasNoBias drives 11 row-km with many seeds, through dropouts and with a state
// that trails: each is near the truth, and their mean shows no lean to either side beyond
// three of its own standard errors. The sum of fix-to-fix distances stands beside it.
// Errors slower than this carry whole passes beyond where a machine is brought onto its rows:
// those count as off the plan, and are not measured here.
func TestSownLengthHasNoBias(t *testing.T) {
	plan := paddock(t, 200, 500, 17, 2, 2, 12)
	drives := farm(plan, twin)
	truth := truthM(drives, twin)
	if truth < 10_000 {
		t.Fatal(truth)
	}
	midRow := [][2]float64{{110, 125}, {1145, 1166}, {2435, 2447}} // seconds
	for _, c := range []struct {
		scatterM, memoryS, lagS, asideM, within float64
		dropouts                                [][2]float64
	}{
		{0.02, 0, 0, 3, 0.002, nil},
		{0.02, 0, 1.4, 3, 0.002, nil},
		{0.02, 0, -0.6, 3, 0.002, midRow},
		{1.5, 30, 0, 6, 0.005, nil},
	} {
		name := fmt.Sprintf("%g m, memory %g s, lag %g s, %d dropouts", c.scatterM, c.memoryS, c.lagS, len(c.dropouts))
		t.Run(name, func(t *testing.T) {
			const seeds = 24
			var sum, squares, steps float64
			for seed := range seeds {
				l := logger{hz: 5, speedMS: 1.9 + 0.002*float64(seed), scatterM: c.scatterM, memoryS: c.memoryS, flagLagS: c.lagS,
					runOutM: 4, withTime: true, asFlag: true, dropouts: c.dropouts, seed: uint64(100 + seed)}
				r := logged(t, l, plan, drives, twin, Tolerances{FlagLagS: ptr(c.lagS), CrossTrackM: ptr(c.asideM)})
				checkLaws(t, r)
				off := r.SownM/truth - 1
				near(t, fmt.Sprintf("seed %d, share too long", seed), off, 0, c.within)
				sum, squares, steps = sum+off, squares+off*off, steps+r.TrackRowM/truth-1
			}
			mean := sum / seeds
			standard := math.Sqrt((squares/seeds-mean*mean)/(seeds-1)) + 1e-6
			t.Logf("%.1f row-km, %d seeds: %+.4f %% ± %.4f, fix to fix %+.2f %%", truth/1000, seeds, 100*mean, 100*standard, 100*steps/seeds)
			if math.Abs(mean) > 3*standard || math.Abs(mean) > 0.0005 {
				t.Errorf("too long by %.4f %% on average, standard error %.4f %%", 100*mean, 100*standard)
			}
		})
	}
}
