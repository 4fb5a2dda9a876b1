package seed

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/published"
	"rowtally/internal/unit"
)

// counted is a germination test of one replicate.
func counted(day unit.Date, normal, seeds int) Test {
	return Test{TestedOn: day, Replicates: []Replicate{{Seeds: seeds, Normal: normal}}}
}

func condition(since unit.Date, moisture, celsius float64) StorageCondition {
	return StorageCondition{Since: since, Place: "store", MoisturePercent: &moisture, TemperatureC: &celsius}
}

var testedLot = Lot{Species: "Atriplex nummularia", RetestMonths: 12}

// A line through tests that lie on a known decline gives it back: with ten thousand seeds
// a replicate the counts are off by no more than their rounding.
func TestAKnownDeclineIsRecovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := rapid.Float64Range(-0.5, 2).Draw(t, "start")
		sigma := rapid.Float64Range(200, 3000).Draw(t, "sigma")
		days := []int{0, rapid.IntRange(100, 300).Draw(t, "second"), rapid.IntRange(350, 500).Draw(t, "third")}
		var tests []Test
		for _, d := range days {
			share := normalShare(start - float64(d)/sigma)
			var r []Replicate
			for range 10 {
				r = append(r, Replicate{Seeds: 10_000, Normal: int(math.Round(share * 10_000))})
			}
			tests = append(tests, Test{TestedOn: unit.Date("2024-01-01").Plus(d), Replicates: r})
		}
		d := DeclineOf(testedLot, tests, nil, "2026-01-01")
		for _, on := range []int{0, 200, 700} {
			want := 100 * normalShare(start-float64(on)/sigma)
			got, ok := d.On(unit.Date("2024-01-01").Plus(on))
			if !ok || !(math.Abs(got.Percent-want) <= 0.15) {
				t.Fatalf("after %d days %.3f %%, want %.3f %%", on, got.Percent, want)
			}
			if !(got.LowPercent <= got.Percent && got.Percent <= got.HighPercent) {
				t.Fatalf("%+v is out of its band", got)
			}
		}
	})
}

// Laboratory tests of 400 seeds drawn from a known decline: the 95 % band holds the truth
// about as often as it says, also half a year beyond the last test.
func TestTheBandHoldsTheTruthAsOftenAsItSays(t *testing.T) {
	const start, sigma, trials, seeds = 0.6, 700.0, 2000, 400
	chance := rand.New(rand.NewPCG(7, 400))
	inside := 0
	for range trials {
		var tests []Test
		for _, day := range []int{0, 150, 320, 500} {
			normal := 0
			for range seeds {
				if chance.Float64() < normalShare(start-float64(day)/sigma) {
					normal++
				}
			}
			tests = append(tests, counted(unit.Date("2024-01-01").Plus(day), normal, seeds))
		}
		got, _ := DeclineOf(testedLot, tests, nil, "2026-01-01").On(unit.Date("2024-01-01").Plus(680))
		if truth := 100 * normalShare(start-680/sigma); got.LowPercent <= truth && truth <= got.HighPercent {
			inside++
		}
	}
	if share := float64(inside) / trials; share < 0.94 || share > 0.985 {
		t.Errorf("the band held the truth in %.3f of the trials, want 0.95 or somewhat more", share)
	}
}

func TestARisingLineIsHeldLevel(t *testing.T) {
	tests := []Test{counted("2024-01-01", 160, 400), counted("2024-07-01", 170, 400), counted("2025-01-01", 180, 400)}
	d := DeclineOf(testedLot, tests, nil, "2025-06-01")
	first, _ := d.On("2024-01-01")
	last, _ := d.On("2030-01-01")
	if first != last || !(first.Percent > 40 && first.Percent < 45) || !strings.Contains(d.Says(), "no fall") {
		t.Errorf("%+v on the first day and %+v years later: %s", first, last, d.Says())
	}
}

// Tests that contradict each other beyond their counts widen the band.
func TestScatterWidensTheBand(t *testing.T) {
	smooth := []Test{counted("2024-01-01", 240, 400), counted("2024-07-01", 220, 400), counted("2025-01-01", 200, 400), counted("2025-07-01", 180, 400)}
	rough := []Test{counted("2024-01-01", 220, 400), counted("2024-07-01", 250, 400), counted("2025-01-01", 160, 400), counted("2025-07-01", 200, 400)}
	a, _ := DeclineOf(testedLot, smooth, nil, "2025-08-01").On("2025-10-01")
	b, _ := DeclineOf(testedLot, rough, nil, "2025-08-01").On("2025-10-01")
	if !(b.HighPercent-b.LowPercent > 2*(a.HighPercent-a.LowPercent)) {
		t.Errorf("smooth tests give %+v, rough ones %+v", a, b)
	}
}

func TestFewerThanThreeTestsForeseeNothing(t *testing.T) {
	two := []Test{counted("2024-01-01", 160, 400), counted("2025-01-01", 100, 400)}
	dead := Test{TestedOn: "2024-06-01", Kind: CutTest, Replicates: []Replicate{{Seeds: 100, Normal: 90}}}
	for name, tests := range map[string][]Test{
		"none": nil, "two": two, "a cut test for a third": append(two, dead),
		"the third after the day": append(two, counted("2026-07-01", 80, 400)),
		"three on one day":        {counted("2025-01-01", 100, 400), counted("2025-01-01", 100, 400), counted("2025-01-01", 104, 400)},
	} {
		d := DeclineOf(testedLot, tests, nil, "2025-06-01")
		if _, ok := d.On("2025-09-01"); ok || d.Basis != Unforeseen || d.Working("2025-09-01") != nil || !strings.Contains(d.Says(), "retest rule") {
			t.Errorf("%s: foreseen from %q", name, d.Basis)
		}
	}
}

