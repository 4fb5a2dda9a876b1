package seed_test

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/published"
	"rowtally/internal/seed"
)

func TestToleratedRangeIsThePublishedTable(t *testing.T) {
	seen := 0
	for _, r := range published.Rows(t, "germination_tolerance.csv") {
		if !strings.HasPrefix(r.Text("table"), "range_between_replicates") {
			continue
		}
		replicates, want := int(r.Number("replicates")), int(r.Number("max_range_or_tolerance_pct"))
		for average := int(r.Number("avg_germ_pct_low")); average <= int(r.Number("avg_germ_pct_high")); average++ {
			seen++
			for _, at := range []int{average, 101 - average} {
				if got, known := seed.TolerableRangePercent(at, replicates); !known || got != want {
					t.Errorf("%s: %d %% of %d replicates may span %d (%v), not %d", r.Name, at, replicates, got, known, want)
				}
			}
		}
	}
	if seen < 49+47+49 {
		t.Errorf("only %d averages were checked", seen)
	}
}

func TestTheTableEndsWhereThePrintEnds(t *testing.T) {
	for _, c := range [][2]int{{0, 4}, {1, 4}, {100, 4}, {98, 2}, {99, 2}, {2, 2}, {3, 2}, {60, 3}, {60, 8}, {60, 1}, {-3, 4}, {140, 4}} {
		if got, known := seed.TolerableRangePercent(c[0], c[1]); known {
			t.Errorf("%d %% of %d replicates: %d from a row that is not printed", c[0], c[1], got)
		}
	}
}

// binomialUpTo is the chance of so many successes or fewer in 100.
func binomialUpTo(successes int, p float64) float64 {
	sum, term := 0.0, math.Pow(1-p, 100)
	for k := 0; k <= successes; k++ {
		sum += term
		term *= float64(100-k) / float64(k+1) * p / (1 - p)
	}
	return sum
}

// exactRange is the least range that so many independent replicates of 100 seeds exceed
// with a chance of no more than 2.5 %.
func exactRange(p float64, replicates int) int {
	k := float64(replicates)
	for span := 0; ; span++ {
		within := 0.0
		for low := 0; low <= 100; low++ {
			upTo := binomialUpTo(min(low+span, 100), p)
			below := 0.0
			if low > 0 {
				below = binomialUpTo(low-1, p)
			}
			within += math.Pow(upTo-below, k) - math.Pow(upTo-binomialUpTo(low, p), k)
		}
		if 1-within <= 0.025 {
			return span
		}
	}
}

// The printed table was computed long ago with some rounding: the exact binomial rule
// differs from it by 1 in some rows and never by more.
func TestTheTableIsWithinOneOfTheBinomialRule(t *testing.T) {
	agree := map[int]int{}
	for _, r := range published.Rows(t, "germination_tolerance.csv") {
		if r.Text("table") != "range_between_replicates" {
			continue
		}
		average, replicates := int(r.Number("avg_germ_pct_low")), int(r.Number("replicates"))
		exact := exactRange(float64(average)/100, replicates)
		if want := int(r.Number("computed_exact_binomial_range_2.5pct")); exact != want {
			t.Errorf("%s: the exact range is %d, not %d", r.Name, exact, want)
		}
		got, _ := seed.TolerableRangePercent(average, replicates)
		if got-exact > 1 || exact-got > 1 {
			t.Errorf("%s: the table has %d, the exact rule %d", r.Name, got, exact)
		}
		if got == exact {
			agree[replicates]++
		}
	}
	if agree[4] != 38 || agree[2] != 35 {
		t.Errorf("table and rule agree in %v rows, not in 38 of 49 and 35 of 47", agree)
	}
}
