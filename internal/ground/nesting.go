package ground

import "rowtally/internal/fault"

// checkNesting refuses a hole outside its polygon or in another hole, and a polygon
// within another. It is asked when no edges cross, so that any corner tells for its ring.
func (f *figure) checkNesting(tolerance float64) error {
	n := nesting{f, make([]enclosure, len(f.rings)), make([]box, len(f.rings))}
	for i, ring := range f.rings {
		n.of[i], n.boxes[i] = enclosureOf(ring, tolerance), boxOf(ring)
	}
	outer := 0
	for i := range f.rings {
		if f.holeOf[i] == 0 {
			outer = i
		} else if err := n.checkHole(i, outer); err != nil {
			return err
		}
	}
	for i := range f.rings {
		for k := range f.rings {
			if err := n.checkApart(i, k); err != nil {
				return err
			}
		}
	}
	return nil
}

// nesting is a figure with an enclosure and a box per ring.
type nesting struct {
	*figure
	of    []enclosure
	boxes []box
}

func (n nesting) checkHole(hole, outer int) error {
	ring := n.rings[hole]
	if corner, out := n.of[outer].first(ring, outside); out {
		return fault.Refuse("", "%s lies outside its polygon at corner %d (%s), move it in or take it out",
			n.ring(hole), corner+1, n.where(ring[corner]))
	}
	return nil
}

// checkApart refuses a ring within another where the two may have no ground in common.
func (n nesting) checkApart(i, k int) error {
	if i == k || !n.mustBeApart(i, k) || !n.boxes[i].meets(n.boxes[k]) {
		return nil
	}
	ring := n.rings[k]
	if corner, in := n.of[i].first(ring, inside); in && !(n.holeOf[i] == 0 && n.inHoleOf(i, ring)) {
		return fault.Refuse("", "%s lies within %s at corner %d (%s), take one of the two out",
			n.ring(k), n.ring(i), corner+1, n.where(ring[corner]))
	}
	return nil
}

// mustBeApart tells whether two rings are two holes of one polygon, or two outsides.
func (n nesting) mustBeApart(i, k int) bool {
	if n.polygonOf[i] == n.polygonOf[k] {
		return n.holeOf[i] > 0 && n.holeOf[k] > 0
	}
	return n.holeOf[i] == 0 && n.holeOf[k] == 0
}

// inHoleOf tells whether a ring lies in a hole of the polygon whose outside is given.
func (n nesting) inHoleOf(outer int, ring Ring) bool {
	for h := outer + 1; h < len(n.rings) && n.polygonOf[h] == n.polygonOf[outer]; h++ {
		if _, out := n.of[h].first(ring, outside); !out {
			return true
		}
	}
	return false
}
