package ground

import (
	"encoding/binary"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"unicode/utf16"

	"rowtally/internal/fault"
)

const squareWithDam = `[[[140,-36.01],[140.01,-36.01],[140.01,-36],[140,-36],[140,-36.01]],
	[[140.004,-36.004],[140.006,-36.004],[140.005,-36.006],[140.004,-36.004]]]`

const damKML = `<?xml version="1.0" encoding="UTF-8"?>
<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2"><Document>
<Placemark><name>Büro &amp; dam</name><Polygon>
 <outerBoundaryIs><LinearRing><coordinates>140,-36.01,0 140.01,-36.01,0
  140.01,-36,0 140,-36,0 140,-36.01,0</coordinates></LinearRing></outerBoundaryIs>
 <innerBoundaryIs><LinearRing><coordinates>140.004,-36.004 140.006,-36.004 140.005,-36.006 140.004,-36.004</coordinates></LinearRing></innerBoundaryIs>
</Polygon></Placemark></Document></kml>`

// wanted is the shape that squareWithDam and damKML describe.
var wanted = Shape{{
	Outer: GeoRing{{-36.01, 140}, {-36.01, 140.01}, {-36, 140.01}, {-36, 140}},
	Holes: []GeoRing{{{-36.004, 140.004}, {-36.004, 140.006}, {-36.006, 140.005}}},
}}

// wide writes a text as UTF-16 with its mark.
func wide(text string, order binary.AppendByteOrder) string {
	out := order.AppendUint16(nil, 0xFEFF)
	for _, unit := range utf16.Encode([]rune(text)) {
		out = order.AppendUint16(out, unit)
	}
	return string(out)
}

func TestReadBoundaryInEveryDress(t *testing.T) {
	polygon := `{"type":"Polygon","coordinates":` + squareWithDam + `}`
	for name, text := range map[string]string{
		"a.geojson":       polygon,
		"FEATURE.JSON":    `{"type":"Feature","properties":{"a":[1]},"geometry":` + polygon + `}`,
		"multi.json":      `{"type":"MultiPolygon","coordinates":[` + squareWithDam + `]}`,
		"list.json":       `{"type":"FeatureCollection","features":[{"type":"Feature","geometry":null},{"type":"Feature","geometry":` + polygon + `}]}`,
		"geometries.json": `{"type":"GeometryCollection","geometries":[` + polygon + `]}`,
		"mark.json":       "\uFEFF" + polygon,
		"heights.json":    strings.ReplaceAll(polygon, "-36]", "-36,12.5,99]"),
		"wide.json":       wide(polygon, binary.LittleEndian),
		"":                polygon,
		"a.kml":           damKML,
		"B.KML":           wide(strings.Replace(damKML, "UTF-8", "UTF-16", 1), binary.BigEndian),
		"old.kml":         strings.NewReplacer("2.2", "2.0", `encoding="UTF-8"`, `encoding="ISO-8859-1"`, "ü", "\xfc").Replace(damKML),
		"bare.kml":        "<kml><Placemark>" + damKML[strings.Index(damKML, "<Polygon>"):strings.Index(damKML, "</Placemark>")] + "</Placemark></kml>",
		"prefixed.kml":    strings.NewReplacer("</", "</k:", "<P", "<k:P", "<o", "<k:o", "<i", "<k:i", "<L", "<k:L", "<c", "<k:c", "<D", "<k:D", "<kml", "<k:kml", "<n", "<k:n").Replace(damKML),
		"blanks.kml":      strings.ReplaceAll(damKML, ",", " ,  "),
		"dam":             damKML,
	} {
		t.Run(name, func(t *testing.T) {
			got, err := ReadBoundary(name, []byte(text))
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got.Shape, wanted) || !reflect.DeepEqual(got.Notes, []string{"read 1 polygon with 1 hole, 7 corners"}) {
				t.Errorf("%v\n%q", got.Shape, got.Notes)
			}
		})
	}
}

