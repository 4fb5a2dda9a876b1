package job

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// levelled is a job whose paddock falls by so many percent towards a bearing.
func levelled(t testing.TB, f Facts, percent, towardsDeg float64) Facts {
	t.Helper()
	var shape ground.Shape
	if err := json.Unmarshal([]byte(f.Paddock.Boundary), &shape); err != nil {
		t.Fatal(err)
	}
	frame := ground.NewFrame(shape.Centre())
	sin, cos := math.Sincos(towardsDeg * math.Pi / 180)
	lines := ""
	for _, at := range []ground.Point{{E: -100, N: -100}, {E: 100, N: -100}, {E: -100, N: 100}, {E: 100, N: 100}} {
		place := frame.ToEarth(at)
		lines += fmt.Sprintf("%.9f, %.9f, %.6f\n", place.Lat, place.Lon, 20-percent/100*(at.E*sin+at.N*cos))
	}
	if err := ReadHeights(&f.Paddock, "typed", []byte(lines)); err != nil {
		t.Fatal(err)
	}
	return f
}

func TestHeightsGiveTheFallTheyWereMadeFrom(t *testing.T) {
	f := levelled(t, sceneOf(t, 35), 0.4, 72)
	g, err := Survey(f.Paddock)
	if err != nil {
		t.Fatal(err)
	}
	grade, towards := g.Fall.Steepest()
	if math.Abs(grade-0.004) > 1e-6 || math.Abs(towards-72) > 0.01 || g.FallSays() != "Falls 0.40 % towards 72°, R² 1.000 from 4 heights" {
		t.Errorf("%v towards %v: %s", grade, towards, g.FallSays())
	}
	for bearing, want := range map[float64]string{72: "rows fall 0.40 % along 72°", 252: "rows fall 0.40 % along 72°", 162: "rows fall 0.00 %", 12: "rows fall 0.20 % along 12°", 0: "rows fall 0.12 % along 0°", 180: "rows fall 0.12 % along 0°"} {
		if got := RowsFall(*g.Fall, bearing); !strings.HasPrefix(got, want) {
			t.Errorf("along %v°: %q, want %q", bearing, got, want)
		}
	}
}

func TestHeightsElsewhereAndOnALineAreRefused(t *testing.T) {
	f := sceneOf(t, 35)
	for text, says := range map[string]string{
		"-36.4,140.1,20\n-36.4,140.101,21\n-36.4,140.102,22":  "nearly on one line",
		"-36.4,140.1,20\n-36.401,140.101,21":                  "at least 3",
		"-35.4,140.1,20\n-36.4,140.101,21\n-36.401,140.1,22":  "height 1 lies",
		"-36.4,140.1,20\n-36.4,140.101,21\n-36.401,140.1,top": "line 3",
	} {
		before := f.Paddock
		if err := ReadHeights(&f.Paddock, "typed", []byte(text)); fault.KindOf(err) != fault.Refused || !strings.Contains(err.Error(), says) || f.Paddock != before {
			t.Errorf("%q: %v, should say %q and leave the paddock", text, err, says)
		}
	}
	bare := Paddock{Name: "Bare"}
	if err := ReadHeights(&bare, "typed", []byte("-36.4,140.1,20")); err == nil || !strings.Contains(err.Error(), "no boundary yet") {
		t.Error(err)
	}
}

func TestTheBestBearingsFollowTheRule(t *testing.T) {
	f := levelled(t, sceneOf(t, 35), 0.4, 72)
	wish := Wish{LeastFallPercent: 0.2, MostFallPercent: 1, MachineM: 3, Water: 3, Turns: 1, Alleys: 2}
	b, err := TryBearings(f.Paddock, *f.Layout, wish)
	if err != nil {
		t.Fatal(err)
	}
	if len(b.All) != 180 || len(b.Best) != bestBearings {
		t.Fatalf("%d bearings, %d best", len(b.All), len(b.Best))
	}
	// 0.4 % towards 72° leaves at least 0.2 % within 60° of it: 12° to 132°
	fewest := math.Inf(1)
	for _, one := range b.All {
		if inside := one.BearingDeg > 12.01 && one.BearingDeg < 131.99; inside != one.Allowed && math.Abs(one.BearingDeg-12) > 0.5 && math.Abs(one.BearingDeg-132) > 0.5 {
			t.Errorf("along %v° rows fall %v %%: allowed is %v", one.BearingDeg, one.FallPercent, one.Allowed)
		}
		if one.Allowed && one.Score > b.Best[0].Score {
			t.Errorf("%v° scores %v, the best %v", one.BearingDeg, one.Score, b.Best[0].Score)
		}
		if one.Allowed {
			fewest = min(fewest, float64(one.Passes))
		}
	}
	for i, best := range b.Best {
		laid, err := Lay(f.Paddock, withBearing(*f.Layout, best.BearingDeg))
		if err != nil {
			t.Fatal(err)
		}
		// the steepest bearing is the way of the fall: its share of it is the cosine between
		water := math.Abs(math.Cos((best.BearingDeg - 72) * math.Pi / 180))
		score := 100 * (3*water + fewest/float64(laid.Passes) + 2*(1-best.PartPercent()/100)) / 6
		if math.Abs(best.RowM-laid.RowM) > 1e-6 || best.Turns != laid.Turns || math.Abs(best.Score-score) > 0.01 {
			t.Errorf("%+v, laid alone %v m and %d turns, should score %v", best, laid.RowM, laid.Turns, score)
		}
		if best.PartPercent() <= 0 || best.PartPercent() >= 100 {
			t.Errorf("along %v°, %v %% of the alley ground is in part passes", best.BearingDeg, best.PartPercent())
		}
		for _, other := range b.Best[:i] {
			if apart := math.Abs(math.Remainder(best.BearingDeg-other.BearingDeg, 180)); apart <= neighbourDeg {
				t.Errorf("%v° and %v° are neighbours", best.BearingDeg, other.BearingDeg)
			}
		}
	}
}

