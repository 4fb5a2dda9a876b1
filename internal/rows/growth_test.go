package rows

import (
	"math"
	"testing"
	"time"

	"rowtally/internal/ground"
)

// quickest is the least time of several layouts.
func quickest(t *testing.T, in Input) (least time.Duration) {
	t.Helper()
	least = math.MaxInt64
	for range 7 {
		begun := time.Now()
		laid(t, in)
		least = min(least, time.Since(begun))
	}
	return least
}

// Twice the rows, and twice the corners, cost about twice: at most thrice.
func TestCostGrowsWithRowsAndCorners(t *testing.T) {
	grows := func(what string, of func(n int) Input) {
		var last time.Duration
		for _, n := range []int{1, 2, 4} {
			took := quickest(t, of(n))
			t.Logf("%s × %d: %v", what, n, took)
			if last > 0 && took > 3*last {
				t.Errorf("%s × %d take %v after %v: more than thrice for twice as many", what, n, took, last)
			}
			last = took
		}
	}
	grows("rows", func(n int) Input {
		in := station()
		in.AlleyM = 8 / float64(n)
		return in
	})
	grows("corners", func(n int) Input {
		in := station()
		in.AlleyM = 20
		in.BoundaryM = &ground.Polygon{Outer: wavy(ground.Point{}, 10_000, 10_000*n, 7)}
		return in
	})
}