// The published worked example for rice: 98 % at the start, 10 % moisture, 5 °C, is at 95 %
// after 2200.833 days.
func TestTheStoreAgesALotAsPublished(t *testing.T) {
	rice := Lot{Species: "Oryza sativa", RetestMonths: 12}
	var days float64
	var constants Longevity
	for _, r := range published.Rows(t, "seed_storage.csv") {
		if r.Text("case") == "storage period to 95%" {
			days, constants = r.Number("published_value"), Longevity{r.Number("KE"), r.Number("CW"), r.Number("CH"), r.Number("CQ")}
		}
	}
	tests := []Test{counted("2020-01-01", 392, 400)}
	a, ok := age(rice.Species, tests[0], []StorageCondition{condition("2020-01-01", 10, 5)})
	if !ok || days == 0 {
		t.Fatalf("rice is not foreseen, or the published case is missing (%v)", days)
	}
	a.stays[0].sigmaDays = constants.SigmaDays(10, 5)
	if got := a.on(unit.Date("2020-01-01").Plus(int(days))); !(math.Abs(got.Percent-95) < 0.01) {
		t.Errorf("%.3f %% after %.0f days, published 95 %%", got.Percent, days)
	}
}

// A lot that moves half way keeps as the two stores in turn; the order of the conditions
// in hand does not matter.
func TestStoresAddUp(t *testing.T) {
	lot := Lot{Species: "Trifolium subterraneum", RetestMonths: 12}
	tests := []Test{counted("2025-01-01", 360, 400)}
	hot, cold := condition("2024-06-01", 11, 28), condition("2025-07-01", 11, 4)
	d := DeclineOf(lot, tests, []StorageCondition{cold, hot}, "2025-08-01")
	if d.Basis != FromConstants || d.Begins != "2025-01-01" {
		t.Fatalf("foreseen from %q since %s", d.Basis, d.Begins)
	}
	l := StorageFits(lot.Species)[0].Longevity
	lost := 181/l.SigmaDays(11, 28) + 184/l.SigmaDays(11, 4) // 1 Jan to 1 Jul, to 1 Jan
	got, _ := d.On("2026-01-01")
	if want := 100 * normalShare(normalDeviate(0.9)-lost); !(math.Abs(got.Percent-want) < 1e-9) {
		t.Errorf("%v %%, want %v %%", got.Percent, want)
	}
	stays, _ := DeclineOf(lot, tests, []StorageCondition{hot}, "2025-08-01").On("2026-01-01")
	if !(stays.Percent < got.Percent-5 && got.LowPercent < got.Percent && got.Percent < got.HighPercent) {
		t.Errorf("cooled half way %+v, hot throughout %+v", got, stays)
	}
	if before, _ := d.On("2024-01-01"); !(math.Abs(before.Percent-90) < 1e-9) {
		t.Errorf("%v %% before the test, want what the test found", before.Percent)
	}
	if steps := d.Working("2026-01-01"); len(steps) != 8 {
		t.Errorf("%d steps of working: %+v", len(steps), steps)
	}
}

// A store that is not measured, a species without constants and a doubted fit leave the
// lot to its own tests.
func TestUnusableConstantsLeaveTheLotToItsTests(t *testing.T) {
	three := []Test{counted("2024-01-01", 240, 400), counted("2024-07-01", 220, 400), counted("2025-01-01", 190, 400)}
	shed := StorageCondition{Since: "2024-01-01", Place: "shed"}
	for name, c := range map[string]struct {
		species string
		store   []StorageCondition
	}{
		"no constants":   {"Atriplex nummularia", []StorageCondition{condition("2024-01-01", 10, 20)}},
		"doubted":        {"Thinopyrum ponticum", []StorageCondition{condition("2024-01-01", 10, 20)}},
		"not measured":   {"Trifolium subterraneum", []StorageCondition{shed}},
		"now unmeasured": {"Trifolium subterraneum", []StorageCondition{condition("2023-01-01", 10, 20), {Since: "2025-02-01", Place: "truck"}}},
		"no store":       {"Trifolium subterraneum", nil},
	} {
		if d := DeclineOf(Lot{Species: c.species, RetestMonths: 12}, three, c.store, "2025-06-01"); d.Basis != FromTests {
			t.Errorf("%s: foreseen from %q", name, d.Basis)
		}
	}
}

func TestAConditionThatCannotBeIsRefused(t *testing.T) {
	good := condition("2026-07-20", 9, 18)
	if err := good.Check("2026-07-20"); err != nil {
		t.Error(err)
	}
	for field, spoil := range map[string]func(*StorageCondition){
		"place": func(c *StorageCondition) { c.Place = " " }, "since": func(c *StorageCondition) { c.Since = "2026-07-21" },
		"moisture_percent": func(c *StorageCondition) { *c.MoisturePercent = 0 }, "temperature_c": func(c *StorageCondition) { *c.TemperatureC = math.NaN() },
	} {
		bad := condition("2026-07-20", 9, 18)
		spoil(&bad)
		refusedFor(t, field, bad.Check("2026-07-20"))
	}
}
