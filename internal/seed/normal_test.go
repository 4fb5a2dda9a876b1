package seed

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/published"
)

func TestDeviatesArePublishedOnes(t *testing.T) {
	seen := 0
	for _, r := range published.Rows(t, "seed_storage.csv") {
		if !strings.HasPrefix(r.Text("case"), "probit") {
			continue
		}
		seen++
		percent := strings.TrimPrefix(r.Text("inputs"), "p=")
		got := normalDeviate(numberIn(t, percent) / 100)
		if r.Text("unit") == "probit" {
			got += 5
		}
		if !(math.Abs(got-r.Number("published_value")) <= 5e-6) {
			t.Errorf("%s: %v, published %s", r.Name, got, r.Text("published_value"))
		}
	}
	if seen != 5 {
		t.Errorf("%d published deviates were checked", seen)
	}
}

func TestDeviateAndShareTurnEachOtherRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := math.Pow(10, -rapid.Float64Range(0, 200).Draw(t, "decades")) / 2
		if got := normalShare(normalDeviate(share)); !(math.Abs(got/share-1) <= 1e-11) {
			t.Fatalf("%v came back as %v", share, got)
		}
		if z := normalDeviate(1 - share); share > 1e-9 && !(math.Abs(z+normalDeviate(share)) <= 1e-6) {
			t.Fatalf("the deviates of %v and the rest do not mirror", share)
		}
	})
}

// I_x(a, a) at x = 1/2 is 1/2; I_x(1, b) is 1 - (1-x)^b; I_x(a, 1) is x^a (DLMF 8.17).
func TestIncompleteBetaHasItsClosedForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.5, 5000).Draw(t, "a")
		x := rapid.Float64Range(0.001, 0.999).Draw(t, "x")
		near := func(what string, got, want float64) {
			if !(math.Abs(got-want) <= 1e-11) {
				t.Fatalf("%s: %v, not %v", what, got, want)
			}
		}
		near("middle", incompleteBeta(0.5, a, a), 0.5)
		near("first is 1", incompleteBeta(x, 1, a), 1-math.Pow(1-x, a))
		near("second is 1", incompleteBeta(x, a, 1), math.Pow(x, a))
		near("mirror", incompleteBeta(x, a, 7)+incompleteBeta(1-x, 7, a), 1)
	})
}

func TestBetaQuantileTurnsTheIntegralRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(1, 1e6).Draw(t, "a")
		b := rapid.Float64Range(1, 1e6).Draw(t, "b")
		p := rapid.Float64Range(1e-6, 0.5).Draw(t, "p")
		if got := incompleteBeta(betaQuantile(p, a, b), a, b); !(math.Abs(got/p-1) <= 1e-7) {
			t.Fatalf("%v came back as %v", p, got)
		}
	})
}
