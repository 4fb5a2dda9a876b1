package ground

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// Alice Springs in both datums. Source: ICSM, GDA2020 Technical Manual v1.8, section 3.1.1.
func TestGDA94IntoGDA2020AsPublished(t *testing.T) {
	got := gda94To2020(space{-4052051.7643, 4212836.2017, -2545106.0245})
	for i, off := range []float64{got.x + 4052052.7379, got.y - 4212835.9897, got.z + 2545104.5898} {
		if math.Abs(off) > 1e-4 {
			t.Errorf("axis %d is off by %v m", i, off)
		}
	}
	dms := func(d, m, s float64) float64 { return d + m/60 + s/3600 }
	place := FromGDA94(LatLon{-dms(23, 40, 12.446019), dms(133, 53, 7.847844)})
	want := LatLon{-dms(23, 40, 12.39650), dms(133, 53, 7.87779)}
	if off := GRS80.Between(place, want).DistanceM; off > 1e-3 { // the print's last figure is 0.3 mm
		t.Errorf("%v is %v m from the published place", place, off)
	}
}

func TestGDA94IntoGDA2020AgainstPROJ(t *testing.T) {
	r := rand.New(rand.NewPCG(94, 2020))
	var lines []string
	var places []LatLon
	for range 500 {
		p := LatLon{-44 + 34*r.Float64(), 112 + 42*r.Float64()}
		places = append(places, p)
		lines = append(lines, fmt.Sprintf("%.12f %.12f 0 0", p.Lon, p.Lat))
	}
	rows := peer(t, lines, "cct", "-d", "12", "+proj=pipeline", "+step", "+proj=unitconvert", "+xy_in=deg", "+xy_out=rad", "+step", "+proj=cart", "+ellps=GRS80",
		"+step", "+proj=helmert", "+convention=coordinate_frame", "+x=0.06155", "+y=-0.01087", "+z=-0.04019", "+rx=-0.0394924", "+ry=-0.0327221", "+rz=-0.0328979", "+s=-0.009994",
		"+step", "+inv", "+proj=cart", "+ellps=GRS80", "+step", "+proj=unitconvert", "+xy_in=rad", "+xy_out=deg")
	for i, p := range places {
		got := FromGDA94(p)
		if off := GRS80.Between(got, LatLon{rows[i][1], rows[i][0]}).DistanceM; off > 1e-6 {
			t.Errorf("%v is %v m from PROJ's", p, off)
		}
		if off := GRS80.Between(p, ToGDA94(got)).DistanceM; off > 1e-7 {
			t.Errorf("%v comes back %v m off", p, off)
		}
		if moved := GRS80.Between(p, got); moved.DistanceM < 1.3 || moved.DistanceM > 2.1 {
			t.Errorf("%v moves by %v m", p, moved.DistanceM)
		}
	}
}

func TestABoundaryOnGDA94IsShifted(t *testing.T) {
	corner := LatLon{-36.4, 140.1}
	plain := `{"type":"Polygon","coordinates":[[[140.1,-36.4],[140.11,-36.4],[140.11,-36.39],[140.1,-36.4]]]`
	named, err := ReadBoundary("a.geojson", []byte(plain+`,"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::4283"}}}`))
	if err != nil || named.Shape[0].Outer[0] != FromGDA94(corner) {
		t.Errorf("%v %v", named, err)
	}
	told, err := Repairs{FromGDA94: true}.ReadBoundary("a.geojson", []byte(plain+"}"))
	if err != nil || told.Shape[0].Outer[0] != FromGDA94(corner) {
		t.Errorf("%v %v", told, err)
	}
	asIs, err := ReadBoundary("a.geojson", []byte(plain+"}"))
	if err != nil || asIs.Shape[0].Outer[0] != corner {
		t.Errorf("%v %v", asIs, err)
	}
}
