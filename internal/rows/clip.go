package rows

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"rowtally/internal/fault"
)

// stretch is a part of a row line, by places along the bearing.
type stretch struct{ from, to float64 }

// side is one edge of a ring or a line. Two equal ends make a point.
type side struct{ a, b spot }

// slack keeps a row that stands exactly at the headland on the sowable side: ten
// nanometres, more than the rounding of places across the rows.
const slack = 1e-8

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

// perRow holds a list for each row in one piece of memory.
type perRow[T any] struct {
	start  []int // of each row's room, and the end of the last
	filled []int
	all    []T
}

// room makes a perRow with room for a count of each row.
func room[T any](counts []int) perRow[T] {
	p := perRow[T]{start: make([]int, len(counts)+1), filled: make([]int, len(counts))}
	for i, count := range counts {
		p.start[i+1] = p.start[i] + count
	}
	p.all = make([]T, p.start[len(counts)])
	return p
}

func (p *perRow[T]) add(row int, value T) {
	p.all[p.start[row]+p.filled[row]] = value
	p.filled[row]++
}

func (p *perRow[T]) of(row int) []T {
	return p.all[p.start[row] : p.start[row]+p.filled[row]]
}

// crossings lists, for each row, the places where it crosses the sides, in order.
func crossings(sides []side, offsets []float64) (perRow[float64], error) {
	counts, sum := make([]int, len(offsets)), 0
	for _, s := range sides {
		first, end := s.rows(offsets)
		if sum += end - first; sum > mostMeetings {
			return perRow[float64]{}, tooMany()
		}
		for row := first; row < end; row++ {
			counts[row]++
		}
	}
	found := room[float64](counts)
	for _, s := range sides {
		first, end := s.rows(offsets)
		for row := first; row < end; row++ {
			found.add(row, s.crossing(offsets[row]))
		}
	}
	for row := range offsets {
		slices.Sort(found.of(row))
	}
	return found, nil
}

func tooMany() error {
	return fault.Refuse("", "the boundary's corners and the rows are so many that they meet over %d times, thin the boundary out or take fewer rows", mostMeetings)
}

// margin is an edge with the clearance that rows keep from it.
type margin struct {
	side
	clearance float64
}

// rows gives the rows that come nearer to the edge than the clearance.
func (m margin) rows(offsets []float64) (first, end int) {
	return rowsBetween(offsets,
		min(m.a.right, m.b.right)-m.clearance, max(m.a.right, m.b.right)+m.clearance)
}

// cuts lists, for each row, the stretches that margins and no-go areas take out of it,
// in the order of their starts. insides holds the crossings of each no-go area.
func cuts(margins []margin, insides []perRow[float64], offsets []float64) (perRow[stretch], error) {
	counts, sum := make([]int, len(offsets)), 0
	for _, m := range margins {
		first, end := m.rows(offsets)
		if sum += end - first; sum > mostMeetings {
			return perRow[stretch]{}, tooMany()
		}
		for row := first; row < end; row++ {
			counts[row]++
		}
	}
	for _, inside := range insides {
		for row := range offsets {
			counts[row] += len(inside.of(row)) / 2
		}
	}
	taken := room[stretch](counts)
	for _, m := range margins {
		first, end := m.rows(offsets)
		for row := first; row < end; row++ {
			if near, any := m.near(offsets[row], m.clearance); any {
				taken.add(row, near)
			}
		}
	}
	for _, inside := range insides {
		for row := range offsets {
			for at := inside.of(row); len(at) > 1; at = at[2:] {
				taken.add(row, stretch{at[0], at[1]})
			}
		}
	}
	for row := range offsets {
		slices.SortFunc(taken.of(row), func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	}
	return taken, nil
}

// left is what the cuts leave of the stretches between a row's crossings, even-odd;
// stretches that adjoin are one.
func left(crossings []float64, cuts []stretch) []stretch {
	var kept []stretch
	keep := func(from, to float64) {
		if last := len(kept) - 1; last >= 0 && from <= kept[last].to {
			kept[last].to = max(kept[last].to, to)
		} else if from < to {
			kept = append(kept, stretch{from, to})
		}
	}
	for ; len(crossings) > 1; crossings = crossings[2:] {
		from, to := crossings[0], crossings[1]
		for _, cut := range cuts {
			if cut.from >= to {
				break
			}
			if cut.from > from {
				keep(from, cut.from)
			}
			from = max(from, cut.to)
		}
		if from < to {
			keep(from, to)
		}
	}
	return kept
}
