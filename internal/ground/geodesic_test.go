package ground

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A line found must, followed, lead to where it was to lead: for places anywhere, and for
// nearly opposite ones, where iterations are known to run for ever.
func TestALineFollowedArrives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := LatLon{rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")}
		b := LatLon{rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")}
		if rapid.Bool().Draw(t, "opposite") {
			size := rapid.SampledFrom([]float64{0, 1e-9, 1e-3, 0.5}).Draw(t, "size")
			b = LatLon{max(-90, min(90, size*rapid.Float64Range(-1, 1).Draw(t, "off")-a.Lat)), a.Lon + 180 + size*rapid.Float64Range(-1, 1).Draw(t, "off")}
		}
		line, back := WGS84.Between(a, b), WGS84.Between(b, a)
		to, onward := WGS84.Reach(a, line.AzimuthDeg, line.DistanceM)
		if off := WGS84.Between(to, b).DistanceM; !(off < 1e-7) {
			t.Fatalf("%v by %+v arrives %g m off", a, line, off)
		}
		if turn := math.Remainder(onward-line.BackAzimuthDeg-180, 360); math.Abs(turn) > 1e-6 && 90-math.Abs(b.Lat) > 1e-3 && line.DistanceM > 1 {
			t.Fatalf("%v by %+v goes on by %v", a, line, onward)
		}
		if math.Abs(line.DistanceM-back.DistanceM) > 1e-7 || line.DistanceM > 20003931.4587 {
			t.Fatalf("%v there, %v back", line.DistanceM, back.DistanceM)
		}
	})
}

// Places that make the usual iteration fail to converge; the length is half the meridian
// less the flattening's share, so that it must stay below half a meridian.
func TestNearlyOppositePlaces(t *testing.T) {
	wellington, salamanca := LatLon{-41.32, 174.81}, LatLon{40.96, -5.50}
	line := WGS84.Between(wellington, salamanca)
	to, _ := WGS84.Reach(wellington, line.AzimuthDeg, line.DistanceM)
	if off := WGS84.Between(to, salamanca).DistanceM; off > 1e-7 || line.DistanceM < 19.9e6 {
		t.Errorf("%+v arrives %g m off", line, off)
	}
	if poles := WGS84.Between(LatLon{90, 0}, LatLon{-90, 77}); math.Abs(poles.DistanceM-20003931.4586) > 1e-3 {
		t.Errorf("from pole to pole %v", poles)
	}
	speck := WGS84.Between(LatLon{7.112827998352248e-161, 1}, LatLon{1.0669241997528372e-160, 41.5})
	closeTo(t, "along the equator", speck.DistanceM, 40.5*degree*WGS84.EquatorialM, 1e-7)
	if same := WGS84.Between(wellington, wellington); same.DistanceM != 0 || same.AzimuthDeg != 0 || same.BackAzimuthDeg != 180 {
		t.Errorf("from a place to itself %+v", same)
	}
}

func TestHolesAreTakenOffTheArea(t *testing.T) {
	paddock := GeoRing{{-36.01, 140}, {-36.01, 140.01}, {-36, 140.01}, {-36, 140}}
	dam := GeoRing{{-36.004, 140.004}, {-36.004, 140.006}, {-36.006, 140.005}}
	whole, hole := WGS84.Extent(Shape{{Outer: paddock}}), WGS84.Extent(Shape{{Outer: dam}})
	both := WGS84.Extent(Shape{{Outer: paddock, Holes: []GeoRing{dam}}})
	closeTo(t, "area", both.AreaM2, whole.AreaM2-hole.AreaM2, 1e-6)
	closeTo(t, "perimeter", both.PerimeterM, whole.PerimeterM+hole.PerimeterM, 1e-6)
	if hole.AreaM2 < 10_000 || whole.AreaM2 < 990_000 {
		t.Errorf("%v with a hole of %v", whole, hole)
	}
}
