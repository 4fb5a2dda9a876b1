package ground

import (
	"math"
	"testing"
)

// Corners are added on the straight line in longitude and latitude
// and near enough to one another; the corners given stay.
func TestDense(t *testing.T) {
	shape := Shape{{Outer: GeoRing{{-36, 179.95}, {-36, -179.95}, {-36.005, -179.95}, {-36.005, 179.95}}}}
	ring := shape.Dense()[0].Outer
	given := 0
	for i, corner := range ring {
		next := ring[(i+1)%len(ring)]
		length := WGS84.Between(corner, next).DistanceM
		if length > 252 {
			t.Errorf("%v m from %v to %v", length, corner, next)
		}
		for _, c := range shape[0].Outer {
			if corner == c {
				given++
			}
		}
		if corner.Lat != -36 && corner.Lat != -36.005 && math.Abs(corner.Lon) != 179.95 {
			t.Errorf("%v lies on no side of the shape", corner)
		}
	}
	if given != 4 || len(ring) < 78 || len(ring) > 80 {
		t.Errorf("%d of 4 corners kept, %d in all", given, len(ring))
	}
	before, after := WGS84.Extent(shape), WGS84.Extent(Shape{{Outer: ring}})
	if math.Abs(after.AreaM2/before.AreaM2-1) > 1e-3 {
		t.Errorf("%v became %v", before, after)
	}
	far := Shape{{Outer: GeoRing{{-80, 0}, {-80, 120}, {80, 120}, {80, 0}}}}
	if corners := far.Dense().Corners(); corners > 2*mostAdded {
		t.Errorf("%d corners", corners)
	}
}
