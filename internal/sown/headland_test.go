package sown

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"rowtally/internal/rows"
)

// ringed is a paddock of 400 × 300 m with counted headland passes of two rows.
func ringed(t testing.TB, passes int) rows.Plan {
	t.Helper()
	in := paddockInput(t, 300, 400, 17, 2, 2, 12)
	in.HeadlandPasses, in.CountHeadlands, in.PhaseM, in.LeastRowM = passes, true, ptr(20.5+14*float64(passes)), 20
	plan, err := rows.Lay(in)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// waypoint is a place of the plan along a way, with the state there.
type waypoint struct {
	along, across float64
	sowing        bool
}

// roundOf is the middle of a headland pass of the ringed paddock, worked out by hand: 20 m
// and, for every pass before it, 14 m from the fence, and 1 m to the middle of its two rows.
func roundOf(pass int) []waypoint {
	in := 20 + 14*float64(pass-1) + 1
	left, right, near, far := in, 300-in, -200+in, 200-in
	return []waypoint{{0, left, true}, {near, left, true}, {near, right, true}, {far, right, true}, {far, left, true}, {0, left, true}}
}

// backward turns a way round.
func backward(way []waypoint) (out []waypoint) {
	for i := range way {
		out = append(out, way[len(way)-1-i])
	}
	return out
}

// steps are places every stepM along a way, lifted between two metres figures of it.
func steps(way []waypoint, stepM float64, lifted ...[2]float64) (out []waypoint) {
	far, left := 0.0, 0.0
	for i := 1; i < len(way); i++ {
		p, q := way[i-1], way[i]
		long := math.Hypot(q.along-p.along, q.across-p.across)
		m := left
		for ; m < long; m += stepM {
			at := waypoint{p.along + (q.along-p.along)*m/long, p.across + (q.across-p.across)*m/long, p.sowing}
			for _, l := range lifted {
				at.sowing = at.sowing && (far+m < l[0] || far+m >= l[1])
			}
			out = append(out, at)
		}
		left, far = m-long, far+long
	}
	return out
}

func wayLongM(way []waypoint) (sum float64) {
	for i := 1; i < len(way); i++ {
		sum += math.Hypot(way[i].along-way[i-1].along, way[i].across-way[i-1].across)
	}
	return sum
}

// placesLog logs places at their pace.
func (l logger) placesLog(plan rows.Plan, places []waypoint) string {
	random := rand.New(rand.NewPCG(l.seed, 13))
	along, across := noise(l.scatterM, l.memoryS, 1/l.hz, random), noise(l.scatterM, l.memoryS, 1/l.hz, random)
	var text strings.Builder
	text.WriteString(strings.Join(l.columns(), ",") + "\n")
	for i, p := range places {
		seconds := float64(i) / l.hz
		da, dc := along(), across()
		if l.silent(seconds) {
			continue
		}
		at := plan.Frame.ToEarth(plan.Place(p.along+da, p.across+dc))
		moment := time.Date(2026, 7, 20, 1, 0, 0, 0, time.UTC).Add(time.Duration(seconds * float64(time.Second)))
		fmt.Fprintf(&text, "%s,%.8f,%.8f", moment.Format("2006-01-02T15:04:05.000Z"), at.Lat, at.Lon)
		if l.asFlag {
			fmt.Fprintf(&text, ",%v", p.sowing)
		}
		text.WriteByte('\n')
	}
	return text.String()
}

// TestHeadlandPassesAreMatched drives every row and then round the headland, either way, with
// a stretch lifted, or a side of it twice: what was sown of the headland is told on the
// headland, its length is the truth, and nothing of it is off the plan.
func TestHeadlandPassesAreMatched(t *testing.T) {
	plan := ringed(t, 2)
	if len(plan.Headland) != 4 || plan.HeadlandRowM < 4500 {
		t.Fatalf("%d headland rows, %.1f m", len(plan.Headland), plan.HeadlandRowM)
	}
	one, two := roundOf(1), roundOf(2)
	oneM, twoM := wayLongM(one), wayLongM(two)
	for name, c := range map[string]struct {
		ways    [][]waypoint
		lifted  [2]float64 // of the first way
		missed  float64    // of the headland, in row metres
		doubled float64
	}{
		"both rounds":             {[][]waypoint{one, two}, [2]float64{}, 0, 0},
		"the other way round":     {[][]waypoint{backward(one), backward(two)}, [2]float64{}, 0, 0},
		"one round":               {[][]waypoint{two}, [2]float64{}, 2 * oneM, 0},
		"lifted for 150 m":        {[][]waypoint{one, two}, [2]float64{500, 650}, 300, 0},
		"one round sown twice":    {[][]waypoint{one, two, backward(two)}, [2]float64{}, 0, 2 * twoM},
		"lifted over two corners": {[][]waypoint{one, two}, [2]float64{300, 830}, 1060, 0},
	} {
		for _, n := range []struct{ hz, scatterM, memoryS, within float64 }{{1, 0.02, 0, 0.002}, {5, 1.5, 30, 0.005}, {1, 1.5, 100, 0.005}} {
			t.Run(fmt.Sprintf("%s, %g m, memory %g s", name, n.scatterM, n.memoryS), func(t *testing.T) {
				l := logger{hz: n.hz, speedMS: 1.9, scatterM: n.scatterM, memoryS: n.memoryS, runOutM: 4, withTime: true, asFlag: true, seed: 3}
				var places []waypoint
				for _, s := range path(farm(plan, twin), l.speedMS/l.hz, l.runOutM, 0) {
					places = append(places, waypoint(s))
				}
				sownM := truthM(farm(plan, twin), twin)
				for i, way := range c.ways {
					places = append(places, steps([]waypoint{places[len(places)-1], way[0]}, l.speedMS/l.hz)...)
					for k := range places[len(places)-1:] {
						places[len(places)-1+k].sowing = false
					}
					lifted := c.lifted
					if i > 0 {
						lifted = [2]float64{}
					}
					places = append(places, steps(way, l.speedMS/l.hz, lifted)...)
					places[len(places)-1].sowing = false
					sownM += 2 * (wayLongM(way) - lifted[1] + lifted[0])
				}
				r, err := Match(plan, []Log{read(t, "csv", l.placesLog(plan, places))}, twin, Tolerances{})
				if err != nil {
					t.Fatal(err)
				}
				checkLaws(t, r)
				near(t, "planned", r.PlannedM, plan.RowM, 1e-6)
				near(t, "sown", r.SownM, sownM, n.within*sownM)
				near(t, "unplanned", r.UnplannedM, 0, 30)
				near(t, "headland missed", headlandSum(r, func(h HeadlandSown) float64 { return h.MissedM }), c.missed, 8+12*n.scatterM)
				near(t, "headland doubled", headlandSum(r, func(h HeadlandSown) float64 { return h.DoubledM }), c.doubled, 12+12*n.scatterM)
			})
		}
	}
}

func headlandSum(r Record, of func(HeadlandSown) float64) (sum float64) {
	for _, h := range r.Headland {
		sum += of(h)
	}
	return sum
}

// TestTurnsAreNoHeadlandPasses has a log without the implement's state, whose turns cross the
// headland, and one round of it.
func TestTurnsAreNoHeadlandPasses(t *testing.T) {
	plan := ringed(t, 1)
	l := rtk
	l.asFlag, l.runOutM = false, 8
	r := logged(t, l, plan, farm(plan, twin), twin, Tolerances{})
	checkLaws(t, r)
	near(t, "headland covered", headlandSum(r, func(h HeadlandSown) float64 { return h.CoveredM }), 0, 0.5)
	near(t, "covered", r.CoveredM, truthM(farm(plan, twin), twin), 5)
	round := roundOf(1)
	r, err := Match(plan, []Log{read(t, "csv", l.placesLog(plan, steps(round, 2)))}, twin, Tolerances{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "headland covered, driven round", headlandSum(r, func(h HeadlandSown) float64 { return h.CoveredM }), 2*wayLongM(round), 10)
}

// TestHeadlandThatDoesNotCountIsOffThePlan keeps the sums of a plan whose headland passes are
// not in its row-km.
func TestHeadlandThatDoesNotCountIsOffThePlan(t *testing.T) {
	in := paddockInput(t, 300, 400, 17, 2, 2, 12)
	in.HeadlandPasses, in.PhaseM, in.LeastRowM = 1, ptr(34.5), 20
	plan, err := rows.Lay(in)
	if err != nil {
		t.Fatal(err)
	}
	round := roundOf(1)
	r, err := Match(plan, []Log{read(t, "csv", rtk.placesLog(plan, steps(round, 2)))}, twin, Tolerances{})
	if err != nil {
		t.Fatal(err)
	}
	checkLaws(t, r)
	near(t, "unplanned", r.UnplannedM, 2*wayLongM(round), 0.01*plan.HeadlandRowM)
	if text, _ := json.Marshal(r); strings.Contains(string(text), `"headland"`) || r.SownM != 0 {
		t.Errorf("%.1f m sown, %d laps told", r.SownM, len(r.Headland))
	}
}
