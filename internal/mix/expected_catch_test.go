package mix_test

import (
	"strings"
	"testing"

	"rowtally/internal/mix"
)

// The worked catch: 20 turns of a wheel 2.36 m round are 47.2 m, which hold 16 placements of
// 45 mL at 2.95 m.
func TestTheExpectedCatchIsTheWorkedOne(t *testing.T) {
	row := example(t, "Spot placer catch test (own)")
	if worked := row.Text("recomputed"); !strings.Contains(worked, "distance 47.2 m; spacing 2.95 m; 45 mL each") || !strings.Contains(row.Text("inputs"), "16 placements, 720 mL") {
		t.Fatalf("the worked example changed: %s", worked)
	}
	e := mix.ExpectCatch(20, 2.36, 2.95, 45)
	near(t, "run", e.RunM, 47.2, 1e-9)
	near(t, "placements", e.Placements, 16, 1e-9)
	near(t, "catch", e.CatchML, 720, 1e-9)
	near(t, "least", e.LeastML, 684, 1e-9)
	near(t, "most", e.MostML, 756, 1e-9)
	if len(e.Working()) != 5 {
		t.Errorf("%d steps", len(e.Working()))
	}
}

// A catch at the edge of the band passes, one beyond it does not.
func TestTheBandIsTheToleranceOfACatch(t *testing.T) {
	e := mix.ExpectCatch(20, 2.36, 3, 45)
	for ml, passes := range map[float64]bool{e.LeastML: true, e.MostML: true, e.LeastML - 1: false, e.MostML + 1: false} {
		found := caught(t, mix.CatchTest{CaughtML: ml, RunM: e.RunM, PlacementSpacingM: 3, IntendedPlacementVolumeML: 45, TubL: 160})
		if found.WithinTolerance != passes {
			t.Errorf("%v mL of %v to %v passes: %v", ml, e.LeastML, e.MostML, found.WithinTolerance)
		}
	}
}
