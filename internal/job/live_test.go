package job

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// falling is a lot that lost half its life over three tests, 400 seeds each.
func falling() (seed.Lot, []seed.Test) {
	lot := seed.Lot{ID: 1, Code: "D25-11", Species: "Atriplex nummularia", Unit: "fruit", PurityPercent: 90, UnitsPerKg: 80_000, RetestMonths: 12}
	var tests []seed.Test
	for i, t := range []struct {
		day    unit.Date
		normal int
	}{{"2025-01-20", 160}, {"2025-07-20", 120}, {"2026-03-20", 84}} {
		tests = append(tests, seed.Test{ID: int64(i + 1), LotID: 1, TestedOn: t.day, Replicates: []seed.Replicate{{Seeds: 400, Normal: t.normal}}})
	}
	return lot, tests
}

func factsWith(lot seed.Lot, tests []seed.Test, by LiveBy) Facts {
	return Facts{Today: "2026-07-20", Job: Job{WindowFrom: "2026-09-01"}, Recipe: &Recipe{LiveBy: by},
		Shelf: Shelf{Lots: []seed.Lot{lot}, Tests: map[int64][]seed.Test{lot.ID: tests}}}
}

func TestAMixFollowsTheChoiceOfLiveSeed(t *testing.T) {
	lot, tests := falling()
	foreseen, ok := seed.DeclineOf(lot, tests, nil, "2026-07-20").On("2026-09-01")
	if !ok || !(foreseen.Percent < 21) {
		t.Fatalf("foreseen %+v, want less than the last test's 21 %%", foreseen)
	}
	pure := 80_000 * 0.90
	for by, c := range map[LiveBy]struct {
		percent float64
		says    string
	}{
		ByLatestTest: {21, "tested 20 Mar 2026 at 21 %: 15.1 live per g"},
		ByPrediction: {foreseen.Percent, "foreseen for 1 Sep 2026"},
		BySafeSide:   {foreseen.LowPercent, "the safe side, foreseen for 1 Sep 2026"},
	} {
		got := factsWith(lot, tests, by).Live(lot)
		if want := pure * c.percent / 100; !(math.Abs(got.LivePerKg-want) < 1e-6) || !strings.Contains(got.LiveSays(), c.says) {
			t.Errorf("%q: %v live per kg, want %v; says %q", by, got.LivePerKg, want, got.LiveSays())
		}
		if !(got.LivePerKgLow <= got.LivePerKg && got.LivePerKg <= got.LivePerKgHigh) {
			t.Errorf("%q: %v is out of %v to %v", by, got.LivePerKg, got.LivePerKgLow, got.LivePerKgHigh)
		}
		if by != ByLatestTest && !(math.Abs(got.LivePerKgLow-pure*foreseen.LowPercent/100) < 1e-6) {
			t.Errorf("%q: the lower limit is %v", by, got.LivePerKgLow)
		}
	}
}

// With nothing foreseen the test stands for the sowing day, and its lower limit is the
// safe side: 34 of 100 four times over has 29.4 % as its Clopper-Pearson limit.
func TestWithoutAForecastTheTestStands(t *testing.T) {
	lot, _ := falling()
	tests := []seed.Test{{ID: 1, LotID: 1, TestedOn: "2026-02-10", Replicates: []seed.Replicate{{Seeds: 400, Normal: 136}}}}
	got := factsWith(lot, tests, ByPrediction).Live(lot)
	if !(math.Abs(got.LivePerKg-80_000*0.9*0.34) < 1e-6) || !strings.Contains(got.Taken, "nothing is foreseen") {
		t.Errorf("%v live per kg, %q", got.LivePerKg, got.Taken)
	}
	safe := factsWith(lot, tests, BySafeSide).Live(lot)
	if !(math.Abs(safe.Quality.GerminationPercent-29.37) < 0.01) {
		t.Errorf("the safe side is %v %%, want 29.37", safe.Quality.GerminationPercent)
	}
	if got := factsWith(lot, nil, BySafeSide).Live(lot); got.Tested || got.LiveSays() != "never tested" {
		t.Errorf("a lot never tested is %+v", got)
	}
}
