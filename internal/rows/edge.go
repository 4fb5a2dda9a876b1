package rows

import (
	"math"
	"strconv"

	"rowtally/internal/fault"
)

// Edge is a stretch of a paddock's outside with a headland of its own, where a drain or a
// fence asks for more, or a track for less: from one corner on to another in the order in
// which the boundary gives them, past the last corner to the first where that is the way.
// Corners are counted from 1, and on from one outside to the next; holes are not counted.
type Edge struct {
	FromCorner int     `json:"from_corner"`
	ToCorner   int     `json:"to_corner"`
	HeadlandM  float64 `json:"headland_m"` // 0..10 000, in place of the headland of the rest
}

// mostEdges is how many stretches are taken.
const mostEdges = 1000

// widestM is the widest headland or margin.
const widestM = 10_000

// checkClearances refuses headlands and margins of single edges and no-go areas.
func (in Input) checkClearances() error {
	if len(in.Edges) > mostEdges {
		return fault.Refuse("edges", "there are %d stretches with a headland of their own, at most %d are taken", len(in.Edges), mostEdges)
	}
	for i, edge := range in.Edges {
		if !(edge.HeadlandM >= 0 && edge.HeadlandM <= widestM) {
			return underEdge(i, fault.Refuse("headland_m", "the headland of its own is %v, enter a figure from 0 to %d", edge.HeadlandM, widestM))
		}
	}
	for i, noGo := range in.NoGo {
		if margin := orElse(noGo.MarginM, 0); !(margin >= 0 && margin <= widestM) {
			return underNoGo(i, fault.Refuse("margin_m", "the margin of its own is %v, enter a figure from 0 to %d", margin, widestM))
		}
	}
	return nil
}

func underEdge(i int, err error) error {
	return fault.Under("edges["+strconv.Itoa(i)+"]", err)
}

// edgesBefore tells for each side of a ring with further corners along its edges which
// edge of the plain ring it is part of.
func edgesBefore[At comparable, Ring ~[]At](dense, plain Ring) []int {
	edge, edges := -1, make([]int, len(dense))
	for i, corner := range dense {
		if edge+1 < len(plain) && corner == plain[edge+1] {
			edge++
		}
		edges[i] = edge
	}
	return edges
}

// headlands gives each side of each outside its headland; outsides names the edge that each
// side is part of. Where stretches lie over one another, the widest holds.
func (in Input) headlands(outsides [][]int) ([][]float64, error) {
	own := map[int]float64{} // of edges, counted over all outsides
	for i, edge := range in.Edges {
		first, corners, err := edge.outside(outsides)
		if err != nil {
			return nil, underEdge(i, err)
		}
		for at := edge.FromCorner - 1; at != edge.ToCorner-1; at = first + (at+1-first)%corners {
			own[at] = max(own[at], edge.HeadlandM)
		}
	}
	first, all := 0, make([][]float64, len(outsides))
	for i, sides := range outsides {
		for _, side := range sides {
			headland, has := own[first+side]
			if !has {
				headland = in.HeadlandM
			}
			all[i] = append(all[i], headland)
		}
		first += cornersOf(sides)
	}
	return all, nil
}

// cornersOf counts the corners of a plain ring by the edges of its sides.
func cornersOf(sides []int) int { return sides[len(sides)-1] + 1 }

// outside finds the outside that both corners are of: its first corner, from 0, and how
// many it has.
func (e Edge) outside(outsides [][]int) (first, corners int, err error) {
	for _, sides := range outsides {
		corners = cornersOf(sides)
		of := func(corner int) bool { return corner > first && corner <= first+corners }
		switch {
		case !of(e.FromCorner):
		case e.FromCorner == e.ToCorner:
			return 0, 0, fault.Refuse("to_corner", "the stretch begins and ends at corner %d, name the corner that it runs on to", e.ToCorner)
		case !of(e.ToCorner):
			return 0, 0, fault.Refuse("to_corner", "corner %d is not of the outside that corner %d is of, which has corners %d to %d", e.ToCorner, e.FromCorner, first+1, first+corners)
		default:
			return first, corners, nil
		}
		first += corners
	}
	return 0, 0, fault.Refuse("from_corner", "there is no corner %d, the outside has corners 1 to %d", e.FromCorner, first)
}

// leastHeadlandM is the narrowest headland of any side: no row stands nearer than that to
// the line through the left-most point.
func (s scene) leastHeadlandM() float64 {
	least := math.Inf(1)
	for _, sides := range s.headlands {
		for _, headland := range sides {
			least = min(least, headland)
		}
	}
	return least
}
