package rows

import (
	"math"
	"testing"

	"rowtally/internal/ground"
)

// wavy is a closed outline of so many corners whose distance from the middle swings.
func wavy(middle ground.Point, radiusM float64, corners, waves int) ground.Ring {
	ring := make(ground.Ring, corners)
	for i := range ring {
		turn := 2 * math.Pi * float64(i) / float64(corners)
		r := radiusM * (0.85 + 0.15*math.Sin(float64(waves)*turn))
		ring[i] = ground.Point{E: middle.E + r*math.Cos(turn), N: middle.N + r*math.Sin(turn)}
	}
	return ring
}

// station is a concave paddock about 20 km across with 200 corners and five holes of 40.
func station() Input {
	paddock := ground.Polygon{Outer: wavy(ground.Point{}, 10_000, 200, 7)}
	for i := range 5 {
		turn := 2 * math.Pi * float64(i) / 5
		at := ground.Point{E: 5000 * math.Cos(turn), N: 5000 * math.Sin(turn)}
		paddock.Holes = append(paddock.Holes, wavy(at, 900, 40, 5))
	}
	return Input{BoundaryM: &paddock, HeadlandM: 20, BearingDeg: 17, RowsPerBelt: 1, AlleyM: 1.98, PlacementSpacingM: 3}
}

func BenchmarkLayTenThousandRows(b *testing.B) {
	in := station()
	var plan Plan
	for b.Loop() {
		var err error
		if plan, err = Lay(in); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(plan.RowCount), "rows")
	b.ReportMetric(float64(plan.SpanCount), "spans")
}
