package ground

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"rowtally/internal/fault"
)

// The most corners and rings that a shape may have.
const (
	MostCorners = 100_000
	MostRings   = 2_000
)

// figure is a shape, or a plane polygon, made ready to be checked: its rings in one
// plane, with the words for where something lies.
type figure struct {
	rings     []Ring
	polygonOf []int // per ring
	holeOf    []int // per ring: 0 the outside, 1, 2… its polygon's holes
	many      bool  // several polygons
	where     func(Point) string
}

// Check refuses a shape that no paddock can have: a ring with fewer than three corners,
// one that crosses or touches itself, holes outside their polygon or within another
// hole, polygons that overlap. The sentence says where. Rings round a pole are not
// checked for crossings.
func (s Shape) Check() error {
	fig := figure{many: len(s) > 1, where: func(p Point) string { return LatLon{p.N, math.Remainder(p.E, 360)}.String() }}
	for i, polygon := range s {
		for k, ring := range polygon.Rings() {
			if err := ring.check(); err != nil {
				return fault.Refuse("", "%s: %v", fig.name(i, k), err)
			}
			fig.add(i, k, ring.flat(s[0].Outer[0].Lon))
		}
	}
	if s.RoundPole() {
		return fig.checkCounts()
	}
	return fig.check()
}

// check refuses a ring of too few corners and places that are not on the earth.
func (r GeoRing) check() error {
	if len(r) < 3 {
		return fault.Refuse("", "there are %d corners, a ring needs at least 3", len(r))
	}
	for i, corner := range r {
		if err := corner.Check(); err != nil {
			return inPart("corner", i, err)
		}
	}
	return nil
}

// RoundPole tells whether a ring of the shape runs round a pole.
func (s Shape) RoundPole() bool {
	for _, polygon := range s {
		if slices.ContainsFunc(polygon.Rings(), GeoRing.roundPole) {
			return true
		}
	}
	return false
}

func (r GeoRing) roundPole() bool {
	turned := 0.0
	for i, corner := range r {
		turned += eastward(corner.Lon, r[(i+1)%len(r)].Lon)
	}
	return math.Abs(turned) > 180
}

// Check refuses a plane polygon as Shape.Check refuses a shape.
func (p Polygon) Check() error {
	fig := figure{where: Point.String}
	for k, ring := range p.Rings() {
		for i, corner := range ring {
			if sum := math.Abs(corner.E) + math.Abs(corner.N); !(sum < 1e8) {
				return fault.Refuse("", "%s: corner %d lies at %v, enter metres of one map grid", fig.name(0, k), i+1, corner)
			}
		}
		fig.add(0, k, ring)
	}
	return fig.check()
}

func (f *figure) add(polygon, hole int, ring Ring) {
	f.rings = append(f.rings, ring)
	f.polygonOf = append(f.polygonOf, polygon)
	f.holeOf = append(f.holeOf, hole)
}

// name is how a sentence calls a ring.
func (f *figure) name(polygon, hole int) string {
	name := "the outside"
	if hole > 0 {
		name = fmt.Sprintf("hole %d", hole)
	}
	if f.many {
		name += fmt.Sprintf(" of polygon %d", polygon+1)
	}
	return name
}

func (f *figure) ring(i int) string { return f.name(f.polygonOf[i], f.holeOf[i]) }

func (f *figure) check() error {
	if err := f.checkCounts(); err != nil {
		return err
	}
	tolerance := boxOf(slices.Concat(f.rings...)).diagonal() * 1e-9
	for i, ring := range f.rings {
		if ring.onOneLine(tolerance) {
			return fault.Refuse("", "the corners of %s lie on one line, it holds no ground; draw it again", f.ring(i))
		}
	}
	if err := f.checkContacts(tolerance); err != nil {
		return err
	}
	return f.checkNesting(tolerance)
}

func (f *figure) checkCounts() error {
	corners := 0
	for i, ring := range f.rings {
		corners += len(ring)
		if distinct(ring) < 3 {
			return fault.Refuse("", "%s has %s that differ, a ring needs at least 3", f.ring(i), counted(distinct(ring), "corner"))
		}
	}
	switch {
	case corners == 0:
		return fault.Refuse("", "there is no polygon, give a boundary of at least 3 corners")
	case corners > MostCorners:
		return fault.Refuse("", "the boundary has %d corners, at most %d are taken; thin it out first", corners, MostCorners)
	case len(f.rings) > MostRings:
		return fault.Refuse("", "the boundary has %d outsides and holes, at most %d are taken", len(f.rings), MostRings)
	}
	return nil
}

// distinct counts the different corners of a ring, up to 3.
func distinct(ring Ring) int {
	var seen []Point
	for _, p := range ring {
		if len(seen) < 3 && !slices.Contains(seen, p) {
			seen = append(seen, p)
		}
	}
	return len(seen)
}

// onOneLine tells whether every corner lies on the line from the first to the one that is
// farthest from it.
func (r Ring) onOneLine(tolerance float64) bool {
	far := slices.MaxFunc(r, func(p, q Point) int { return cmp.Compare(r[0].To(p), r[0].To(q)) })
	line := edge{a: r[0], b: far, length: r[0].To(far)}
	return !slices.ContainsFunc(r, func(p Point) bool { return line.side(p, tolerance) != 0 })
}

func (f *figure) checkContacts(tolerance float64) error {
	bad, found, tooIntricate := badContact(f.rings, f.polygonOf, tolerance)
	if tooIntricate {
		return fault.Refuse("", "the boundary is too intricate to be checked for crossings, thin it out first")
	}
	if !found {
		return nil
	}
	e, g := bad.first, bad.second
	if e.ring > g.ring || e.ring == g.ring && e.corner > g.corner {
		e, g = g, e
	}
	verb := map[meeting]string{touching: "touches", overlapping: "runs along", crossing: "crosses"}[bad.how]
	other := "itself"
	if e.ring != g.ring {
		other = f.ring(g.ring)
	}
	return fault.Refuse("", "%s %s %s near corners %d and %d (%s), move or take out a corner there",
		f.ring(e.ring), verb, other, e.corner+1, g.corner+1, f.where(e.a))
}