func TestReadBoundaryNotes(t *testing.T) {
	for note, text := range map[string]string{
		"left out 1 line and 2 points, only polygons are boundaries": `{"type":"GeometryCollection","geometries":[{"type":"MultiPoint","coordinates":[[140,-36],[141,-36]]},{"type":"LineString","coordinates":[[140,-36],[141,-36]]},{"type":"Polygon","coordinates":` + squareWithDam + `}]}`,
		"left out 1 corner that repeated the one before":             `{"type":"Polygon","coordinates":[[[140,-36],[140.01,-36],[140.01,-36],[140,-36.01],[140,-36]]]}`,
		"holds only 0.0005 ha":                                       `{"type":"Polygon","coordinates":[[[140,-36],[140.00003,-36],[140,-36.00003],[140,-36]]]}`,
		"km across, check":                                           `{"type":"Polygon","coordinates":[[[140,-36],[141,-36],[140,-36.1],[140,-36]]]}`,
		"names GDA94":                                                `{"type":"Polygon","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::4283"}},"coordinates":` + squareWithDam + `}`,
		"read 2 polygons, 6 corners":                                 `{"type":"MultiPolygon","coordinates":[[[[140,-36],[140.01,-36],[140,-36.01],[140,-36]]],[[[140.1,-36],[140.11,-36],[140.1,-36.01],[140.1,-36]]]]}`,
		"names GDA2020; it is read as ":                              `{"type":"Polygon","crs":{"type":"name","properties":{"name":"EPSG:7844"}},"coordinates":` + squareWithDam + `}`,
	} {
		got, err := ReadBoundary("a.json", []byte(text))
		if err != nil || !strings.Contains(strings.Join(got.Notes, "\n"), note) {
			t.Errorf("%q, %v, should note %q", got.Notes, err, note)
		}
	}
}

func TestReadBoundaryRefusals(t *testing.T) {
	ring := func(corners string) string { return `{"type":"Polygon","coordinates":[[` + corners + `]]}` }
	kml := func(coordinates string) string {
		return "<kml><Polygon><outerBoundaryIs><coordinates>" + coordinates + "</coordinates></outerBoundaryIs></Polygon></kml>"
	}
	for _, c := range []struct{ name, text, says string }{
		{"a.json", " \n ", "the file is empty"},
		{"a.json", strings.Repeat(" ", MostBytes) + "{}", "at most 10 MB"},
		{"a.docx", "PK\x03\x04", "is no boundary file that can be read, give one of these: GeoJSON (.geojson, .json), KML (.kml)"},
		{"a.kml", "PK\x03\x04", "does not hold KML inside"},
		{"a.json", damKML, "does not hold GeoJSON inside"},
		{"", "hello", "no boundary file"},
		{"a.json", `{"type":"Polygon","coordinates":[[[140,-36],[141`, "not JSON all through"},
		{"a.json", `{"type":"Polygon","coordinates":[140,-36]}`, "not nested"},
		{"a.json", `{"type":"Polygon"}`, "not nested"},
		{"a.json", `{"type":"Polygon","coordinates":null}`, "no outside"},
		{"a.json", `{"type":"Polygon","coordinates":[]}`, "no outside"},
		{"a.json", `{"coordinates":[]}`, "has no type"},
		{"a.json", `{"type":"Circle"}`, `"Circle" is not a type of GeoJSON`},
		{"a.json", `{"type":5}`, "not a GeoJSON object"},
		{"a.json", `{"type":"FeatureCollection","features":[]}`, "no polygon in the file"},
		{"a.json", `{"type":"LineString","coordinates":[[140,-36],[141,-36]]}`, "the file holds 1 line and no polygon"},
		{"a.json", strings.Repeat(`{"type":"Feature","geometry":`, 12) + "null" + strings.Repeat("}", 12), "more than 8 deep"},
		{"a.json", ring(`[140,-36],[140.1,-36],[140.1,-36.1]`), "ring 1: the ring is open: the last corner must repeat the first"},
		{"a.json", ring(`[140,-36],[140.1,-36],[140,-36]`), "has 2 corners"},
		{"a.json", ring(`[140,-36]`), "has 1 corners"},
		{"a.json", ring(`[140],[140.1,-36],[140.1,-36.1],[140]`), "corner 1: a position has 1 numbers"},
		{"a.json", ring(`[-36,140],[-36,140.1],[-36.1,140.1],[-36,140]`), "look swapped"},
		{"a.json", ring(`[312000,5990000],[313000,5990000],[313000,5991000],[312000,5990000]`), "metres of a map grid"},
		{"a.json", ring(`[140,-36],[140.1,-36.1],[140.1,-36],[140,-36.1],[140,-36]`), "crosses itself near corners 1 and 3 (lat -36.00000, lon 140.00000)"},
		{"a.json", `{"type":"Polygon","crs":{"properties":{"name":"urn:ogc:def:crs:EPSG::28354"}},"coordinates":[]}`, "EPSG::28354, export it as WGS84"},
		{"a.kml", "<gpx></gpx>", "XML but not KML"},
		{"a.kml", "<kml><Point><coordinates>140,-36</coordinates></Point></kml>", "1 point and no polygon"},
		{"a.kml", "<kml><Polygon></Polygon></kml>", "polygon 1: it has no outside"},
		{"a.kml", "<kml><Polygon", "not XML all through"},
		{"a.kml", "<kml>" + strings.Repeat("<a>", 200), "more than 100 deep"},
		{"a.kml", kml("140,-36 141,-36 141,-36.1"), "polygon 1: ring 1: the ring is open"},
		{"a.kml", kml("140 -36"), "with a comma between them"},
		{"a.kml", kml("140,south 141,-36"), "in degrees"},
		{"a.kml", kml("140,NaN 141,-36"), "not a number"},
		{"a.kml", kml(""), "has 0 corners"},
		{"a.kml", "<kml><Polygon><innerBoundaryIs><coordinates>140,-36 141,-36 141,-37 140,-36</coordinates></innerBoundaryIs></Polygon></kml>", "hole comes before the outside"},
	} {
		_, err := ReadBoundary(c.name, []byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.says) || fault.KindOf(err) != fault.Refused {
			t.Errorf("%s %.60q: %v, should say %q", c.name, c.text, err, c.says)
		}
	}
}

