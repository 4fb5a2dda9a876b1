package ground

import (
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"rowtally/internal/fault"
)

const cornersGPX = `<?xml version="1.0"?><gpx version="1.1"><wpt lat="-36" lon="140"/><trk><trkseg>
<trkpt lat="-36.01" lon="140"/><trkpt lat="-36.01" lon="140.01"/><trkpt lat="-36" lon="140.01"/><trkpt lat="-36" lon="140"/><trkpt lat="-36.01" lon="140"/>
</trkseg></trk></gpx>`

// plainSquare is wanted without its hole.
var plainSquare = Shape{{Outer: wanted[0].Outer}}

func TestPlainRingsInEveryDress(t *testing.T) {
	for name, text := range map[string]string{
		"a.gpx":    cornersGPX,
		"rte.gpx":  strings.NewReplacer("trkseg", "x", "trkpt", "rtept", "trk", "rte").Replace(cornersGPX),
		"wide.gpx": wide(cornersGPX, binary.LittleEndian),
		"a.csv":    "-36.01,140\n-36.01,140.01\n-36,140.01\n-36,140\n",
		"head.csv": "corner;LONGITUDE;Latitude\nA;140;-36.01\nB;140.01;-36.01\nC;140.01;-36\nD;140;-36\n",
		"shut.csv": "-36.01,140\n-36.01,140.01\n-36,140.01\n-36,140\n-36.01,140",
		"typed":    "-36.01 140\n\n-36.01 140.01\n-36 140.01\n-36 140",
	} {
		got, err := ReadBoundary(name, []byte(text))
		if err != nil || !reflect.DeepEqual(got.Shape, plainSquare) {
			t.Errorf("%s: %v, %v", name, got.Shape, err)
		}
	}
	got, err := ReadBoundary("dam.kmz", zipOf(t, "files/x.png", "png", "doc.kml", damKML))
	if err != nil || !reflect.DeepEqual(got.Shape, wanted) {
		t.Errorf("KMZ: %v, %v", got.Shape, err)
	}
}

func TestPlainRingsThatAreRefused(t *testing.T) {
	for _, c := range []struct{ name, text, says string }{
		{"a.gpx", "<gpx><wpt lat='-36' lon='140'/></gpx>", "1 point and no track or route"},
		{"a.gpx", "<kml></kml>", "not GPX"},
		{"a.gpx", strings.Replace(cornersGPX, `lon="140.01"`, `lon="east"`, 1), "no latitude or longitude"},
		{"a.csv", "-36,140\n-36.1,140", "has 2 corners"},
		{"a.csv", "lat,height\n1,2\n", "no column is called longitude"},
		{"a.csv", "-36,140\n-36.1,far\n-36,141", `line 2: the longitude "far" is not a number`},
		{"a.csv", "-36,140\n-36.1\n-36,141", "line 2 has no longitude"},
		{"a.csv", "312000,5990000\n313000,5990000\n313000,5991000", "metres of a map grid"},
		{"a.kmz", string(zipOf(t, "x.txt", "x")), "no KML file"},
		{"a.kmz", "PK\x03\x04", "cannot be opened"},
		{"a.kmz", damKML, "does not hold KMZ inside"},
	} {
		_, err := ReadBoundary(c.name, []byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.says) || fault.KindOf(err) != fault.Refused {
			t.Errorf("%s %.60q: %v, should say %q", c.name, c.text, err, c.says)
		}
	}
}

// A repair is offered where it would help, done only when asked for, and told.
func TestRepairsAreOfferedAndNeverSilent(t *testing.T) {
	open := `{"type":"Polygon","coordinates":[[[140,-36.01],[140.01,-36.01],[140.01,-36],[140,-36]]]}`
	swapped := `{"type":"Polygon","coordinates":[[[-36.01,140],[-36.01,140.01],[-36,140.01],[-36,140],[-36.01,140]]]}`
	for _, c := range []struct {
		name, text, offer, note string
		mend                    Repairs
	}{
		{"open.json", open, CloseForMe, "closed 1 open ring as asked", Repairs{CloseRings: true}},
		{"swapped.json", swapped, SwapForMe, "swapped latitude and longitude as asked", Repairs{SwapAxes: true}},
		{"open.gpx", strings.Replace(cornersGPX, `<trkpt lat="-36" lon="140"/><trkpt lat="-36.01" lon="140"/>`, `<trkpt lat="-36" lon="140"/>`, 1), CloseForMe, "closed 1 open ring", Repairs{CloseRings: true}},
		{"swapped.csv", "140,-36.01\n140.01,-36.01\n140.01,-36\n140,-36", SwapForMe, "swapped latitude", Repairs{SwapAxes: true}},
		{"open.kml", "<kml><Polygon><outerBoundaryIs><coordinates>140,-36.01 140.01,-36.01 140.01,-36 140,-36</coordinates></outerBoundaryIs></Polygon></kml>", CloseForMe, "closed 1 open ring", Repairs{CloseRings: true}},
		{"swapped.kml", "<kml><Polygon><outerBoundaryIs><coordinates>-36.01,140 -36.01,140.01 -36,140.01 -36,140 -36.01,140</coordinates></outerBoundaryIs></Polygon></kml>", SwapForMe, "swapped latitude", Repairs{SwapAxes: true}},
	} {
		_, err := ReadBoundary(c.name, []byte(c.text))
		if err == nil || !strings.Contains(err.Error(), "or tick “"+c.offer+"”") {
			t.Errorf("%s: %v offers no %q", c.name, err, c.offer)
		}
		got, err := c.mend.ReadBoundary(c.name, []byte(c.text))
		if err != nil || !strings.Contains(strings.Join(got.Notes, "; "), c.note) || math.Abs(WGS84.Extent(got.Shape).AreaM2-WGS84.Extent(plainSquare).AreaM2) > 1e-6 {
			t.Errorf("%s: %v, %q, %v", c.name, got.Shape, got.Notes, err)
		}
	}
	both := Repairs{CloseRings: true, SwapAxes: true}
	if _, err := both.ReadBoundary("a.json", []byte(`{"type":"Polygon","coordinates":`+squareWithDam+`}`)); err == nil {
		t.Error("a sound file whose axes are swapped on a tick is read at the other end of the earth")
	}
	if _, err := ReadBoundary("a.json", []byte(`{"type":"Polygon","coordinates":[[[140,-36]]]}`)); err == nil || strings.Contains(err.Error(), "tick") {
		t.Errorf("%v offers what would not help", err)
	}
}

