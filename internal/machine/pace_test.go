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
	if got := rateOf(t, Pace{SpeedKmh: 6, TurnS: ptr(25.0)}, Course{RowsPerPass: 1, RowM: 400}); math.Abs(got.RowKmPerH-5.434) > 0.0005 {
		t.Errorf("%v row-km/h, want 5.434", got.RowKmPerH)
	}
	got := rateOf(t, Pace{SpeedKmh: 5, TurnS: ptr(40.0), FillMin: ptr(18.0)}, Course{2, 400, 6000})
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
		got := rateOf(t, Pace{SpeedKmh: in["speed_kmh"], EfficiencyPercent: ptr(100 * in["eff"])}, Course{RowsPerPass: rows, RowM: 400})
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
		_, err := c.p.Rate(Course{RowsPerPass: 2, RowM: 400})
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
	shows(t, rateOf(t, Pace{SpeedKmh: 5, TurnS: ptr(40.0), FillMin: ptr(18.0)}, Course{2, 400, 6000}), map[string]string{
		"sowing": "360.0 s a row-km", "turning": "50.0 s a row-km", "filling": "180.0 s a row-km", "work rate": "6.10 row-km/h",
	})
	shows(t, rateOf(t, Pace{SpeedKmh: 5, EfficiencyPercent: ptr(65.0)}, Course{2, 400, 0}), map[string]string{"work rate": "6.50 row-km/h"})
}
