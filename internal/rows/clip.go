package rows

import (
	"math"
	"sort"
)

// stretch is a part of a row line, by places along the bearing.
type stretch struct{ from, to float64 }

// side is one edge of a ring or a line. Two equal ends make a point.
type side struct{ a, b spot }

// rowsBetween gives the rows whose offset is at least low and less than high: half open,
// so that a corner at a row belongs to one of its two edges alone.
func rowsBetween(offsets []float64, low, high float64) (first, end int) {
	return sort.SearchFloat64s(offsets, low), sort.SearchFloat64s(offsets, high)
}

// rows gives the rows that an edge crosses.
func (s side) rows(offsets []float64) (first, end int) {
	return rowsBetween(offsets, min(s.a.right, s.b.right), max(s.a.right, s.b.right))
}

// crossing is where the edge crosses a row.
func (s side) crossing(offset float64) float64 {
	return s.a.along + (offset-s.a.right)*(s.b.along-s.a.along)/(s.b.right-s.a.right)
}

// near is the stretch of a row that lies nearer than a clearance to the edge. What lies
// so near is a capsule, which is convex, so that it is one stretch: the hull of what the
// discs round the two ends and the band along the edge take.
func (s side) near(offset, clearance float64) (stretch, bool) {
	near := stretch{math.Inf(1), math.Inf(-1)}
	near.take(disc(s.a, offset, clearance))
	near.take(disc(s.b, offset, clearance))
	near.take(s.band(offset, clearance))
	return near, near.from < near.to
}

// take widens the stretch to hold another, if that holds anything.
func (n *stretch) take(other stretch) {
	if other.from < other.to {
		n.from, n.to = min(n.from, other.from), max(n.to, other.to)
	}
}

func disc(centre spot, offset, radius float64) stretch {
	off := offset - centre.right
	half2 := radius*radius - off*off
	if half2 <= 0 {
		return stretch{}
	}
	half := math.Sqrt(half2)
	return stretch{centre.along - half, centre.along + half}
}

// band is what the rectangle along the edge, twice the clearance wide, takes of a row:
// with x along the row from the edge's start, x·dr within off·da ± clearance·length, and
// x·da within 0..length² less off·dr.
func (s side) band(offset, clearance float64) stretch {
	da, dr, off := s.b.along-s.a.along, s.b.right-s.a.right, offset-s.a.right
	length := math.Hypot(da, dr)
	beside := solve(dr, off*da-clearance*length, off*da+clearance*length)
	between := solve(da, -off*dr, length*length-off*dr)
	return stretch{s.a.along + max(beside.from, between.from), s.a.along + min(beside.to, between.to)}
}

// solve is where factor·x lies between low and high.
func solve(factor, low, high float64) stretch {
	switch {
	case factor > 0:
		return stretch{low / factor, high / factor}
	case factor < 0:
		return stretch{high / factor, low / factor}
	case low < 0 && high > 0:
		return stretch{math.Inf(-1), math.Inf(1)}
	}
	return stretch{}
}
