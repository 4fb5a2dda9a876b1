package ground

import (
	"reflect"
	"strings"
	"testing"

	"rowtally/internal/fault"
)

const heightsGPX = `<?xml version="1.0"?><gpx version="1.1"><wpt lat="-36.4" lon="140.1"><ele>21.5</ele></wpt>
<rte><rtept lat="-36.401" lon="140.1"><ele> 21 </ele><name>x</name></rtept></rte>
<trk><trkseg><trkpt lat="-36.401" lon="140.102"><ele>20.5</ele></trkpt><trkpt lat="-36.4" lon="140.102"/></trkseg></trk></gpx>`

func TestHeightsInEveryDress(t *testing.T) {
	want := []Height{{LatLon{-36.4, 140.1}, 21.5}, {LatLon{-36.401, 140.1}, 21}, {LatLon{-36.401, 140.102}, 20.5}}
	for name, text := range map[string]string{
		"typed":      "-36.4, 140.1, 21.5\n-36.401, 140.1, 21\n\n-36.401, 140.102, 20.5\n",
		"blanks":     "-36.4 140.1 21.5\r\n-36.401  140.1 21\r\n-36.401 140.102 20.5",
		"tabs":       "-36.4\t140.1\t21.5\r-36.401\t140.1\t21\r-36.401\t140.102\t20.5",
		"header.csv": "name,Longitude,LAT,Elevation_m\n\"gate, north\",140.1,-36.4,21.5\n,140.1,-36.401,21\nx,140.102,-36.401,20.5\n",
		"semi.csv":   "\ufefflat;lon;z\n-36.4;140.1;21.5\n-36.401;140.1;21\n-36.401;140.102;20.5",
		"a.gpx":      heightsGPX,
	} {
		got, notes, err := ReadHeights(name, []byte(text))
		if err != nil || !reflect.DeepEqual(got, want) || !reflect.DeepEqual(notes, []string{"read 3 heights"}) {
			t.Errorf("%s: %v, %q, %v", name, got, notes, err)
		}
	}
}

func TestHeightsAreRefusedByTheirLine(t *testing.T) {
	for text, says := range map[string]string{
		" \n":                               "empty",
		"-36.4, 140.1":                      "line 1 has no height: it holds 2 figures",
		"-36.4,140.1,21\n-36.4,140.1,high":  `line 2: the height "high" is not a number`,
		"-36.4,140.1,NaN":                   "not a number",
		"lat,lon\n-36.4,140.1":              "no column is called height",
		"north,lon,z\n1,2,3":                "no column is called latitude",
		"-36.4,140.1,21000":                 "height 1: 21000 m is no height on land",
		"140.1,-36.4,21":                    "look swapped",
		"<gpx></gpx>":                       "no height in it",
		"<kml></kml>":                       "not GPX",
		"<gpx><wpt lat='x' lon='1'/></gpx>": "no latitude or longitude",
		"<gpx><wpt lat='1' lon='1'><ele>far</ele></wpt></gpx>": `the height "far" is not a number`,
		"<gpx>" + strings.Repeat("<a>", 200):                   "more than 100 deep",
	} {
		if _, _, err := ReadHeights("", []byte(text)); err == nil || !strings.Contains(err.Error(), says) || fault.KindOf(err) != fault.Refused {
			t.Errorf("%.40q: %v, should say %q", text, err, says)
		}
	}
}

// No bytes make the reader panic, or hand out what is no height on the earth.
func FuzzReadHeights(f *testing.F) {
	for _, text := range []string{heightsGPX, "-36.4, 140.1, 21.5\n", "lat;lon;z\n1;2;3", "\"\n", "<gpx></ele></wpt><wpt lat='1' lon='2'></gpx>"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		heights, notes, err := ReadHeights("", content)
		if err != nil && fault.KindOf(err) != fault.Refused {
			t.Errorf("%v is no refusal", err)
		}
		for _, h := range heights {
			if h.check() != nil || len(notes) == 0 {
				t.Errorf("%v, %q: %v", h, notes, h.check())
			}
		}
	})
}
