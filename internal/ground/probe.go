package ground

import "slices"

// stands tells how the corners of a ring stand against another: one that stands as wanted,
// and those that lie on the other's edge.
func (n enclosure) stands(ring Ring, want standing) (corner int, found bool, touching []Point) {
	for i, p := range ring {
		switch n.of(p) {
		case want:
			return i, true, nil
		case onEdge:
			touching = append(touching, p)
		}
	}
	return 0, false, touching
}

// insideBy is how many tolerances within a ring its probes lie: off its own edge, and nearer
// to it than any ground that matters.
const insideBy = 10

// probes are points just within a ring, beside the middle of every stretch of its sides
// between its corners and the places where another ring touches it. Where two rings only
// touch, at corners or along a stretch, their corners do not tell which lies where: each
// probe tells it of its stretch.
func (n enclosure) probes(ring Ring, touched []Point) (points []Point) {
	inward := insideBy * n.tolerance
	left := inward
	if !ring.Anticlockwise() {
		left = -inward
	}
	cuts := n.cutsAt(touched)
	for i := range n.edges {
		e := &n.edges[i]
		marks := append(cuts[int32(i)], 0, e.length)
		slices.Sort(marks)
		for k := 1; k < len(marks); k++ {
			if marks[k]-marks[k-1] > 4*inward {
				points = append(points, e.beside((marks[k-1]+marks[k])/2, left))
			}
		}
	}
	return points
}

// cutsAt lists, by side, how far along it the points lie that are on it.
func (n enclosure) cutsAt(points []Point) map[int32][]float64 {
	cuts := map[int32][]float64{}
	for _, p := range points {
		for _, index := range n.in[n.at(p.N)] {
			if e := &n.edges[index]; e.side(p, n.tolerance) == 0 && e.reaches(p, n.tolerance) {
				cuts[index] = append(cuts[index], e.along(p))
			}
		}
	}
	return cuts
}

// beside is the point so far along the edge, and so far left of it.
func (e *edge) beside(along, left float64) Point {
	way := e.b.minus(e.a)
	east, north := way.E/e.length, way.N/e.length
	return Point{e.a.E + along*east - left*north, e.a.N + along*north + left*east}
}
