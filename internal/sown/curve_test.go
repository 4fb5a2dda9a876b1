package sown

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"rowtally/internal/rows"
)

// way is a curved way over the plan: along and across the rows at a parameter 0..1.
type way func(u float64) (along, across float64)

// lengthM is the way's own length, by ten thousand chords.
func (w way) lengthM() (sum float64) {
	const chords = 10_000
	along, across := w(0)
	for i := 1; i <= chords; i++ {
		a, c := w(float64(i) / chords)
		sum += math.Hypot(a-along, c-across)
		along, across = a, c
	}
	return sum
}

// wayLog is a flagged log of a way driven at an even parameter, lifted for the first and the
// last fix.
func (l logger) wayLog(plan rows.Plan, w way) string {
	random := rand.New(rand.NewPCG(l.seed, 11))
	along, across := noise(l.scatterM, l.memoryS, 1/l.hz, random), noise(l.scatterM, l.memoryS, 1/l.hz, random)
	fixes := int(w.lengthM() / l.speedMS * l.hz)
	var text strings.Builder
	text.WriteString("time,lat,lon,sowing\n")
	for i := range fixes + 1 {
		a, c := w(float64(i) / float64(fixes))
		at := plan.Frame.ToEarth(plan.Place(a+along(), c+across()))
		moment := time.Date(2026, 7, 20, 1, 0, 0, 0, time.UTC).Add(time.Duration(float64(i) / l.hz * float64(time.Second)))
		fmt.Fprintf(&text, "%s,%.8f,%.8f,1\n", moment.Format("2006-01-02T15:04:05.000Z"), at.Lat, at.Lon)
	}
	return text.String()
}

// TestCurvedWaysAreMeasuredByTheirLength drives contours and headlands with the machine
// down: what follows no planned row is told as sown off the plan, at its true length, and
// nowhere near the sum of the steps.
func TestCurvedWaysAreMeasuredByTheirLength(t *testing.T) {
	plan := paddock(t, 400, 600, 17, 1, 0, 20)
	ring := func(radiusM float64) way {
		return func(u float64) (float64, float64) {
			sin, cos := math.Sincos(1.9 * math.Pi * u)
			return radiusM * cos, radiusM * sin
		}
	}
	for name, w := range map[string]way{
		"a contour across the rows": func(u float64) (float64, float64) { return 25 * math.Sin(2*math.Pi*2*u), -180 + 360*u },
		"a headland at a slant":     func(u float64) (float64, float64) { return -200 + 80*u, -190 + 380*u },
		"round a dam of 60 m":       ring(60),
		"round a knoll of 150 m":    ring(150),
	} {
		truth := w.lengthM()
		for _, c := range []struct{ hz, scatterM, memoryS, within float64 }{
			{1, 0.02, 0, 0.005}, {10, 0.02, 30, 0.005}, {1, 0.3, 30, 0.005}, {1, 1.5, 30, 0.015}, {10, 1.5, 30, 0.015},
		} {
			sum, summed, seeds := 0.0, 0.0, 8
			for seed := range seeds {
				l := logger{hz: c.hz, speedMS: 2, scatterM: c.scatterM, memoryS: c.memoryS, seed: uint64(seed)}
				log := read(t, "csv", l.wayLog(plan, w))
				r, err := Match(plan, []Log{log}, AtAntenna, Tolerances{})
				if err != nil {
					t.Fatal(err)
				}
				checkLaws(t, r)
				sum += (r.UnplannedM + r.SownM) / float64(seeds)
				summed += fixToFixM(plan, log) / float64(seeds)
				if r.CurvedM > r.UnplannedM+1e-9 || r.CurvedM < 0.5*truth {
					t.Errorf("%s: %.1f of %.1f m unplanned are curved", name, r.CurvedM, r.UnplannedM)
				}
			}
			near(t, fmt.Sprintf("%s, %g Hz, %g m, memory %g s (fix to fix %.1f)", name, c.hz, c.scatterM, c.memoryS, summed), sum, truth, c.within*truth)
		}
	}
}

// fixToFixM is the plain sum of the steps of a log.
func fixToFixM(plan rows.Plan, log Log) (sum float64) {
	for i := 1; i < len(log.Fixes); i++ {
		sum += plan.Frame.ToPlane(log.Fixes[i-1].At).To(plan.Frame.ToPlane(log.Fixes[i].At))
	}
	return sum
}
