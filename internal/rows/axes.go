package rows

import (
	"math"
	"sort"

	"rowtally/internal/ground"
)

// axes are the directions of a plan: along the bearing, and to its right from the
// paddock's left-most point.
type axes struct {
	sin, cos float64
	left     ground.Point
	leftM    float64
}

// spot is a point by its place along and right of a plan's axes.
type spot struct{ along, right float64 }

// facing turns the scene to a bearing and measures its width across it.
func (s scene) facing(bearingDeg float64) (a axes, widthM float64) {
	a.sin, a.cos = math.Sincos(bearingDeg * math.Pi / 180)
	a.left = s.paddock[0].Outer[0]
	for _, polygon := range s.paddock {
		for _, p := range polygon.Outer {
			if a.across(p) < a.across(a.left) {
				a.left = p
			}
		}
	}
	a.leftM = a.across(a.left)
	for _, polygon := range s.paddock {
		for _, p := range polygon.Outer {
			widthM = max(widthM, a.spot(p).right)
		}
	}
	return a, widthM
}

func (a axes) across(p ground.Point) float64 { return p.E*a.cos - p.N*a.sin }

// spot finds a point's place. The place to the right is measured from the left-most
// point itself, which loses less than a difference of two places from a far origin.
func (a axes) spot(p ground.Point) spot {
	return spot{p.E*a.sin + p.N*a.cos, (p.E-a.left.E)*a.cos - (p.N-a.left.N)*a.sin}
}

// slack is more than turning the axes loses of a place: ten nanometres. A corner that
// near to a row stands on it, and a row that stands at the headland exactly is sown.
const slack = 1e-8

// onRows moves places to the right onto the row that they stand on, so that a fence
// along the bearing has all its corners on one side of every row.
func onRows(sides []side, offsets []float64) []side {
	for i := range sides {
		sides[i].a.right = onRow(sides[i].a.right, offsets)
		sides[i].b.right = onRow(sides[i].b.right, offsets)
	}
	return sides
}

func onRow(right float64, offsets []float64) float64 {
	row := sort.SearchFloat64s(offsets, right-slack)
	if row < len(offsets) && offsets[row] <= right+slack {
		return offsets[row]
	}
	return right
}
