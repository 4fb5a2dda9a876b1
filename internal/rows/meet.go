package rows

import (
	"cmp"
	"slices"

	"rowtally/internal/fault"
)

// reaching is what meets a run of neighbouring rows.
type reaching interface {
	rows(offsets []float64) (first, end int)
}

// tally counts, for each row, the edges that reach it.
func tally[E reaching](edges []E, offsets []float64) ([]int, error) {
	counts, sum := make([]int, len(offsets)), 0
	for _, e := range edges {
		first, end := e.rows(offsets)
		if sum += end - first; sum > mostMeetings {
			return nil, fault.Refuse("", "the boundary's corners and the rows are so many that they meet over %d times, thin the boundary out or take fewer rows", mostMeetings)
		}
		for row := first; row < end; row++ {
			counts[row]++
		}
	}
	return counts, nil
}

// crossings lists, for each row, the places where it crosses the sides, in order.
func crossings(sides []side, offsets []float64) (perRow[float64], error) {
	counts, err := tally(sides, offsets)
	if err != nil {
		return perRow[float64]{}, err
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
	counts, err := tally(margins, offsets)
	if err != nil {
		return perRow[stretch]{}, err
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
		slices.SortFunc(taken.of(row), byStart)
	}
	return taken, nil
}

func byStart(a, b stretch) int { return cmp.Compare(a.from, b.from) }

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
