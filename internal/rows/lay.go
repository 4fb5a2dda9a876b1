package rows

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// Lay lays rows out. A row line stands at each of
//
//	phase + pitch·⌊i/n⌋ + gap·(i mod n), i = 0, 1, 2, …
//
// metres to the right of the line along the bearing through the boundary's left-most
// point. Sown is what of it lies at least the headland from every outside and the margin
// from every hole and no-go area, exactly: no polygon stands in for the inset. Stretches of
// the outside and single no-go areas may ask for clearances of their own, and headland passes
// move the rows in by a pitch each. With no
// headland a row on the left fence is sown and one on the right fence is not. Lengths
// are on the ellipsoid, off by less than 1 ppm in a paddock 20 km across.
func Lay(in Input) (Plan, error) {
	if err := in.check(); err != nil {
		return Plan{}, err
	}
	s, err := sceneOf(in)
	if err != nil {
		return Plan{}, err
	}
	if in.BestPhase {
		phase, err := s.bestPhase(in)
		if err != nil {
			return Plan{}, err
		}
		in.PhaseM = &phase
	}
	plan, err := s.lay(in)
	if err == nil && in.ListRows {
		plan.Listed = plan.list()
	}
	return plan, err
}

// lay lays rows out on checked ground.
func (s scene) lay(in Input) (Plan, error) {
	axes, widthM := s.facing(in.BearingDeg)
	lines, err := in.lines(widthM)
	if err != nil {
		return Plan{}, err
	}
	clipped, err := s.clip(in, axes, lines)
	if err != nil {
		return Plan{}, fault.Under(in.boundaryField(), err)
	}
	p := Plan{Frame: s.frame, BearingDeg: compass(in.BearingDeg), LeftM: axes.leftM, in: in}
	for i, line := range lines {
		p.addRow(line, clipped(i))
	}
	p.Headland = s.passes
	p.total(s.areaM2)
	return p, nil
}

func compass(deg float64) float64 {
	if deg = math.Mod(deg, 360); deg < 0 {
		deg += 360
	}
	return deg
}

// clip works out what may be sown of each line: the function answers by row.
func (s scene) clip(in Input, axes axes, lines []line) (func(row int) []stretch, error) {
	offsets := make([]float64, len(lines))
	for i, line := range lines {
		offsets[i] = line.offsetM
	}
	sides, margins, areas := s.edges(in, axes)
	crossed, err := crossings(onRows(sides, offsets), offsets)
	if err != nil {
		return nil, err
	}
	insides, err := insidesOf(areas, offsets)
	if err != nil {
		return nil, err
	}
	taken, err := cuts(margins, insides, offsets)
	return func(row int) []stretch { return left(crossed.of(row), taken.of(row)) }, err
}

// edges turns the ground to the axes: the sides of the paddock's rings, every edge to
// keep clear of, and the sides of each no-go area.
func (s scene) edges(in Input, axes axes) (sides []side, margins []margin, areas [][]side) {
	keep := func(sides []side, clearance func(i int) float64) {
		for i, s := range sides {
			if clear := clearance(i) - slack; clear > 0 {
				margins = append(margins, margin{s, clear})
			}
		}
	}
	every := func(m float64) func(int) float64 { return func(int) float64 { return m } }
	for k, polygon := range s.paddock {
		outer := axes.ring(polygon.Outer)
		keep(outer, func(i int) float64 { return s.headlands[k][i] + in.passRoomM() })
		sides = append(sides, outer...)
		for _, hole := range polygon.Holes {
			inner := axes.ring(hole)
			keep(inner, every(in.margin()))
			sides = append(sides, inner...)
		}
	}
	for _, obstacle := range s.obstacles {
		for _, polygon := range obstacle.polygons {
			area := axes.polygon(polygon)
			keep(area, every(obstacle.marginM))
			areas = append(areas, area)
		}
		for _, line := range obstacle.lines {
			keep(axes.line(line), every(obstacle.marginM))
		}
	}
	return sides, margins, areas
}

func (a axes) polygon(p ground.Polygon) []side {
	var sides []side
	for _, ring := range p.Rings() {
		sides = append(sides, a.ring(ring)...)
	}
	return sides
}

func (a axes) ring(ring ground.Ring) []side {
	sides := make([]side, len(ring))
	for i := range ring {
		sides[i] = side{a.spot(ring[i]), a.spot(ring[(i+1)%len(ring)])}
	}
	return sides
}

// line gives the sides of an open line; a line of one corner is a point.
func (a axes) line(line []ground.Point) []side {
	if len(line) == 1 {
		at := a.spot(line[0])
		return []side{{at, at}}
	}
	var sides []side
	for i := 1; i < len(line); i++ {
		sides = append(sides, side{a.spot(line[i-1]), a.spot(line[i])})
	}
	return sides
}