func TestReadBoundaryOfManyCorners(t *testing.T) {
	var text strings.Builder
	text.WriteString(`{"type":"Polygon","coordinates":[[`)
	for i := range MostCorners + 1 {
		fmt.Fprintf(&text, "[%.9f,%.9f],", 140+float64(i)*1e-7, -36+float64(i)*float64(i)*1e-13)
	}
	text.WriteString("[140,-36]]]}")
	if _, err := ReadBoundary("a.json", []byte(text.String())); err == nil || !strings.Contains(err.Error(), "at most 100000") {
		t.Error(err)
	}
}

// No bytes make a reader panic or hand out a shape that Check refuses.
func FuzzReadBoundary(f *testing.F) {
	f.Add("a.json", []byte(`{"type":"Polygon","coordinates":`+squareWithDam+`}`))
	f.Add("a.json", []byte(`{"type":"FeatureCollection","features":[{"type":"Feature","geometry":{"type":"MultiPolygon","coordinates":[[[[1e308,0],[0,1],[1,1],[1e308,0]]]]}}]}`))
	f.Add("a.kml", []byte(damKML))
	f.Add("a.kml", []byte(`<kml></Polygon></coordinates><coordinates>1,2</kml><Polygon><coordinates>,</coordinates>`))
	f.Add("", []byte("\xff\xfe<\x00k\x00"))
	f.Add("a.kml", []byte(latin(trapKML)))
	f.Add("a.gpx", []byte(markless(trapGPX)))
	f.Add("a.json", []byte(`{"type":"MultiPolygon","coordinates":[`+squareWithDam+`,`+squareWithDam+`]}`))
	f.Fuzz(func(t *testing.T, name string, content []byte) {
		b, err := ReadBoundary(name, content)
		if err != nil && fault.KindOf(err) != fault.Refused {
			t.Errorf("%v is no refusal", err)
		}
		if err == nil && (b.Shape.Check() != nil || len(b.Notes) == 0) {
			t.Errorf("%v: %v", b, b.Shape.Check())
		}
	})
}
