package ground

import "math"

// shapeOf turns a file's rings into polygons on the earth. Which ring is a hole is read
// from what lies within what, not from the way the rings run: writers differ.
func (m *mending) shapeOf(rings [][]Point, system crs) (Shape, error) {
	onEarth := make([]GeoRing, len(rings))
	for i, ring := range rings {
		line, err := m.earthLine(ring, system)
		if err != nil {
			return nil, inPart("ring", i, err)
		}
		var alone GeoPolygon
		if err := alone.addRing(m.ring(line)); err != nil {
			return nil, inPart("ring", i, err)
		}
		onEarth[i] = alone.Outer
	}
	return nested(onEarth), nil
}

func (m *mending) earthLine(ring []Point, system crs) ([]LatLon, error) {
	line := make([]LatLon, len(ring))
	for i, p := range ring {
		lat, lon := system.toEarth(p.E, p.N)
		place, err := m.place(lat, lon)
		if err != nil {
			return nil, inPart("corner", i, err)
		}
		line[i] = place
	}
	return line, nil
}

// ShapeOfRings makes polygons of rings, whose first corner is not repeated, by what lies
// within what. It refuses a ring of fewer than three corners; Shape.Check refuses the rest.
func ShapeOfRings(rings []GeoRing) (Shape, error) {
	for i, ring := range rings {
		if err := ring.check(); err != nil {
			return nil, inPart("ring", i, err)
		}
	}
	return nested(rings), nil
}

// nested makes polygons of rings: a ring within an odd count of others is a hole of the
// innermost of them. Rings that cross are found by Shape.Check afterwards.
func nested(rings []GeoRing) (shape Shape) {
	around := ringsAround(rings)
	polygonOf := map[int]int{}
	for i, ring := range rings {
		if len(around[i])%2 == 0 {
			polygonOf[i] = len(shape)
			shape = append(shape, GeoPolygon{Outer: ring})
		}
	}
	for i, ring := range rings {
		if len(around[i])%2 == 0 {
			continue
		}
		for _, outer := range around[i] {
			if len(around[outer]) == len(around[i])-1 {
				k := polygonOf[outer]
				shape[k].Holes = append(shape[k].Holes, ring)
				break
			}
		}
	}
	return shape
}

// ringsAround lists for each ring the others that it lies within.
func ringsAround(rings []GeoRing) [][]int {
	flat, boxes := make([]Ring, len(rings)), make([]box, len(rings))
	for i, ring := range rings {
		flat[i] = ring.flat(rings[0][0].Lon)
		boxes[i] = boxOf(flat[i])
	}
	around := make([][]int, len(rings))
	for k := range rings {
		enclosing := enclosureOf(flat[k], boxes[k].diagonal()*1e-9)
		for i := range rings {
			if i != k && boxes[i].meets(boxes[k]) && enclosing.encloses(flat[i], flat[k]) {
				around[i] = append(around[i], k)
			}
		}
	}
	return around
}

// encloses tells whether a ring lies within the one that the enclosure was made of. A ring
// that is the same as another lies beside it.
func (n enclosure) encloses(ring, self Ring) bool {
	if _, out := n.first(ring, outside); out {
		return false
	}
	if _, in := n.first(ring, inside); in {
		return true
	}
	smaller := math.Abs(ring.signedArea()) < math.Abs(self.signedArea())
	for _, p := range enclosureOf(ring, n.tolerance).probes(ring, self) {
		if n.of(p) != inside {
			return false
		}
	}
	return smaller
}
