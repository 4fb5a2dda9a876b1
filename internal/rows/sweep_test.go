package rows

import (
	"math"
	"testing"

	"rowtally/internal/ground"
)

// halfKilometre is a paddock of about 500 rows.
func halfKilometre() Input {
	return Input{
		BoundaryM: &ground.Polygon{Outer: wavy(ground.Point{}, 1000, 40, 5), Holes: []ground.Ring{wavy(ground.Point{E: 300}, 90, 12, 3)}},
		HeadlandM: 10, RowsPerBelt: 1, AlleyM: 4, PlacementSpacingM: 3,
	}
}

func TestSweepTellsWhatEachPlanTells(t *testing.T) {
	in := halfKilometre()
	fall := ground.Fall{EastRise: 0.01, NorthRise: -0.02}
	headings, err := Sweep(in, 15, SweepWith{Fall: &fall})
	if err != nil || len(headings) != 12 {
		t.Fatalf("%d bearings, %v", len(headings), err)
	}
	for i, h := range headings {
		in.BearingDeg = float64(15 * i)
		p := laid(t, in)
		if h.BearingDeg != in.BearingDeg || h.RowM != p.RowM || h.Spans != p.SpanCount || h.Turns != p.Turns {
			t.Errorf("%+v, laid alone %+v", h, p.Totals)
		}
		near(t, "mean span", h.MeanSpanM, p.RowM/float64(p.SpanCount))
	}
	near(t, "grade north", *headings[0].GradeFraction, -0.02)
	near(t, "grade east", *headings[6].GradeFraction, 0.01)
	near(t, "grade north-east", *headings[3].GradeFraction, -0.01*math.Sqrt2/2)
}

func TestSweepRefusesItsStep(t *testing.T) {
	for _, step := range []float64{0, -1, 1e-9, 91, math.NaN()} {
		if _, err := Sweep(halfKilometre(), step, SweepWith{}); err == nil {
			t.Errorf("a step of %v was taken", step)
		}
	}
}

func BenchmarkSweepOneDegree(b *testing.B) {
	in := halfKilometre()
	for b.Loop() {
		if _, err := Sweep(in, 1, SweepWith{AlleyMachineM: 2}); err != nil {
			b.Fatal(err)
		}
	}
}
