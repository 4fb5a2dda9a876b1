package seed

import (
	"math"
	"testing"

	"rowtally/internal/published"
)

func TestStudentsDeviatesAreThoseOfTheTables(t *testing.T) {
	for _, r := range published.Rows(t, "student_t.csv") {
		if got, want := StudentDeviate(r.Number("level"), r.Number("freedom")), r.Number("published_t"); math.Abs(got-want) > 0.0005 {
			t.Errorf("%s: %v, published %v", r.Name, got, want)
		}
	}
}

// With many degrees of freedom Student's law is the normal one; with one it is Cauchy's.
func TestStudentsLawEndsInTheNormalAndCauchys(t *testing.T) {
	for _, level := range []float64{0.5, 0.9, 0.95, 0.999} {
		if got, want := StudentDeviate(level, 1e7), normalDeviate((1+level)/2); math.Abs(got-want) > 1e-5 {
			t.Errorf("level %v: %v, the normal law gives %v", level, got, want)
		}
		if got, want := StudentDeviate(level, 1), math.Tan(math.Pi*level/2); math.Abs(got-want) > 1e-8*want {
			t.Errorf("level %v: %v, Cauchy's law gives %v", level, got, want)
		}
	}
}

func TestLimitsOfASingleCountAreThoseOfTheTables(t *testing.T) {
	for _, r := range published.Rows(t, "poisson_limits.csv") {
		low, high := poissonLimits(int(r.Number("count")), r.Number("level"))
		if math.Abs(low-r.Number("published_low")) > 0.0051 || math.Abs(high-r.Number("published_high")) > 0.0051 {
			t.Errorf("%s: %v to %v", r.Name, low, high)
		}
	}
}
