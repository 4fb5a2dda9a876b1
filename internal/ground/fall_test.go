package ground

import (
	"math"
	"strings"
	"testing"
)

func closeTo(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.12g, not %.12g", what, got, want)
	}
}

// Heights on a rectangle, off a plane by +d, -d, +d, -d round its corners: such offsets
// leave the best plane as it is, so that everything follows by hand.
func TestFallByHand(t *testing.T) {
	const d = 0.05
	spots := []Spot{
		{Point{1000, 2000}, 30 + d}, {Point{1200, 2000}, 31 - d},
		{Point{1200, 2400}, 29 + d}, {Point{1000, 2400}, 28 - d},
	}
	f, err := FitFall(spots)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "rise to the east", f.EastRise, 1./200, 1e-12)
	closeTo(t, "rise to the north", f.NorthRise, -2./400, 1e-12)
	closeTo(t, "residual", f.ResidualM, d, 1e-9)
	closeTo(t, "R²", f.RSquared, 1-d*d/(0.25+1+d*d), 1e-9)
	grade, downhill := f.Steepest()
	closeTo(t, "steepest fall", grade, 0.005*math.Sqrt2, 1e-12)
	closeTo(t, "bearing downhill", downhill, 315, 1e-9)
	closeTo(t, "grade uphill", f.GradeAlong(135), 0.005*math.Sqrt2, 1e-12)
	closeTo(t, "grade along the contour", f.GradeAlong(45), 0, 1e-12)
	closeTo(t, "grade north", f.GradeAlong(0), -0.005, 1e-12)
}

func TestFallOfLevelGround(t *testing.T) {
	f, err := FitFall([]Spot{{Point{0, 0}, 7}, {Point{9, 0}, 7}, {Point{0, 9}, 7}})
	if err != nil || f.EastRise != 0 || f.NorthRise != 0 || f.RSquared != 1 {
		t.Errorf("%+v, %v", f, err)
	}
}

func TestFallRefusals(t *testing.T) {
	line := func(side float64) (spots []Spot) {
		for i := range 10 {
			x := float64(i) * 50
			spots = append(spots, Spot{Point{x, 2*x + side*float64(i%2)}, x / 100})
		}
		return spots
	}
	for says, spots := range map[string][]Spot{
		"at least 3":                 line(0)[:2],
		"nearly on one line":         line(5),
		"height 2 is not a number":   {{Point{0, 0}, 1}, {Point{1, 0}, math.NaN()}, {Point{0, 1}, 1}},
		"spread over 0.0 m one way ": {{Point{3, 3}, 1}, {Point{3, 3}, 2}, {Point{3, 3}, 3}},
	} {
		if _, err := FitFall(spots); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, should say %q", err, says)
		}
	}
	if _, err := FitFall(line(200)); err != nil {
		t.Error(err)
	}
}
