package ground

// meeting is how two edges meet.
type meeting int

const (
	apart meeting = iota
	touching
	overlapping // along a stretch of both
	crossing
)

// meet tells how two edges meet. Points nearer to an edge than the tolerance lie on it.
func (e *edge) meet(f *edge, tolerance float64) meeting {
	if max(e.a.N, e.b.N) < min(f.a.N, f.b.N)-tolerance || max(f.a.N, f.b.N) < min(e.a.N, e.b.N)-tolerance {
		return apart
	}
	c, d := e.side(f.a, tolerance), e.side(f.b, tolerance)
	if c*d > 0 {
		return apart
	}
	a, b := f.side(e.a, tolerance), f.side(e.b, tolerance)
	switch {
	case c*d < 0 && a*b < 0:
		return crossing
	case c == 0 && d == 0 || a == 0 && b == 0:
		return e.shared(f, tolerance)
	case c == 0 && e.reaches(f.a, tolerance), d == 0 && e.reaches(f.b, tolerance),
		a == 0 && f.reaches(e.a, tolerance), b == 0 && f.reaches(e.b, tolerance):
		return touching
	}
	return apart
}

// side is 1 where a point lies left of the edge's line, -1 right of it, 0 on it.
func (e *edge) side(p Point, tolerance float64) int {
	along, to := e.b.minus(e.a), p.minus(e.a)
	left := (along.E*to.N - along.N*to.E) / e.length
	switch {
	case left > tolerance:
		return 1
	case left < -tolerance:
		return -1
	}
	return 0
}

// along is how far a point lies along the edge from its start.
func (e *edge) along(p Point) float64 {
	way, to := e.b.minus(e.a), p.minus(e.a)
	return (way.E*to.E + way.N*to.N) / e.length
}

func (e *edge) reaches(p Point, tolerance float64) bool {
	at := e.along(p)
	return at >= -tolerance && at <= e.length+tolerance
}

// shared tells how two edges on one line meet.
func (e *edge) shared(f *edge, tolerance float64) meeting {
	s, t := e.along(f.a), e.along(f.b)
	from, to := max(0, min(s, t)), min(e.length, max(s, t))
	switch {
	case to-from > tolerance:
		return overlapping
	case to-from >= -tolerance:
		return touching
	}
	return apart
}

// contact is a meeting of two edges that a shape must not have.
type contact struct {
	first, second edge
	how           meeting
}

// mostPairs bounds the search for crossings; an outline of
// 100 000 corners needs a hundredth of it, and only long edges side by side need more.
const mostPairs = 30_000_000

// badContact finds two edges that meet although they must not: within one ring any
// meeting but that of neighbours at their corner; between rings a crossing and, within
// one polygon, a common stretch. tooIntricate is true when the search was given up.
func badContact(rings []Ring, polygonOf []int, tolerance float64) (bad contact, found, tooIntricate bool) {
	s := stripsOf(edges(rings, tolerance))
	pairs := 0
	for strip := range s.in {
		list := s.westToEast(strip)
		for i, one := range list {
			for _, other := range list[i+1:] {
				if other.west > one.east+tolerance {
					break
				}
				if pairs++; pairs > mostPairs {
					return contact{}, false, true
				}
				e, f := &s.edges[one.index], &s.edges[other.index]
				how := e.meet(f, tolerance)
				if how != apart && forbidden(e, f, how, rings, polygonOf, tolerance) {
					return contact{*e, *f, how}, true, false
				}
			}
		}
	}
	return contact{}, false, false
}

// forbidden tells whether two edges may not meet so.
func forbidden(e, f *edge, how meeting, rings []Ring, polygonOf []int, tolerance float64) bool {
	switch {
	case e.ring == f.ring && (follows(e, f, rings[e.ring], tolerance) || follows(f, e, rings[e.ring], tolerance)):
		return how == overlapping
	case e.ring == f.ring:
		return true
	case polygonOf[e.ring] == polygonOf[f.ring]:
		return how == crossing || how == overlapping
	}
	return how == crossing
}

// follows tells whether f begins where e of the same ring ends, sides that were left out
// between them passed over.
func follows(e, f *edge, ring Ring, tolerance float64) bool {
	at := (e.corner + 1) % len(ring)
	for at != f.corner && ring[at].To(ring[(at+1)%len(ring)]) <= tolerance {
		at = (at + 1) % len(ring)
	}
	return at == f.corner
}
