package machine

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/published"
)

func rateOf(t *testing.T, p Pace, over Course) SowingRate {
	t.Helper()
	got, err := p.Rate(over)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// By hand: rows of 400 m at 6 km/h take 240 s, a turn 25 s: 3,600 ÷ 265 × 0.4 = 5.434
// row-km/h for one row. Two rows at 5 km/h take 360 s a row-km, turns of 40 s over 400 m 50 s,
// and a stop of 18 min for each 6 row-km 180 s: 3,600 ÷ 590 = 6.102.
func TestARateOfTurnsAndStopsByHand(t *testing.T) {
	if got := rateOf(t, Pace{SpeedKmh: 6, TurnS: ptr(25.0)}, Course{Passes: 1, DrivenM: 400, RowM: 400}); math.Abs(got.RowKmPerH-5.434) > 0.0005 {
		t.Errorf("%v row-km/h, want 5.434", got.RowKmPerH)
	}
	got := rateOf(t, Pace{SpeedKmh: 5, TurnS: ptr(40.0), FillMin: ptr(18.0)}, Course{Passes: 1, DrivenM: 400, RowM: 800, TubRowM: 6000})
	if math.Abs(got.RowKmPerH-3600.0/590) > 1e-9 || got.RunS != 360 || got.TurnS != 50 || got.FillS != 180 {
		t.Errorf("%+v, want 360 + 50 + 180 s a row-km", got)
	}
}

// Rows that stand their gap apart sow the area of the published machines: row-km/h × gap in
// m ÷ 10 is ha/h, at an efficiency in all that holds turns and stops.
func TestAnEfficiencyInAllMeetsThePublishedRates(t *testing.T) {
	n := 0
	for _, r := range published.Rows(t, "machinery_worked_examples.csv") {
		in := inputsOf(t, r)
		if r.Text("unit") != "h/ha" || in["width_m"] == 0 {
			continue
		}
		n++
		const rows = 4
		got := rateOf(t, Pace{SpeedKmh: in["speed_kmh"], EfficiencyPercent: ptr(100 * in["eff"])}, Course{Passes: 1, DrivenM: 400, RowM: 400 * rows})
		if hPerHa := 10 / (got.RowKmPerH * in["width_m"] / rows); math.Abs(hPerHa-r.Number("expected")) > r.Number("tolerance") {
			t.Errorf("%s: %v h/ha, want %v", r.Name, hPerHa, r.Number("expected"))
		}
	}
	if n == 0 {
		t.Error("no published rate was met")
	}
}

func TestTheTimeLostIsNeverCountedTwice(t *testing.T) {
	for field, c := range map[string]struct {
		p    Pace
		says string
	}{
		"efficiency_percent": {Pace{SpeedKmh: 5, FillMin: ptr(10.0), EfficiencyPercent: ptr(65.0)}, "leave one of the two out"},
		"turn_s":             {Pace{SpeedKmh: 5}, "neither a turn's time nor an efficiency"},
		"speed_kmh":          {Pace{TurnS: ptr(20.0)}, "speed while sowing is not told"},
	} {
		_, err := c.p.Rate(Course{Passes: 1, DrivenM: 400, RowM: 800})
		if !strings.Contains(fault.Fields(err)[field], c.says) {
			t.Errorf("%s: %v, want %q", field, err, c.says)
		}
	}
	if err := (Pace{}).Check(); err != nil {
		t.Errorf("a machine without a pace is refused: %v", err)
	}
	if err := (Pace{SpeedKmh: 500, TurnS: ptr(-1.0)}).Check(); len(fault.Fields(err)) != 2 {
		t.Errorf("two figures out of bounds: %v", err)
	}
}

func TestTheWorkingOfASowingRate(t *testing.T) {
	shows(t, rateOf(t, Pace{SpeedKmh: 5, TurnS: ptr(40.0), FillMin: ptr(18.0)}, Course{Passes: 1, DrivenM: 400, RowM: 800, TubRowM: 6000}), map[string]string{
		"sowing": "360.0 s a row-km", "turning": "50.0 s a row-km", "filling": "180.0 s a row-km", "work rate": "6.10 row-km/h",
	})
	shows(t, rateOf(t, Pace{SpeedKmh: 5, EfficiencyPercent: ptr(65.0)}, Course{Passes: 1, DrivenM: 400, RowM: 800}), map[string]string{"work rate": "6.50 row-km/h"})
}

// By hand: a pass of 900 m at 9 km/h is 360 s, and a turn of 40 s leaves 90 % of the time; 80 %
// of it besides turns, stops to fill within: 2 × 9 × 0.9 × 0.8 = 12.96 row-km/h, whatever a
// tub lasts. It is what FieldRate gives along rows.
func TestAnEfficiencyBesidesTurnsHoldsTheStops(t *testing.T) {
	p := Pace{SpeedKmh: 9, TurnS: ptr(40.0), FillMin: ptr(18.0)}
	got := rateOf(t, p, Course{Passes: 10, DrivenM: 9000, RowM: 18_000, TubRowM: 6000, OtherPercent: 80})
	rate, err := FieldRate(RateIn{SpeedKmh: 9, RowM: ptr(900.0), TurnS: ptr(40.0), RowsPerPass: ptr(2), OtherEfficiencyPercent: ptr(80.0)})
	if err != nil || math.Abs(got.RowKmPerH-12.96) > 1e-9 || math.Abs(rate.RowKmPerH-got.RowKmPerH) > 1e-9 || got.FillS != 0 {
		t.Errorf("%+v and %v row-km/h, %v", got, rate.RowKmPerH, err)
	}
	if _, err := (Pace{SpeedKmh: 9, EfficiencyPercent: ptr(65.0)}).Rate(Course{Passes: 10, DrivenM: 9000, RowM: 18_000, OtherPercent: 80}); fault.Fields(err)["efficiency_percent"] == "" {
		t.Errorf("an efficiency in all and one besides turns: %v", err)
	}
	for field, c := range map[string]Course{"passes": {DrivenM: 9, RowM: 9}, "driven_m": {Passes: 1, RowM: 9}, "row_m": {Passes: 1, DrivenM: 9}, "other_percent": {Passes: 1, DrivenM: 9, RowM: 9, OtherPercent: 101}} {
		if _, err := p.Rate(c); fault.Fields(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
}
