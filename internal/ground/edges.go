package ground

import (
	"cmp"
	"math"
	"slices"
)

// edge is one side of a ring, from corner index to the next.
type edge struct {
	ring, corner int
	a, b         Point
	length       float64
}

// edges lists the sides of rings; a side no longer than the tolerance is left out.
func edges(rings []Ring, tolerance float64) []edge {
	var list []edge
	for r, ring := range rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if length := a.To(b); length > tolerance {
				list = append(list, edge{r, i, a, b, length})
			}
		}
	}
	return list
}

// box is an upright rectangle.
type box struct{ low, high Point }

// boxOf is the smallest box round points. There must be one point at least.
func boxOf(points []Point) box {
	b := box{points[0], points[0]}
	for _, p := range points {
		b.low = Point{math.Min(b.low.E, p.E), math.Min(b.low.N, p.N)}
		b.high = Point{math.Max(b.high.E, p.E), math.Max(b.high.N, p.N)}
	}
	return b
}

func (b box) diagonal() float64 { return b.low.To(b.high) }

// meets tells whether two boxes have a point in common.
func (b box) meets(c box) bool {
	return b.low.E <= c.high.E && c.low.E <= b.high.E && b.low.N <= c.high.N && c.low.N <= b.high.N
}

// strips sorts edges into horizontal strips of a plane, so that what lies near a point
// or an edge is found without looking at all of them.
type strips struct {
	south, height float64
	edges         []edge
	in            [][]int32 // per strip, edges by index
}

// mostStrips bounds memory; more would not make a search quicker.
const mostStrips = 1 << 14

// stripsOf chooses the strips' height so that an edge lies in about four on average.
func stripsOf(list []edge) strips {
	south, north, climbed := math.Inf(1), math.Inf(-1), 0.0
	for _, e := range list {
		south = min(south, e.a.N, e.b.N)
		north = max(north, e.a.N, e.b.N)
		climbed += math.Abs(e.b.N - e.a.N)
	}
	count := 1
	if climbed > 0 {
		count = int(max(1, min(3*float64(len(list))*(north-south)/climbed, mostStrips)))
	}
	s := strips{south, (north - south) / float64(count), list, make([][]int32, count)}
	for i, e := range list {
		first, last := s.at(min(e.a.N, e.b.N)), s.at(max(e.a.N, e.b.N))
		for k := first; k <= last; k++ {
			s.in[k] = append(s.in[k], int32(i))
		}
	}
	return s
}

// at is the strip of a northing; beyond the outermost strips it is the outermost.
func (s strips) at(n float64) int {
	if !(s.height > 0) {
		return 0
	}
	at := math.Floor((n - s.south) / s.height)
	return int(max(0, min(at, float64(len(s.in)-1))))
}

// span is the part of the east-west line that an edge takes up within a strip, a little
// widened for rounding.
func (s strips) span(e edge, strip int) (west, east float64) {
	west, east = min(e.a.E, e.b.E), max(e.a.E, e.b.E)
	rise := e.b.N - e.a.N
	low := s.south + float64(strip)*s.height
	if math.Abs(rise) <= s.height {
		return west, east
	}
	slope := (e.b.E - e.a.E) / rise
	x1, x2 := e.a.E+(low-e.a.N)*slope, e.a.E+(low+s.height-e.a.N)*slope
	slack := (east - west) * 1e-9
	return max(west, min(x1, x2)-slack), min(east, max(x1, x2)+slack)
}

// westToEast lists a strip's edges from the west, with what each takes up of the strip.
func (s strips) westToEast(strip int) []taken {
	list := make([]taken, len(s.in[strip]))
	for i, index := range s.in[strip] {
		west, east := s.span(s.edges[index], strip)
		list[i] = taken{index, west, east}
	}
	slices.SortFunc(list, func(a, b taken) int { return cmp.Compare(a.west, b.west) })
	return list
}

// taken is the part of a strip that an edge takes up.
type taken struct {
	index      int32
	west, east float64
}
