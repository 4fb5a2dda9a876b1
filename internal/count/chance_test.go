package count

import (
	"strconv"
	"testing"

	"rowtally/internal/published"
)

func TestChanceIsTheGeneratorAsPublished(t *testing.T) {
	var c *Chance
	for _, r := range published.Rows(t, "splitmix64.csv") {
		if r.Text("position") == "1" {
			c = NewChance(int64(r.Number("number")))
		}
		if got := strconv.FormatUint(c.next(), 10); got != r.Text("value") {
			t.Errorf("%s: %s", r.Name, got)
		}
	}
}

func TestChanceFavoursNoNumber(t *testing.T) {
	c, seen := NewChance(7), [6]int{}
	const draws = 60_000
	for range draws {
		seen[c.below(6)]++
		if f := c.fraction(); f < 0 || f >= 1 {
			t.Fatalf("a fraction of %v", f)
		}
	}
	square := 0.0
	for _, n := range seen {
		square += float64((n-draws/6)*(n-draws/6)) / (draws / 6)
	}
	if square > 20.5 { // chi-squared, 5 degrees of freedom: 1 in 1000 is above
		t.Errorf("%v", seen)
	}
}
