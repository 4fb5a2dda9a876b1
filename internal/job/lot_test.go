package job

import (
	"math"
	"testing"

	"rowtally/internal/money"
	"rowtally/internal/published"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// tested is a lot with one test: four replicates of 100 with so many normal and hard each.
func tested(purityPercent float64, normal, hard int) (seed.Lot, []seed.Test) {
	lot := seed.Lot{
		ID: 1, Code: "D26-01", Unit: "fruit", PurityPercent: purityPercent, UnitsPerKg: 1e6,
		CountHard: true, RetestMonths: 12, CostPerKg: money.MustFactor("50"),
	}
	dead := 100 - normal - hard
	one := seed.Replicate{Seeds: 100, Normal: normal, Hard: &hard, Dead: &dead}
	return lot, []seed.Test{{ID: 7, LotID: 1, TestedOn: "2026-02-10", Replicates: []seed.Replicate{one, one, one, one}}}
}

func TestPureLiveSeedOfALotIsThePublishedOne(t *testing.T) {
	tried := 0
	for _, row := range published.Rows(t, "pure_live_seed.csv") {
		if !row.Has("germ_pct") || !row.Has("computed_pls_pct") {
			continue
		}
		lot, tests := tested(row.Number("purity_pct"), int(row.Number("germ_pct")), int(row.Number("hard_or_dormant_pct")))
		got := LotToday(lot, tests, "2026-07-20")
		if want := row.Number("computed_pls_pct"); math.Abs(got.PLSPercent-want) > 1e-9 {
			t.Errorf("%s: pure live seed %v %%, want %v", row.Name, got.PLSPercent, want)
		}
		if want := 1e6 * row.Number("computed_pls_pct") / 100; math.Abs(got.LivePerKg-want) > 1e-4 {
			t.Errorf("%s: %v live per kg of a million units, want %v", row.Name, got.LivePerKg, want)
		}
		tried++
	}
	if tried < 5 {
		t.Fatalf("only %d published rows tried", tried)
	}
}

func TestLimitsOfLiveSeedAreThePublishedInterval(t *testing.T) {
	tried := 0
	for _, row := range published.Rows(t, "binomial_intervals.csv") {
		if row.Text("method") != "exact" || row.Number("n") != 200 || row.Number("conf_level") != 0.95 {
			continue
		}
		lot, tests := tested(100, 0, 0)
		half := int(row.Number("x")) / 2
		tests[0].Replicates = []seed.Replicate{{Seeds: 100, Normal: half}, {Seeds: 100, Normal: half}}
		got := LotToday(lot, tests, "2026-07-20")
		if low := 1e6 * row.Number("published_low"); math.Abs(got.LivePerKgLow-low) > 1e-3 {
			t.Errorf("%s: low %v, want %v", row.Name, got.LivePerKgLow, low)
		}
		if high := 1e6 * row.Number("published_high"); math.Abs(got.LivePerKgHigh-high) > 1e-3 {
			t.Errorf("%s: high %v, want %v", row.Name, got.LivePerKgHigh, high)
		}
		tried++
	}
	if tried < 2 {
		t.Fatalf("only %d published rows tried", tried)
	}
}

func TestHardSeedCountsOnlyWhereTheLotSaysSo(t *testing.T) {
	lot, tests := tested(100, 74, 12)
	if got := LotToday(lot, tests, "2026-07-20").LivePerKg; math.Abs(got-860_000) > 1e-6 {
		t.Errorf("with hard seed %v live per kg, want 860000", got)
	}
	lot.CountHard = false
	got := LotToday(lot, tests, "2026-07-20")
	if math.Abs(got.LivePerKg-740_000) > 1e-6 || got.LivePerKgHigh >= 860_000 {
		t.Errorf("without hard seed %v live per kg up to %v, want 740000 and the limits around it", got.LivePerKg, got.LivePerKgHigh)
	}
}

func TestWhichTestCounts(t *testing.T) {
	lot, tests := tested(91, 27, 0)
	tests[0].TestedOn = "2025-05-04"
	_, later := tested(91, 9, 0)
	later[0].ID, later[0].TestedOn = 8, "2026-05-06"
	_, foreign := tested(91, 99, 0)
	foreign[0].ID, foreign[0].LotID, foreign[0].TestedOn = 9, 2, "2026-06-01"
	tests = append(tests, later[0], foreign[0])
	for _, c := range []struct {
		day    unit.Date
		testID int64
		state  string
	}{
		{"2025-05-03", 0, "never tested"},
		{"2025-05-04", 7, "ready to mix"},
		{"2026-05-05", 7, "retest overdue since 4 May 2026"},
		{"2026-05-06", 8, "ready to mix"},
		{"2027-05-05", 8, "ready to mix"},
		{"2027-05-06", 8, "retest overdue since 6 May 2027"},
	} {
		got := LotToday(lot, tests, c.day)
		if got.Test.ID != c.testID || got.State != c.state || got.Tested != (c.testID != 0) {
			t.Errorf("on %s test %d, %q; want test %d, %q", c.day, got.Test.ID, got.State, c.testID, c.state)
		}
	}
}

func TestStateNamesTheGravestFirst(t *testing.T) {
	lot, tests := tested(91, 50, 0)
	apart := []seed.Replicate{{Seeds: 100, Normal: 30}, {Seeds: 100, Normal: 50}, {Seeds: 100, Normal: 52}, {Seeds: 100, Normal: 68}}
	tests[0].Replicates = apart
	got := LotToday(lot, tests, "2026-07-20")
	if !got.Doubtful() || !got.WantsTest() || got.State != "retest: replicates too far apart" {
		t.Errorf("replicates 38 apart: doubtful %v, %q", got.Doubtful(), got.State)
	}
	lot.HoldReason = "failed its retest"
	if got := LotToday(lot, tests, "2027-07-20").State; got != "on hold: failed its retest" {
		t.Errorf("a lot on hold reads %q", got)
	}
	lot, tests = tested(91, 0, 0)
	if got := LotToday(lot, tests, "2026-07-20"); got.State != "no live seed" || got.CostPerThousandLive.Sign() != 0 {
		t.Errorf("a dead lot reads %q at %s for a thousand live", got.State, got.CostPerThousandLive)
	}
}

func TestCostOfAThousandLive(t *testing.T) {
	lot, tests := tested(100, 50, 0) // 500 000 live per kg at 50.00 a kg
	if got := LotToday(lot, tests, "2026-07-20").CostPerThousandLive.String(); got != "0.1" {
		t.Errorf("a thousand live cost %s, want 0.1", got)
	}
}

func TestWorkingEndsInTheFiguresShown(t *testing.T) {
	lot, tests := tested(92, 34, 0)
	lot.UnitsPerKg = 1000 / 0.012
	got := LotToday(lot, tests, "2026-07-20")
	shown := map[string]bool{}
	for _, step := range got.Working() {
		shown[step.Value.String()+" "+step.Unit] = true
	}
	for _, want := range []string{"92.0 %", "34.00 %", "31.28 %", "26.1 per g"} {
		if !shown[want] {
			t.Errorf("the working lacks %q: %v", want, got.Working())
		}
	}
	if steps := LotToday(lot, nil, "2026-07-20").Working(); steps != nil {
		t.Errorf("a lot never tested shows a working: %v", steps)
	}
}

func TestATestThatCannotBeReadCountsAsNone(t *testing.T) {
	lot, tests := tested(92, 34, 0)
	tests[0].Replicates = nil
	if got := LotToday(lot, tests, "2026-07-20"); got.Tested || got.State != "never tested" || !got.WantsTest() {
		t.Errorf("a test without replicates gives %+v", got)
	}
}
