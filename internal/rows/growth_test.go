//go:build !race

package rows

import (
	"math"
	"runtime"
	"runtime/debug"
	"slices"
	"testing"
	"time"

	"rowtally/internal/ground"
)

// leastTime is the least time that each act took, of many turns taken one after the other
// and without the garbage of the one in the time of the next: what else the machine does
// makes a turn longer, never shorter.
func leastTime(acts ...func()) []time.Duration {
	defer debug.SetGCPercent(debug.SetGCPercent(-1))
	least := make([]time.Duration, len(acts))
	for i := range least {
		least[i] = math.MaxInt64
	}
	for range 20 {
		for i, act := range acts {
			runtime.GC()
			begun := time.Now()
			act()
			least[i] = min(least[i], time.Since(begun))
		}
	}
	return least
}

// doubled is how many times as long each of three sizes takes as the one of half its size.
func doubled(t *testing.T, what string, act func(n int)) [2]float64 {
	t.Helper()
	took := leastTime(func() { act(1) }, func() { act(2) }, func() { act(4) })
	times := [2]float64{took[1].Seconds() / took[0].Seconds(), took[2].Seconds() / took[1].Seconds()}
	t.Logf("%s × 1, 2, 4: %v, %v, %v; %.2f and %.2f times for twice as much", what, took[0], took[1], took[2], times[0], times[1])
	return times
}

func stationOfRows(n int) Input {
	in := station()
	in.AlleyM = 8 / float64(n)
	return in
}

func stationOfCorners(n int) Input {
	in := station()
	in.AlleyM = 20
	in.BoundaryM = &ground.Polygon{Outer: wavy(ground.Point{}, 10_000, 10_000*n, 7)}
	return in
}

// mostForTwice is what twice the rows or twice the corners may cost: a cost that grows with
// the square takes four times as much.
const mostForTwice = 2.6

// Twice the rows, and twice the corners, cost about twice.
func TestCostGrowsWithRowsAndCorners(t *testing.T) {
	for what, of := range map[string]func(n int) Input{"rows": stationOfRows, "corners": stationOfCorners} {
		for i, times := range doubled(t, what, func(n int) { laid(t, of(n)) }) {
			if times > mostForTwice {
				t.Errorf("%s × %d take %.2f times as long as half of them, at most %.1f", what, 2<<i, times, mostForTwice)
			}
		}
	}
}

// A sweep of 180 bearings over a paddock of 500 rows, with the passes in its alleys, is asked
// within 100 ms.
func TestASweepIsQuick(t *testing.T) {
	in := halfKilometre()
	var took []time.Duration
	for range 9 {
		begun := time.Now()
		if _, err := Sweep(in, 1, SweepWith{AlleyMachineM: 2}); err != nil {
			t.Fatal(err)
		}
		took = append(took, time.Since(begun))
	}
	slices.Sort(took)
	t.Logf("%v in the middle, %v at best", took[len(took)/2], took[0])
	if took[len(took)/2] > 100*time.Millisecond {
		t.Errorf("%v for a sweep, 100 ms are asked", took)
	}
}

// The measure sees a cost that grows with the square: n layouts of n times the rows.
func TestACostThatGrowsWithTheSquareIsSeen(t *testing.T) {
	for i, times := range doubled(t, "rows, as often", func(n int) {
		for range n {
			laid(t, stationOfRows(n))
		}
	}) {
		if times <= mostForTwice {
			t.Errorf("× %d: %.2f times is taken for linear", 2<<i, times)
		}
	}
}
