package sown

import (
	"encoding/binary"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"rowtally/internal/fault"
)

// asUTF16 writes a text as UTF-16, with a byte order mark.
func asUTF16(text string, order binary.AppendByteOrder) string {
	var out []byte
	for _, unit := range utf16.Encode([]rune("\ufeff" + text)) {
		out = order.AppendUint16(out, unit)
	}
	return string(out)
}

func read(t testing.TB, format, text string) Log {
	t.Helper()
	log, err := Read(format, text)
	if err != nil {
		t.Fatal(err)
	}
	return log
}

func TestCSVColumns(t *testing.T) {
	want := Fix{Line: 2, SpeedMS: 2, HeadingDeg: 91.5, Sowing: Sowing,
		Time: time.Date(2026, 7, 20, 0, 0, 0, 5e8, time.UTC)}
	want.At.Lat, want.At.Lon = -36.4, 140.1
	for name, text := range map[string]string{
		"plain":            "time,lat,lon,speed_ms,heading_deg,sowing\n2026-07-20T09:30:00.5+09:30,-36.4,140.1,2,91.5,1\n",
		"other order":      "Sowing,Longitude,note,LATITUDE,Speed_KMH,Heading_Deg,TIME\r\ntrue,140.1,\"a, \"\"b\"\"\",-36.4,7.2,91.5,2026-07-20t00:00:00.5z\r\n",
		"byte order mark":  "\ufefflat,lng,speed_kn,time,sowing,heading_deg\n-36.4,140.1,3.88768898488121,2026-07-20 00:00:00.500Z,ON,91.5",
		"semicolons":       "lat;lon;time;speed_ms;sowing;heading_deg\n-36.4;140.1;2026-07-20T00:00:00,5;2;on;91.5\n",
		"UTF-16":           asUTF16("lat\tlon\ttime\tspeed_ms\tsowing\theading_deg\n-36.4\t140.1\t2026-07-20T09:30:00.5+09:30[Australia/Adelaide]\t2\tTrue\t91.5\n", binary.LittleEndian),
		"UTF-16, big end":  asUTF16("lat,lon,time,speed_ms,sowing,heading_deg\n-36.4,140.1,2026-07-20T00:00:00.5Z[UTC],2,1,91.5\n", binary.BigEndian),
		"carriage returns": "lat,lon,time,speed_ms,sowing,heading_deg\r-36.4,140.1,2026-07-20T00:00:00.5,2,1,91.5\r",
	} {
		got := read(t, "csv", text).Fixes
		if len(got) != 1 || got[0].At != want.At || !got[0].Time.Equal(want.Time) || got[0].Sowing != want.Sowing ||
			math.Abs(got[0].SpeedMS-want.SpeedMS) > 1e-9 || got[0].HeadingDeg != want.HeadingDeg || got[0].Line != 2 {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

func TestCSVLinesThatGiveNoFix(t *testing.T) {
	log := read(t, "csv", strings.Join([]string{
		"lat,lon,time,sowing",
		"-36.4,140.1,2026-07-20T00:00:00Z,1",
		"",
		"-36.4,abc,2026-07-20T00:00:01Z,1",
		"-36.4,NaN,2026-07-20T00:00:01Z,1",
		",140.1,2026-07-20T00:00:01Z,1",
		"140.1,-36.4,2026-07-20T00:00:01Z,1",
		"0,0,2026-07-20T00:00:01Z,1",
		"-36.4,140.1,yesterday,1",
		"-36.4,140.1,2026-07-20T00:00:01Z,perhaps",
		"-36.4,140.1,\"2026-07-20T00:00:01Z,1",
		"-36.4,140.10001,2026-07-20T00:00:02Z,0",
		"-36.4",
	}, "\n"))
	wantRefused(t, log, 4, 5, 6, 7, 8, 9, 10, 11, 13)
	if len(log.Fixes) != 2 {
		t.Errorf("%d fixes", len(log.Fixes))
	}
	if !strings.Contains(log.Refused[3].Why, "swapped") {
		t.Errorf("line 7: %s", log.Refused[3].Why)
	}
}

func TestLogsThatAreRefusedWhole(t *testing.T) {
	for _, c := range []struct{ format, text, field, says string }{
		{"kml", "", "format", "kml"},
		{"csv", "", "text", "no fix"},
		{"csv", "time,northing,easting\n1,2,3\n", "text", "lat and lon"},
		{"csv", "lat,latitude,lon\n1,2,3\n", "text", "leave one"},
		{"csv", "lat,lon\n140.1,-36.4\n140.2,-36.4\n", "text", "swapped"},
		{"csv", "lat,lon\n5968000,420000\n", "text", "map grid"},
		{"csv", "lat,lon\n-96.4,140.1\n", "text", "beyond 90"},
		{"csv", "lat,lon\n-36.4,-190\n", "text", "beyond 180"},
		{"csv", "lat,lon,speed_ms\n-36.4,140,-1\n", "text", "speed is"},
		{"csv", "lat,lon,heading_deg\n-36.4,140,400\n", "text", "0 to 360"},
		{"csv", "lat,lon\n-36.4," + strings.Repeat("9", 500) + "\n", "text", "longitude is"},
		{"geojson", `{"type":"FeatureCollection","features":{}}`, "text", "no list"},
		{"geojson", `{"type":"LineString","coordinates":7}`, "text", "nested"},
		{"nmea", "hello\n", "text", "no NMEA sentence"},
		{"gpx", `<gpx><wpt lat="-36" lon="140"/></gpx>`, "text", "no track"},
		{"gpx", "not xml", "text", "no fix"},
		{"gpx", `<kml><Document><Placemark><Point><coordinates>140,-36</coordinates></Point></Placemark></Document></kml>`, "text", "is KML"},
		{"geojson", `{"type":"Polygon","coordinates":[[[1,2],[3,4],[5,6],[1,2]]]}`, "text", "Polygon"},
		{"geojson", `{"type":"LineString","coordinates":[[140.1,-36.4],`, "text", "not GeoJSON"},
		{"geojson", `[1,2]`, "text", "GeoJSON object"},
		{"geojson", strings.Repeat(`{"type":"Feature","geometry":`, 50) + "null" + strings.Repeat("}", 50), "text", "deep"},
	} {
		_, err := Read(c.format, c.text)
		message, refused := fault.Fields(err)[c.field]
		if !refused || !strings.Contains(message, c.says) {
			t.Errorf("%s %q: %v", c.format, c.text, err)
		}
	}
}

const gpxHead = `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">`

func TestGPXTracks(t *testing.T) {
	points := `<trk><name>Süd</name><trkseg>` +
		`<trkpt lat="-36.4" lon="140.1"><ele>3</ele><time>2026-07-20T09:30:00+09:30</time></trkpt>` +
		`<trkpt lat="-36.4001" lon="140.1"><time>2026-07-20T00:00:10.25Z</time><extensions><a:TrackPointExtension><a:speed>2.5</a:speed></a:TrackPointExtension></extensions></trkpt>` +
		`</trkseg></trk>`
	latin := `<?xml version="1.0" encoding="ISO-8859-1"?>` + gpxHead + strings.ReplaceAll(points, "ü", "\xfc") + `</gpx>`
	for name, text := range map[string]string{
		"1.1":                  `<?xml version="1.0" encoding="UTF-8"?>` + gpxHead + points + `</gpx>`,
		"1.0":                  `<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0">` + points + `</gpx>`,
		"no namespace at all":  `<gpx>` + points + `</gpx>`,
		"ISO-8859-1":           latin,
		"declared, yet UTF-8":  `<?xml version="1.0" encoding="windows-1252"?>` + gpxHead + points + `</gpx>`,
		"UTF-16":               asUTF16(`<?xml version="1.0" encoding="UTF-16"?>`+gpxHead+points+`</gpx>`, binary.LittleEndian),
		"breaks off at a line": `<gpx>` + points,
	} {
		log := read(t, "gpx", text)
		if len(log.Fixes) != 2 || log.Fixes[1].Time.Sub(log.Fixes[0].Time) != 10250*time.Millisecond || log.Fixes[1].SpeedMS != 2.5 {
			t.Errorf("%s: %+v", name, log)
		}
	}
}

func TestGPXOddities(t *testing.T) {
	log := read(t, "gpx", `<gpx>
<metadata><time>1999-01-01T00:00:00Z</time></metadata>
<trk><trkseg>
<trkpt lat="-36.4" lon="140.1"/>
<trkpt lat="x" lon="140.1"/>
<trkpt lat="-36.4001" lon="140.1"><time>2026-07-20T00:00:00</time></trkpt>
</trkseg><trkseg>
<trkpt lat="-36.4002" lon="140.1"><time>noon</time></trkpt>
<trkpt lat="-36.4002" lon="140.1"></trkpt>
</trkseg></trk>
<trk><trkseg><trkpt lat="-36.4003" lon="140.1"></trkpt></trkseg></trk>
<trk><trkseg><trkpt lat="-36.4003" lo`)
	wantRefused(t, log, 5, 8, 12)
	var links []Link
	for _, f := range log.Fixes {
		links = append(links, f.Link)
	}
	if want := []Link{Apart, Joined, Lost, Apart}; len(links) != 4 || [4]Link(links) != [4]Link(want) {
		t.Errorf("links %v, want %v", links, want)
	}
	if len(log.Notes) != 1 || !strings.Contains(log.Notes[0], "UTC") {
		t.Errorf("notes %q", log.Notes)
	}
}

func TestGeoJSONLines(t *testing.T) {
	line := `{"coordinates":[[140.1,-36.4],[140.1,-36.401,12.5],["a",1],[140.1,
 -136.4],[140.1]],"type":"LineString"}`
	for name, c := range map[string]struct {
		text  string
		fixes int
		apart int
	}{
		"alone":      {line, 2, 1},
		"feature":    {`{"type":"Feature","properties":{"coordinates":[[1,2]],"type":"LineString"},"geometry":` + line + `}`, 2, 1},
		"collection": {`{"type":"FeatureCollection","features":[{"type":"Feature","geometry":null},{"type":"Feature","geometry":` + line + `},` + line + `]}`, 4, 2},
		"multi":      {`{"type":"MultiLineString","coordinates":[[[140.1,-36.4],[140.1,-36.41]],[[140.1,-36.42],[140.1,-36.43]]]}`, 4, 2},
	} {
		log := read(t, "geojson", c.text)
		apart := 0
		for _, f := range log.Fixes {
			if f.Link == Apart {
				apart++
			}
		}
		if len(log.Fixes) != c.fixes || apart != c.apart {
			t.Errorf("%s: %d fixes on %d lines: %v", name, len(log.Fixes), apart, log.Refused)
		}
	}
	wantRefused(t, read(t, "geojson", line), 1, 1, 2)
	wantRefused(t, read(t, "geojson", "\n\n{\"type\":\"LineString\",\n\"coordinates\":[\n[140.1,-36.4],\n[\"a\",1],\n[140.1,-36.4]]}"), 6)
}
