package seed_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/published"
	"rowtally/internal/seed"
)

// testOf is a germination test with so many normal seedlings in replicates of 100.
func testOf(normal ...int) seed.GerminationCounts {
	var c seed.GerminationCounts
	for _, n := range normal {
		c.Replicates = append(c.Replicates, seed.Replicate{Seeds: 100, Normal: n})
	}
	return c
}

func judged(t *testing.T, c seed.GerminationCounts) seed.Germination {
	t.Helper()
	g, err := seed.JudgeGermination(c)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// 7 CFR 201.55: at an average of 86 a range of 14 is allowed; a range equal to the limit
// passes ("do not exceed").
func TestReplicatesAreJudgedByTheTable(t *testing.T) {
	for _, c := range []struct {
		normal  []int
		percent int
		verdict string
	}{
		{[]int{93, 79, 86, 86}, 86, "accept"},
		{[]int{94, 79, 86, 85}, 86, "retest: replicates differ by 15, at most 14"},
		{[]int{95, 78, 86, 85}, 86, "retest: replicates differ by 17, at most 14"},
		{[]int{34, 35}, 35, "accept"},
		{[]int{42, 26}, 34, "retest: replicates differ by 16, at most 15"},
		{[]int{100, 100, 100, 100}, 100, "not judged: the published table has no row at 100 %"},
		{[]int{97, 99}, 98, "not judged: the published table has no row at 98 %"},
		{[]int{60, 61, 62}, 61, "not judged: the published table holds for two or four replicates"},
	} {
		g := judged(t, testOf(c.normal...))
		if g.GerminationPercent != c.percent || g.Verdict != c.verdict {
			t.Errorf("%v: %d %%, %q; not %d %%, %q", c.normal, g.GerminationPercent, g.Verdict, c.percent, c.verdict)
		}
		if judgedAtAll := !strings.HasPrefix(c.verdict, "not judged"); (g.WithinTolerance != nil) != judgedAtAll || (g.ToleratedRangePercent != nil) != judgedAtAll {
			t.Errorf("%v: within %v, tolerated %v", c.normal, g.WithinTolerance, g.ToleratedRangePercent)
		}
	}
}

func TestReplicatesOfOtherSizesAreNotJudged(t *testing.T) {
	c := seed.GerminationCounts{Replicates: []seed.Replicate{{Seeds: 50, Normal: 25}, {Seeds: 50, Normal: 5}, {Seeds: 50, Normal: 10}, {Seeds: 50, Normal: 10}}}
	g := judged(t, c)
	if g.WithinTolerance != nil || g.Verdict != "not judged: the published table holds for replicates of 100 seeds" {
		t.Errorf("%+v", g)
	}
	if g.GerminationExactPercent != 25 || g.RangePercent != 40 {
		t.Errorf("%v %% with a range of %v", g.GerminationExactPercent, g.RangePercent)
	}
}

func TestHardAndFreshSeedLives(t *testing.T) {
	n := func(v int) *int { return &v }
	g := judged(t, seed.GerminationCounts{Replicates: []seed.Replicate{
		{Seeds: 100, Normal: 70, Abnormal: n(3), Hard: n(12), Fresh: n(5), Dead: n(10)},
		{Seeds: 100, Normal: 71, Hard: n(11), Dead: n(18)},
	}})
	if g.GerminationPercent != 71 || g.GerminationExactPercent != 70.5 || g.LivePercent != 84.5 {
		t.Errorf("germination %d (%v) %%, live %v %%", g.GerminationPercent, g.GerminationExactPercent, g.LivePercent)
	}
}

func TestCountsThatDoNotAddUpAreRefused(t *testing.T) {
	n := func(v int) *int { return &v }
	good := seed.Replicate{Seeds: 100, Normal: 50}
	for _, c := range []struct {
		second seed.Replicate
		field  string
		says   string
	}{
		{seed.Replicate{Seeds: 100, Normal: 34, Abnormal: n(3), Dead: n(61)}, "replicates[1]",
			"normal 34 + abnormal 3 + hard 0 + fresh 0 + dead 61 = 98, not 100: correct a count or the seeds"},
		{seed.Replicate{Seeds: 100, Normal: 104}, "replicates[1].normal", "normal is 104 of 100 seeds, enter a count from 0 to 100"},
		{seed.Replicate{Seeds: 100, Normal: -1}, "replicates[1].normal", "normal is -1 of 100 seeds, enter a count from 0 to 100"},
		{seed.Replicate{Seeds: 100, Hard: n(101)}, "replicates[1].hard", "hard is 101 of 100 seeds, enter a count from 0 to 100"},
		{seed.Replicate{Seeds: 0}, "replicates[1].seeds", "seeds is 0, enter the number put to germinate, from 1 to 10000"},
	} {
		_, err := seed.JudgeGermination(seed.GerminationCounts{Replicates: []seed.Replicate{good, c.second}})
		if says := fault.Fields(err)[c.field]; says != c.says {
			t.Errorf("%+v: %q, not %q", c.second, says, c.says)
		}
	}
	if _, err := seed.JudgeGermination(seed.GerminationCounts{}); fault.Fields(err)["replicates"] == "" {
		t.Errorf("no replicates: %v", err)
	}
}

func TestTheOrderOfReplicatesDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		normal := rapid.SliceOfN(rapid.IntRange(0, 100), 4, 4).Draw(t, "normal")
		turned := append(append([]int{}, normal[1:]...), normal[0])
		first, _ := seed.JudgeGermination(testOf(normal...))
		second, _ := seed.JudgeGermination(testOf(turned...))
		if first.Verdict != second.Verdict || first.Interval != second.Interval || first.RangePercent != second.RangePercent {
			t.Fatalf("%v: %+v; %v: %+v", normal, first, turned, second)
		}
		if !(math.Abs(float64(first.GerminationPercent)-first.GerminationExactPercent) <= 0.5) {
			t.Fatalf("%v printed as %d", first.GerminationExactPercent, first.GerminationPercent)
		}
	})
}

