package rows

import (
	"cmp"
	"math"
	"slices"

	"rowtally/internal/fault"
)

// reaching is what meets a run of neighbouring rows.
type reaching interface {
	rows(offsets []float64) (first, end int)
}

// tally adds, for each row, the edges that reach it to its count.
func tally[E reaching](edges []E, offsets []float64, counts []int) error {
	sum := 0
	for _, e := range edges {
		first, end := e.rows(offsets)
		if sum += end - first; sum > mostMeetings {
			return tooMany()
		}
		for row := first; row < end; row++ {
			counts[row]++
		}
	}
	return nil
}

func tooMany() error {
	return fault.Refuse("", "corners and rows are so many that they meet over %d times, thin the boundary and the no-go areas out or take fewer rows", mostMeetings)
}

// crossings lists, for each row, the places where it crosses the sides, in order.
func crossings(found *perRow[float64], sides []side, offsets []float64) error {
	if err := tally(sides, offsets, found.counts(len(offsets))); err != nil {
		return err
	}
	found.room()
	for _, s := range sides {
		first, end := s.rows(offsets)
		for row := first; row < end; row++ {
			found.add(row, s.crossing(offsets[row]))
		}
	}
	for row := range offsets {
		slices.Sort(found.of(row))
	}
	return nil
}

// inside is one no-go area and where rows run within it: the crossings of the rows from
// first on.
type inside struct {
	sides   []side
	first   int
	crossed perRow[float64]
}

// enter finds where rows run within each no-go area. Each is even-odd by itself, so that
// areas may lie over one another.
func enter(insides []inside, offsets []float64) error {
	sum := 0
	for i := range insides {
		one := &insides[i]
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range onRows(one.sides, offsets) {
			low, high = min(low, s.a.right), max(high, s.a.right)
		}
		first, end := rowsBetween(offsets, low, high)
		one.first = first
		if err := crossings(&one.crossed, one.sides, offsets[first:end]); err != nil {
			return err
		}
		if sum += len(one.crossed.all); sum > mostMeetings {
			return tooMany()
		}
	}
	return nil
}

// margin is an edge with the clearance that rows keep from it.
type margin struct {
	side
	clearance float64
	slackM    float64 // by how much a row along it may miss the clearance
}

// abreast tells whether a row runs along the side with all its clearance but the slack. A fence
// that follows a parallel bows by 5 mm over 600 m; two that follow meridians close in by 6 cm over
// 1.1 km; corners are rounded to about a centimetre. The first row, which begins at the headland
// of the left-most point, would else lose most of its length for so little.
func (m margin) abreast(offset float64) bool {
	a, b := math.Abs(offset-m.a.right), math.Abs(offset-m.b.right)
	return m.clearance > m.slackM && math.Abs(m.a.right-m.b.right) <= m.slackM && min(a, b) > m.clearance-m.slackM
}

// rows gives the rows that come nearer to the edge than the clearance.
func (m margin) rows(offsets []float64) (first, end int) {
	return rowsBetween(offsets,
		min(m.a.right, m.b.right)-m.clearance, max(m.a.right, m.b.right)+m.clearance)
}

// cuts lists, for each row, the stretches that margins and no-go areas take out of it,
// in the order of their starts.
func cuts(taken *perRow[stretch], margins []margin, insides []inside, offsets []float64) error {
	counts := taken.counts(len(offsets))
	if err := tally(margins, offsets, counts); err != nil {
		return err
	}
	for _, inside := range insides {
		for row, crossed := range inside.crossed.filled {
			counts[inside.first+row] += crossed / 2
		}
	}
	taken.room()
	for _, m := range margins {
		first, end := m.rows(offsets)
		for row := first; row < end; row++ {
			if near, any := m.near(offsets[row], m.clearance); any && !m.abreast(offsets[row]) {
				taken.add(row, near)
			}
		}
	}
	for _, inside := range insides {
		for row := range inside.crossed.filled {
			for at := inside.crossed.of(row); len(at) > 1; at = at[2:] {
				taken.add(inside.first+row, stretch{at[0], at[1]})
			}
		}
	}
	for row := range offsets {
		slices.SortFunc(taken.of(row), byStart)
	}
	return nil
}

func byStart(a, b stretch) int { return cmp.Compare(a.from, b.from) }

// left adds to a list what the cuts leave of the stretches between a row's crossings,
// even-odd; stretches of the row that adjoin are one.
func left(kept []stretch, crossings []float64, cuts []stretch) []stretch {
	begun := len(kept)
	keep := func(from, to float64) {
		if last := len(kept) - 1; last >= begun && from <= kept[last].to {
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