// round writes the sides of a shape as bearings and distances.
func round(ring GeoRing, sides int) string {
	var text strings.Builder
	for i := range sides {
		line := WGS84.Between(ring[i], ring[(i+1)%len(ring)])
		fmt.Fprintf(&text, "%.6f, %.3f\n", line.AzimuthDeg, line.DistanceM)
	}
	return text.String()
}

func TestARoundOfBearingsAndDistances(t *testing.T) {
	ring := wanted[0].Outer
	got, err := Repairs{}.ReadRound(ring[0], round(ring, 4))
	if err != nil || len(got.Shape[0].Outer) != 4 || !strings.Contains(strings.Join(got.Notes, "; "), "4 sides of 4") || !strings.Contains(strings.Join(got.Notes, "; "), "missing the start by 0.0 m") {
		t.Fatalf("%v, %q, %v", got.Shape, got.Notes, err)
	}
	for i, corner := range got.Shape[0].Outer {
		if off := WGS84.Between(corner, ring[i]).DistanceM; off > 0.005 {
			t.Errorf("corner %d is %.4f m off", i+1, off)
		}
	}
	if _, err := (Repairs{}).ReadRound(ring[0], round(ring, 3)); err == nil || !strings.Contains(err.Error(), "or tick “"+CloseForMe+"”") {
		t.Error(err)
	}
	got, err = Repairs{CloseRings: true}.ReadRound(ring[0], round(ring, 3))
	if err != nil || len(got.Shape[0].Outer) != 4 || !strings.Contains(got.Notes[1], "closed as asked") {
		t.Errorf("%v, %q, %v", got.Shape, got.Notes, err)
	}
	for says, sides := range map[string]string{
		"needs at least 3":                   "0 100\n90 100",
		"line 1: the bearing is 400":         "400, 100",
		"line 2: the distance is -5 m":       "0, 100\n90, -5",
		"line 1 has no distance":             "0",
		`line 1: the bearing "N" is not a n`: "N, 100",
		"crosses itself":                     "90,1000\n225,1000\n0,1000\n135,1000\n",
	} {
		if _, err := (Repairs{CloseRings: true}).ReadRound(ring[0], sides); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, should say %q", sides, err, says)
		}
	}
	if _, err := (Repairs{}).ReadRound(LatLon{140, -36}, "0,1"); err == nil || !strings.Contains(err.Error(), "the start") {
		t.Error(err)
	}
}

// No corners, tracks or rounds make the readers panic or hand out what Check refuses.
func FuzzPlainRings(f *testing.F) {
	f.Add("a.gpx", []byte(cornersGPX), true, false)
	f.Add("a.csv", []byte("lat,lon\n-36,140\n-36.1,140\n-36,141\n"), false, true)
	f.Add("a.txt", []byte("-36 140\n-36.1 140\n-36 141"), false, false)
	f.Add("a.kmz", zipOf(f, "doc.kml", damKML), true, true)
	f.Add("round", []byte("0, 100\n90, 100\n180, 100\n270, 100"), true, false)
	f.Fuzz(func(t *testing.T, name string, content []byte, closes, swaps bool) {
		mend := Repairs{CloseRings: closes, SwapAxes: swaps}
		b, err := mend.ReadBoundary(name, content)
		if name == "round" {
			b, err = mend.ReadRound(LatLon{-36, 140}, string(content))
		}
		if err != nil && fault.KindOf(err) != fault.Refused {
			t.Errorf("%v is no refusal", err)
		}
		if err == nil && (b.Shape.Check() != nil || len(b.Notes) == 0) {
			t.Errorf("%v: %v", b, b.Shape.Check())
		}
	})
}