func TestRetestToleranceIsThePublishedTable(t *testing.T) {
	for _, r := range published.Rows(t, "germination_tolerance.csv") {
		if !strings.HasPrefix(r.Text("table"), "two_tests_same_lot") {
			continue
		}
		want := int(r.Number("max_range_or_tolerance_pct"))
		for _, mean := range []float64{r.Number("avg_germ_pct_low"), r.Number("avg_germ_pct_high")} {
			for seeds, added := range map[int]int{400: 0, 200: 2} {
				a, err := seed.CompareTests(seed.TwoTests{FirstPercent: mean, SecondPercent: mean, Seeds: seeds})
				if err != nil || a.TolerancePercent != want+added || !a.Agree {
					t.Errorf("%s: mean %v on %d seeds: %+v, %v", r.Name, mean, seeds, a, err)
				}
			}
		}
	}
}

func TestTwoTestsAgreeUpToTheTolerance(t *testing.T) {
	for _, c := range []struct {
		first, second float64
		agree         bool
		verdict       string
	}{
		{92.5, 87.5, true, "the tests agree"}, // mean 90: 6 points
		{93, 87, true, "the tests agree"},     // exactly 6
		{93.5, 87, false, "the tests differ by 6.5, at most 6: test again"},
		{27, 9, false, "the tests differ by 18, at most 10: test again"}, // a lot that ran down in store
	} {
		a, err := seed.CompareTests(seed.TwoTests{FirstPercent: c.first, SecondPercent: c.second, Seeds: 400})
		if err != nil || a.Agree != c.agree || a.Verdict != c.verdict {
			t.Errorf("%v and %v: %+v, %v", c.first, c.second, a, err)
		}
	}
}

func TestRetestRefusals(t *testing.T) {
	for field, c := range map[string]seed.TwoTests{
		"first_percent":  {FirstPercent: 101, SecondPercent: 50, Seeds: 400},
		"second_percent": {FirstPercent: 50, SecondPercent: math.NaN(), Seeds: 400},
		"seeds":          {FirstPercent: 50, SecondPercent: 50, Seeds: 300},
	} {
		if _, err := seed.CompareTests(c); fault.Fields(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
}
