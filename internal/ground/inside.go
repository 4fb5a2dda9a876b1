package ground

// standing is where a point lies against a ring.
type standing int

const (
	outside standing = iota
	onEdge
	inside
	never // as no point stands
)

// enclosure answers quickly where points stand against one ring.
type enclosure struct {
	strips
	tolerance float64
}

func enclosureOf(ring Ring, tolerance float64) enclosure {
	return enclosure{stripsOf(edges([]Ring{ring}, tolerance)), tolerance}
}

// of tells where a point stands; points within the tolerance of an edge stand on it.
func (n enclosure) of(p Point) standing {
	odd := false
	for _, index := range n.in[n.at(p.N)] {
		e := &n.edges[index]
		if e.side(p, n.tolerance) == 0 && e.reaches(p, n.tolerance) {
			return onEdge
		}
		if (e.a.N <= p.N) != (e.b.N <= p.N) && p.E < e.a.E+(p.N-e.a.N)*(e.b.E-e.a.E)/(e.b.N-e.a.N) {
			odd = !odd
		}
	}
	if odd {
		return inside
	}
	return outside
}

// first is the first corner of another ring that stands so.
func (n enclosure) first(ring Ring, want standing) (corner int, found bool) {
	for i, p := range ring {
		if n.of(p) == want {
			return i, true
		}
	}
	return 0, false
}