func withBearing(l Layout, deg float64) Layout { l.BearingDeg = deg; return l }

func TestNoBearingIsSaid(t *testing.T) {
	f := levelled(t, sceneOf(t, 35), 0.4, 72)
	b, err := TryBearings(f.Paddock, *f.Layout, Wish{LeastFallPercent: 0.5, MostFallPercent: 1})
	if err != nil || len(b.Best) != 0 || b.Says() != "No bearing falls 0.5 to 1 %: the steepest is 0.40 %, towards 72°." {
		t.Errorf("%q, %v", b.Says(), err)
	}
	for field, wish := range map[string]Wish{"least_fall": {LeastFallPercent: -1}, "most_fall": {LeastFallPercent: 2, MostFallPercent: 1}, "width_m": {MostFallPercent: 1, MachineM: math.NaN()},
		"water": {Water: 4}, "turns": {Turns: -1}, "alleys": {Alleys: 4}} {
		if _, err := TryBearings(f.Paddock, *f.Layout, wish); fault.Fields(err)[field] == "" {
			t.Errorf("%+v: %v, want %s", wish, err, field)
		}
	}
	flat, err := TryBearings(sceneOf(t, 35).Paddock, *f.Layout, BeginWish())
	if err != nil || flat.Fall != nil || len(flat.Best) != bestBearings || !strings.HasPrefix(flat.Rule(), "Of all 180 bearings") {
		t.Errorf("%q, %v", flat.Rule(), err)
	}
}

// What is weighed alone decides; with nothing weighed the row metres do.
func TestOneWeightAloneDecides(t *testing.T) {
	f := levelled(t, sceneOf(t, 35), 0.4, 72)
	leads := func(w Wish, beats func(best, other Bearing) bool) {
		t.Helper()
		w.MostFallPercent, w.MachineM = 100, 3
		b, err := TryBearings(f.Paddock, *f.Layout, w)
		if err != nil {
			t.Fatal(err)
		}
		for _, other := range b.All {
			if !beats(b.Best[0], other) {
				t.Errorf("%+v: %v° leads, %v° is better", w, b.Best[0].BearingDeg, other.BearingDeg)
			}
		}
	}
	leads(Wish{Water: 1}, func(best, other Bearing) bool { return best.FallPercent >= other.FallPercent })
	leads(Wish{Turns: 2}, func(best, other Bearing) bool { return best.Turns <= other.Turns })
	leads(Wish{Alleys: 3}, func(best, other Bearing) bool { return best.PartPercent() <= other.PartPercent()+1e-9 })
	leads(Wish{}, func(best, other Bearing) bool { return best.RowM >= other.RowM })
}

func TestWhatCannotBeWeighedIsSaid(t *testing.T) {
	f := sceneOf(t, 35)
	b, err := TryBearings(f.Paddock, *f.Layout, Wish{MostFallPercent: 100, Water: 3, Alleys: 3})
	if err != nil || b.Weighed() || !strings.Contains(b.NotWeighed(), "no heights") || !strings.Contains(b.NotWeighed(), "no machine") || !strings.Contains(b.Rule(), "most row metres") {
		t.Errorf("%q, %q, %v", b.NotWeighed(), b.Rule(), err)
	}
}

func BenchmarkTryBearings(b *testing.B) {
	f := sceneOf(b, 35)
	layout := *f.Layout
	layout.RowsPerBelt, layout.AlleyM = 1, 1.1 // about 500 rows, the paddock being 562 m wide
	for b.Loop() {
		if _, err := TryBearings(f.Paddock, layout, BeginWish()); err != nil {
			b.Fatal(err)
		}
	}
}
