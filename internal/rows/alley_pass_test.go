package rows

import (
	"math"
	"testing"

	"rowtally/internal/ground"
)

// shareAlong is the part share of a plan in metres along a bearing, by the sweep.
func shareAlong(t *testing.T, in Input, bearing, machineM float64) float64 {
	t.Helper()
	headings, err := Sweep(in, 1, SweepWith{AlleyMachineM: machineM})
	if err != nil {
		t.Fatal(err)
	}
	return *headings[int(bearing)].PartFraction
}

func paddockOf(corners ...ground.Point) *ground.Polygon { return &ground.Polygon{Outer: corners} }

// Worked by hand: 200 m × 100 m with a headland of 10 m leaves 180 m × 80 m of rows and alleys.
func TestPartPassesByHandInARectangle(t *testing.T) {
	in := Input{BoundaryM: paddockOf(ground.Point{}, ground.Point{E: 200}, ground.Point{E: 200, N: 100}, ground.Point{N: 100}), HeadlandM: 10, RowsPerBelt: 1, AlleyM: 12, PlacementSpacingM: 3}
	for _, c := range []struct{ bearing, machineM, want float64 }{
		{0, 3, 0},                 // 15 alleys of 12 m, 4 passes each
		{0, 12, 0},                // one pass each
		{0, 12.05, 0},             // overlaps by 0.05 m
		{0, 2.98, 0},              // leaves 0.08 m
		{0, 5, 2.0 / 12},          // two passes, 2 m over
		{0, 15, 1},                // does not fit
		{90, 3, 2.0 / 80},         // 6 alleys of 12 m, then 8 m: two passes and 2 m
		{90, 4, 0},                // then two passes
		{90, 12, 8.0 / 80},        // then 8 m, a part pass
		{90, 5, (6*2 + 3) / 80.0}, // 2 m over in each alley, 3 m of the 8
	} {
		if got := shareAlong(t, in, c.bearing, c.machineM); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("along %v° with %v m: %v, want %v", c.bearing, c.machineM, got, c.want)
		}
	}
}

// Between the rows of a belt no machine runs: twin rows 2 m apart, alleys of 12 m.
func TestTheGapOfABeltIsNoAlley(t *testing.T) {
	gap := 2.0
	in := Input{BoundaryM: paddockOf(ground.Point{}, ground.Point{E: 152}, ground.Point{E: 152, N: 500}, ground.Point{N: 500}), HeadlandM: 3, RowsPerBelt: 2, RowGapM: &gap, AlleyM: 12, PlacementSpacingM: 3}
	// 146 m: 11 belts of 2 m, 10 alleys of 12 m, and 4 m beyond the last
	if got := shareAlong(t, in, 0, 6); math.Abs(got-4.0/124) > 1e-4 {
		t.Errorf("%v, want %v", got, 4.0/124)
	}
}

// A square seen over its corner is D wide: every pass of width w ends in two triangles that
// come to w² together, D/w passes on D²/2, so that the share is 2w/D.
func TestPartPassesEndObliquely(t *testing.T) {
	side := 240 / math.Sqrt2
	in := Input{BoundaryM: paddockOf(ground.Point{}, ground.Point{E: side}, ground.Point{E: side, N: side}, ground.Point{N: side}), RowsPerBelt: 1, AlleyM: 12, PlacementSpacingM: 3}
	for _, machineM := range []float64{3, 6, 12} {
		if got, want := shareAlong(t, in, 45, machineM), 2*machineM/240; math.Abs(got-want) > 1e-4 {
			t.Errorf("%v m: %v, want %v", machineM, got, want)
		}
	}
}

// Laws: turned with the paddock, the share stays; a hole takes whole passes away.
func TestPartPassesTurnWithThePaddock(t *testing.T) {
	in := halfKilometre()
	turned := in
	turned.BoundaryM = &ground.Polygon{}
	sin, cos := math.Sincos(30 * math.Pi / 180)
	for i, ring := range in.BoundaryM.Rings() {
		var out ground.Ring
		for _, p := range ring {
			out = append(out, ground.Point{E: p.E*cos + p.N*sin, N: p.N*cos - p.E*sin})
		}
		if i == 0 {
			turned.BoundaryM.Outer = out
		} else {
			turned.BoundaryM.Holes = append(turned.BoundaryM.Holes, out)
		}
	}
	for _, bearing := range []float64{0, 17, 88, 149} {
		if a, b := shareAlong(t, in, bearing, 3), shareAlong(t, turned, bearing+30, 3); math.Abs(a-b) > 1e-6 {
			t.Errorf("along %v°: %v, turned by 30° %v", bearing, a, b)
		}
	}
}
