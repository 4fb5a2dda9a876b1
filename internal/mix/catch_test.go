package mix_test

import (
	"math"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/published"
)

func caught(t *testing.T, c mix.CatchTest) mix.Metering {
	t.Helper()
	m, err := mix.Measure(c)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The worked example of the calibration sheet: a wheel of 2.36 m turned 20 times, 16
// placements, 720 mL.
func TestTheWorkedCatch(t *testing.T) {
	run := 2.36 * 20
	m := caught(t, mix.CatchTest{CaughtML: 720, RunM: run, PlacementSpacingM: run / 16, IntendedPlacementVolumeML: 45, TubL: 160, LiveSeedsPerPlacement: pointer(50.0)})
	near(t, "run", run, 47.2, 1e-9)
	near(t, "spacing", run/16, 2.95, 1e-9)
	near(t, "placement", m.PlacementVolumeML, 45, 1e-9)
	near(t, "mix per row-km", m.MixLPerKm, 15.25, 5e-3)
	near(t, "placements per row-km", m.PlacementsPerTub/m.RowKmPerTub, 339, 0.5)
	near(t, "deviation", m.DeviationPercent, 0, 1e-9)
	near(t, "live seeds to a tub", *m.LiveSeedsPerTub, 50*160/0.045, 1e-6)
	if !m.WithinTolerance {
		t.Error("not within tolerance")
	}
}

func TestCatchesOfSeveralOutletsAreShared(t *testing.T) {
	two := mix.CatchTest{CaughtML: 1440, RunM: 48, Rows: pointer(2), PlacementSpacingM: 3, IntendedPlacementVolumeML: 45, TubL: 160}
	near(t, "two outlets", caught(t, two).PlacementVolumeML, 45, 1e-9)
	two.Rows = nil
	near(t, "the same from one", caught(t, two).PlacementVolumeML, 90, 1e-9)
}

func TestToleranceIsMetAtItsEdge(t *testing.T) {
	for _, c := range []struct {
		caughtML  float64
		tolerance *float64
		within    bool
	}{
		{756, nil, true}, {757, nil, false}, {684, nil, true}, {683, nil, false}, // 720 ± 5 %
		{720, pointer(0.0), true}, {721, pointer(0.0), false}, {928, pointer(30.0), true},
	} {
		m := caught(t, mix.CatchTest{CaughtML: c.caughtML, RunM: 48, PlacementSpacingM: 3, IntendedPlacementVolumeML: 45, TubL: 160, TolerancePercent: c.tolerance})
		if m.WithinTolerance != c.within {
			t.Errorf("%v mL for 720 at %v: %+v", c.caughtML, c.tolerance, m)
		}
	}
}

// 58 mL caught where 45 were meant: 29 % heavy, a load lasts 77.6 %, and 523.5 L made
// for 34.9 row-km end at 27.1.
func TestAHeavyMeterEndsTheMixEarly(t *testing.T) {
	m := caught(t, mix.CatchTest{CaughtML: 928, RunM: 48, PlacementSpacingM: 3, IntendedPlacementVolumeML: 45, TubL: 160})
	near(t, "placement", m.PlacementVolumeML, 58, 1e-9)
	near(t, "deviation", m.DeviationPercent, 29, 0.15)
	near(t, "setting", m.NewSettingFactor, 0.776, 5e-4)
	x, err := mix.AfterCatch(twoLots(), m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mix made", x.Planned.MixL, 523.5, 1e-9)
	near(t, "it ends at", x.AsMade.RowKm, 27.1, 0.05)
	near(t, "not reached", x.UnsownRowKm, 7.8, 0.05)
	near(t, "live seeds from it", x.AsMade.LiveSeedsPerPlacement, 50*58/45.0, 1e-9)
	near(t, "litres needed", x.Again.MixL, 523.5*58/45, 1e-9)
	near(t, "a full tub then lasts", x.Again.FullTub().RowKm, 10.667*45/58, 1e-3)
	want := []mix.TubChange{{Code: "A", PlannedG: 4092, AgainG: 3175}, {Code: "B", PlannedG: 308, AgainG: 239}} // 4092.07 and 308.22 g x 45 / 58
	for i, c := range x.Tub {
		if c != want[i] {
			t.Errorf("a full tub takes %+v, not %+v", c, want[i])
		}
	}
	near(t, "seed in all stays", x.Again.Species[0].Lots[0].Kg, x.Planned.Species[0].Lots[0].Kg, 1e-9)
	if len(x.Working()) == 0 || len(m.Working()) == 0 {
		t.Error("no working")
	}
}

func TestWhatAMeterThatIsOffDoes(t *testing.T) {
	table := madeUp(t, twoLots()).MeterOff()
	for i, want := range []struct{ percent, mL, rowKm, live, filled float64 }{
		{-20, 36, 43.625, 40, 1 - math.Exp(-2)},
		{-10, 40.5, 38.778, 45, 1 - math.Exp(-2.25)},
		{0, 45, 34.9, 50, 1 - math.Exp(-2.5)},
		{10, 49.5, 31.727, 55, 1 - math.Exp(-2.75)},
		{20, 54, 29.083, 60, 1 - math.Exp(-3)},
		{30, 58.5, 26.846, 65, 1 - math.Exp(-3.25)},
	} {
		near(t, "deviation", table[i].DeviationPercent, want.percent, 1e-9)
		near(t, "placement", table[i].PlacementVolumeML, want.mL, 1e-9)
		near(t, "row-km", table[i].RowKm, want.rowKm, 5e-4)
		near(t, "live seeds", table[i].LiveSeedsPerPlacement, want.live, 1e-9)
		near(t, "filled", table[i].FilledFraction, want.filled, 1e-9)
		reached := 34.9 * 1000 / 3 // a light meter does not sow more rows than are planned
		if want.percent > 0 {
			reached /= 1 + want.percent/100
		}
		near(t, "placements filled", table[i].PlacementsFilled, reached*want.filled, 1e-6)
	}
}

func TestCatchRefusals(t *testing.T) {
	good := mix.CatchTest{CaughtML: 720, RunM: 48, PlacementSpacingM: 3, IntendedPlacementVolumeML: 45, TubL: 160}
	for field, spoil := range map[string]func(*mix.CatchTest){
		"caught_ml":                    func(c *mix.CatchTest) { c.CaughtML = 0 },
		"run_m":                        func(c *mix.CatchTest) { c.RunM = math.NaN() },
		"rows":                         func(c *mix.CatchTest) { c.Rows = pointer(0) },
		"placement_spacing_m":          func(c *mix.CatchTest) { c.PlacementSpacingM = 0 },
		"intended_placement_volume_ml": func(c *mix.CatchTest) { c.IntendedPlacementVolumeML = -45 },
		"tub_l":                        func(c *mix.CatchTest) { c.TubL = math.Inf(1) },
		"tolerance_percent":            func(c *mix.CatchTest) { c.TolerancePercent = pointer(-5.0) },
		"live_seeds_per_placement":     func(c *mix.CatchTest) { c.LiveSeedsPerPlacement = pointer(-1.0) },
	} {
		c := good
		spoil(&c)
		if _, err := mix.Measure(c); fault.Fields(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// example finds a published calibration example by its name.
func example(t *testing.T, name string) published.Row {
	t.Helper()
	for _, r := range published.Rows(t, "calibration_examples.csv") {
		if r.Text("example") == name {
			return r
		}
	}
	t.Fatalf("no published example %q", name)
	return published.Row{}
}
