package sown

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// TestSilentRowEnds loses reception over row ends and turns, at random and for as long as a
// turn and more takes: what is sown is the truth on average, and what was not seen is told
// apart. Without the flag too, and with a machine that lifts a while past the planned ends.
func TestSilentRowEnds(t *testing.T) {
	plan := paddock(t, 200, 500, 17, 2, 2, 12)
	for _, c := range []struct {
		asFlag         bool
		hz, pastM, lag float64
	}{{true, 1, 0, 0}, {true, 5, 0, 0}, {false, 1, 0, 0}, {true, 1, 3, 0}, {true, 4, 0, 1.4}} {
		t.Run(fmt.Sprintf("flag %v, %g Hz, lifted %g m past, lag %g s", c.asFlag, c.hz, c.pastM, c.lag), func(t *testing.T) {
			const seeds = 12
			mean, bridged, silent := 0.0, 0.0, 0.0
			for seed := range seeds {
				drives := farm(plan, twin)
				for i := range drives {
					e := &drives[i].sown[0]
					if drives[i].to > drives[i].from {
						e.ToM += c.pastM
					} else {
						e.FromM -= c.pastM
					}
				}
				l := rtk
				l.hz, l.asFlag, l.seed, l.flagLagS, l.runOutM = c.hz, c.asFlag, uint64(seed), c.lag, 6
				l.speedMS = 1.9 + 0.007*float64(seed)
				random := rand.New(rand.NewPCG(uint64(seed), 3))
				lapS := 494 / l.speedMS // a row and a turn
				for i := range 5 {
					end := lapS*float64(2*i+1) - 5 + 60*(random.Float64()-0.5)
					l.dropouts = append(l.dropouts, [2]float64{end - 23*random.Float64(), end + 23*random.Float64()})
				}
				r := logged(t, l, plan, drives, twin, Tolerances{FlagLagS: ptr(c.lag)})
				checkLaws(t, r)
				truth := truthM(drives, twin)
				near(t, fmt.Sprintf("seed %d", seed), r.SownM, truth, 0.002*truth)
				mean += (r.SownM/truth - 1) / seeds
				bridged, silent = bridged+r.BridgedM/seeds, silent+2*silentRowM(l, drives)/seeds
				if r.BridgedM > 0 && math.Abs(r.SownM-truth) > r.UncertaintyM {
					t.Errorf("seed %d: %.1f m off, said to err by %.1f", seed, r.SownM-truth, r.UncertaintyM)
				}
			}
			t.Logf("too long by %+.4f %% on average; %.0f m bridged of %.0f silent", 100*mean, bridged, silent)
			near(t, "mean", mean, 0, 0.0003)
			near(t, "bridged", bridged, silent, 0.15*silent)
		})
	}
}
