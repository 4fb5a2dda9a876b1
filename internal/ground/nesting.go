package ground

import (
	"fmt"

	"rowtally/internal/fault"
)

// checkNesting refuses a hole outside its polygon or in another hole, and a polygon
// within another. It is asked when no edges cross, so that any corner off the other's edge
// tells for its ring, and probes tell where all touch.
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
	if at, out := n.find(hole, outer, outside); out {
		return fault.Refuse("", "%s lies outside its polygon at %s, move it in or take it out", n.ring(hole), at)
	}
	return nil
}

// find finds where a ring stands so against another, by its corners or by a probe, and
// words for it.
func (n nesting) find(ring, against int, want standing) (at string, found bool) {
	corners := n.rings[ring]
	corner, found, touching := n.of[against].stands(corners, want)
	if found {
		return fmt.Sprintf("corner %d (%s)", corner+1, n.where(corners[corner])), true
	}
	_, _, touched := n.of[ring].stands(n.rings[against], never)
	if len(touching)+len(touched) == 0 {
		return "", false
	}
	for _, p := range n.of[ring].probes(corners, touched) {
		if n.of[against].of(p) == want {
			return n.where(p), true
		}
	}
	return "", false
}

// checkApart refuses a ring within another where the two may have no ground in common.
func (n nesting) checkApart(i, k int) error {
	if i == k || !n.mustBeApart(i, k) || !n.boxes[i].meets(n.boxes[k]) {
		return nil
	}
	if at, in := n.find(k, i, inside); in && !(n.holeOf[i] == 0 && n.inHoleOf(i, k)) {
		return fault.Refuse("", "%s lies within %s at %s, take one of the two out", n.ring(k), n.ring(i), at)
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
func (n nesting) inHoleOf(outer, ring int) bool {
	for h := outer + 1; h < len(n.rings) && n.polygonOf[h] == n.polygonOf[outer]; h++ {
		if _, out := n.find(ring, h, outside); !out {
			return true
		}
	}
	return false
}
