package job

import (
	"strings"
	"testing"

	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

func ofFourHundred(day unit.Date, normal int) seed.Test {
	return seed.Test{TestedOn: day, Replicates: []seed.Replicate{{Seeds: 400, Normal: normal}}}
}

// US 7 CFR 201.63: two tests of 400 seeds with a mean of 70 to 80 % may differ by 8
// points, below 60 % by 10.
func TestTestsOfOneSeasonAreCompared(t *testing.T) {
	cut := seed.Test{TestedOn: "2026-03-01", Kind: seed.CutTest, Replicates: []seed.Replicate{{Seeds: 400, Normal: 380}}}
	lines := Agreements([]seed.Test{
		ofFourHundred("2025-11-01", 312), ofFourHundred("2026-02-01", 316), cut, ofFourHundred("2026-04-01", 284), ofFourHundred("2026-06-01", 200),
		{TestedOn: "2026-07-01", Replicates: []seed.Replicate{{Seeds: 50, Normal: 20}}},
	})
	want := []string{
		"the tests agree: they differ by 8, at most 8",
		"the tests differ by 21, at most 9: test again",
		"not judged: the published tolerances hold for tests of 400 seeds",
	}
	if len(lines) != len(want) {
		t.Fatalf("%d comparisons, want %d: %+v", len(lines), len(want), lines)
	}
	for i, says := range want {
		if !strings.HasPrefix(lines[i].Says, says) {
			t.Errorf("%s and %s: %q, want %q", lines[i].First.TestedOn, lines[i].Second.TestedOn, lines[i].Says, says)
		}
	}
	if !lines[0].Agree || lines[1].Agree || lines[2].Judged {
		t.Errorf("%+v", lines)
	}
}
