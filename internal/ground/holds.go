package ground

// Holds tells whether a point of the plane lies in the polygon and in none of its holes. On
// an edge it may be either.
func (p Polygon) Holds(at Point) bool {
	odd := false
	for _, ring := range p.Rings() {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if (a.N <= at.N) != (b.N <= at.N) && at.E < a.E+(at.N-a.N)*(b.E-a.E)/(b.N-a.N) {
				odd = !odd
			}
		}
	}
	return odd
}

// Anticlockwise tells whether the ring runs with its ground to the left.
func (r Ring) Anticlockwise() bool { return r.signedArea() > 0 }
