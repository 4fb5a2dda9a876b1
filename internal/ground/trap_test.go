package ground

import (
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
)

// latin turns a text into ISO-8859-1.
func latin(text string) string {
	var out []byte
	for _, letter := range text {
		out = append(out, byte(letter))
	}
	return string(out)
}

// wide without its byte order mark.
func markless(text string) string { return wide(text, binary.BigEndian)[2:] }

const (
	trapKML = `<Placemark><name>Süd</name><Polygon><outerBoundaryIs><LinearRing><coordinates>140,-36.01 140.01,-36.01 140.01,-36 140,-36 140,-36.01</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>`
	trapGPX = `<gpx><trk><name>Süd</name><trkseg><trkpt lat="-36.01" lon="140"/><trkpt lat="-36.01" lon="140.01"/><trkpt lat="-36" lon="140.01"/><trkpt lat="-36" lon="140"/><trkpt lat="-36.01" lon="140"/></trkseg></trk></gpx>`
)

// One square in every odd dress in which files of places come.
func TestBoundaryTraps(t *testing.T) {
	coordinates := "140,-36.01 140.01,-36.01 140.01,-36 140,-36 140,-36.01"
	for name, c := range map[string]struct{ file, text string }{
		"no XML declaration, no namespace":   {"a.kml", "<kml>" + trapKML + "</kml>"},
		"no root element at all":             {"a.kml", trapKML},
		"every element with a prefix":        {"a.kml", strings.NewReplacer("</", "</k:", "<", "<k:").Replace("<kml>" + trapKML + "</kml>")},
		"ISO-8859-1 as declared":             {"a.kml", latin(`<?xml version="1.0" encoding="ISO-8859-1"?><kml>` + trapKML + "</kml>")},
		"ISO-8859-1, declared as UTF-8":      {"a.kml", latin(`<?xml version="1.0" encoding="UTF-8"?><kml>` + trapKML + "</kml>")},
		"ISO-8859-1, not declared":           {"a.gpx", latin(trapGPX)},
		"UTF-16 with its mark":               {"a.kml", wide(`<?xml version="1.0" encoding="UTF-16"?><kml>`+trapKML+"</kml>", binary.LittleEndian)},
		"UTF-16 without a mark":              {"a.gpx", markless(`<?xml version="1.0" encoding="UTF-16"?>` + trapGPX)},
		"UTF-16 GeoJSON":                     {"a.geojson", wide(`{"type":"Polygon","coordinates":[[[140,-36.01],[140.01,-36.01],[140.01,-36],[140,-36],[140,-36.01]]]}`, binary.BigEndian)},
		"a mark before GeoJSON":              {"a.json", "\ufeff" + `{"type":"Polygon","coordinates":[[[140,-36.01],[140.01,-36.01],[140.01,-36],[140,-36],[140,-36.01]]]}`},
		"a MultiGeometry":                    {"a.kml", "<kml>" + strings.NewReplacer("<Polygon>", "<MultiGeometry><Polygon>", "</Polygon>", "</Polygon></MultiGeometry>").Replace(trapKML) + "</kml>"},
		"lines and tabs between coordinates": {"a.kml", "<kml>" + strings.Replace(trapKML, coordinates, "\n\t"+strings.ReplaceAll(coordinates, " ", "\r\n\t")+"\n", 1) + "</kml>"},
		"heights, and blanks after commas":   {"a.kml", "<kml>" + strings.Replace(trapKML, coordinates, "140, -36.01, 12 140.01,-36.01,12 140.01 ,-36,12 140,-36,0 140,-36.01,12", 1) + "</kml>"},
		"a remark among coordinates":         {"a.kml", "<kml>" + strings.Replace(trapKML, " 140,-36 ", " <!-- the gate --> 140,-36 ", 1) + "</kml>"},
		"coordinates as character data":      {"a.kml", "<kml>" + strings.Replace(trapKML, coordinates, "<![CDATA["+coordinates+"]]>", 1) + "</kml>"},
		"an entity nobody declared":          {"a.kml", "<kml>" + strings.Replace(trapKML, "Süd", "S&uuml;d", 1) + "</kml>"},
		"a document type":                    {"a.gpx", "<?xml version='1.0'?><!DOCTYPE gpx [<!ENTITY x \"y\">]>" + trapGPX},
		"KMZ with its text in UTF-16":        {"a.kmz", string(zipOf(t, "a.kml", wide("<kml>"+trapKML+"</kml>", binary.LittleEndian)))},
		"GPX 1.0 with its namespace":         {"a.gpx", strings.Replace(trapGPX, "<gpx>", `<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0">`, 1)},
		"attributes in single quotes":        {"a.gpx", strings.ReplaceAll(trapGPX, `"`, "'")},
		"corners with a carriage return":     {"a.csv", "-36.01,140\r-36.01,140.01\r-36,140.01\r-36,140\r"},
		"corners in quotes":                  {"a.csv", "lat,lon\n\"-36.01\",\"140\"\n\"-36.01\",\"140.01\"\n\"-36\",\"140.01\"\n\"-36\",\"140\"\n"},
	} {
		got, err := ReadBoundary(c.file, []byte(c.text))
		if err != nil || !reflect.DeepEqual(got.Shape, plainSquare) {
			t.Errorf("%s: %v, %v", name, got.Shape, err)
		}
	}
}

// A track of KML, in its old dress and its new one, is a line; where reception was lost its
// places are empty.
func TestTracksOfKML(t *testing.T) {
	old := `<kml xmlns:gx="x"><Placemark><gx:MultiTrack><gx:Track><when>2026-07-20T00:00:00Z</when><gx:coord/><gx:coord>140 -36.01 3</gx:coord><gx:coord>140.01	-36.01 3</gx:coord><gx:coord> 140.01
-36</gx:coord><gx:coord/></gx:Track><gx:Track><gx:coord>140.002 -36.005 0</gx:coord></gx:Track><gx:Track/></gx:MultiTrack></Placemark></kml>`
	for name, text := range map[string]string{"2.2": old, "2.3": strings.ReplaceAll(old, "gx:", "")} {
		got, err := Repairs{}.ReadNoGo("a.kml", []byte(text), ListsAreLines)
		if want := (Geometry{Lines: [][]LatLon{fence}, Points: []LatLon{bore}}); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	for text, says := range map[string]string{
		"<kml><Track><coord>140 -36</coord><coord>140</coord></Track></kml>":        "line 1: place 2: corner 1",
		"<kml><Track><coord>140 -36</coord><coord>140.1 -136</coord></Track></kml>": "line 1: place 2: corner 1",
		"<kml><coord>140 -36</coord></kml>":                                         "holds no area, line or point",
	} {
		if _, err := (Repairs{}).ReadNoGo("a.kml", []byte(text), ListsAreLines); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, should say %q", text, err, says)
		}
	}
	if _, err := ReadBoundary("a.kml", []byte(old)); err == nil || !strings.Contains(err.Error(), "holds 1 line and 1 point and no polygon") {
		t.Errorf("as a boundary: %v", err)
	}
}

// prjWeb is the .prj of web maps as common programs write it.
const prjWeb = `PROJCS["WGS_1984_Web_Mercator_Auxiliary_Sphere",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Mercator_Auxiliary_Sphere"],PARAMETER["False_Easting",0.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",0.0],PARAMETER["Standard_Parallel_1",0.0],PARAMETER["Auxiliary_Sphere_Type",0.0],UNIT["Meter",1.0]]`

// The metres of web maps against PROJ, over the whole of the country and beyond.
func TestWebMapsAgainstPROJ(t *testing.T) {
	system, err := readPRJ(prjWeb)
	if err != nil || !strings.Contains(system.note, "web maps") {
		t.Fatalf("%+v, %v", system, err)
	}
	var figures []Point
	var lines []string
	for east := 12_000_000.0; east < 17_200_000; east += 433_333.3 {
		for north := -5_600_000.0; north < 1_000_000; north += 299_999.9 {
			figures = append(figures, Point{east, north})
			lines = append(lines, fmt.Sprintf("%.3f %.3f", east, north))
		}
	}
	for i, want := range peer(t, lines, "cs2cs", "-f", "%.12f", "EPSG:3857", "+to", "+proj=longlat +datum=WGS84 +type=crs") {
		lat, lon := system.toEarth(math.Round(figures[i].E*1000)/1000, math.Round(figures[i].N*1000)/1000)
		if math.Abs(lat-want[1]) > 2e-12 || math.Abs(lon-want[0]) > 2e-12 {
			t.Errorf("%v: %.12f %.12f, peer %v", figures[i], lat, lon, want)
		}
	}
}

// Each .prj is told for what it is, and what is not known is refused by its name.
func TestPRJTraps(t *testing.T) {
	for text, want := range map[string]string{
		prjWGS84: "WGS84 degrees",
		strings.NewReplacer(`"GCS_WGS_1984"`, `"WGS 84"`, "D_WGS_1984", "WGS_1984").Replace(prjWGS84): "WGS84 degrees",
		strings.NewReplacer("GCS_WGS_1984", "GDA2020", "D_WGS_1984", "GDA2020").Replace(prjWGS84):     "GDA2020 degrees",
		strings.NewReplacer("GCS_WGS_1984", "GDA94", "D_WGS_1984", "D_GDA_1994").Replace(prjWGS84):    "GDA94 degrees",
		prjMGA55: "MGA94 zone 55",
		mga2020:  "MGA2020 zone 55",
		strings.ReplaceAll(prjMGA55, ",", ",\r\n  "):                                     "MGA94 zone 55",
		strings.NewReplacer("GDA_1994", "WGS_1984", "10000000.0", "0").Replace(prjMGA55): "UTM zone 55 north (WGS84)",
		strings.Replace(prjMGA55, "147.0", "147.5", 1):                                   "refused: GDA_1994_MGA_Zone_55",
		strings.Replace(prjMGA55, "0.9996", "1.0", 1):                                    "refused: GDA_1994_MGA_Zone_55",
		strings.Replace(prjMGA55, `"Meter",1.0`, `"Foot_US",0.3048006096`, 1):            "refused: GDA_1994_MGA_Zone_55",
		strings.Replace(prjWeb, `"Central_Meridian",0.0`, `"Central_Meridian",150.0`, 1): "refused: WGS_1984_Web_Mercator_Auxiliary_Sphere",
		strings.Replace(prjWeb, "D_WGS_1984", "D_GDA_1994", 1):                           "refused: WGS_1984_Web_Mercator_Auxiliary_Sphere",
		prjWeb:   "web maps",
		prjOther: "refused: British_National_Grid",
		strings.Replace(prjWGS84, "0.0174532925199433", "0.015707963267949", 1): "refused: GCS_WGS_1984",
		strings.Replace(prjWGS84, `"Greenwich",0.0`, `"Paris",2.337229`, 1):     "refused: GCS_WGS_1984",
		"EPSG:4326": "refused: not well-known text",
		"":          "refused: not well-known text",
	} {
		system, err := readPRJ(text)
		got := string(system.datum) + " degrees"
		switch {
		case err != nil:
			got = "refused: " + err.Error()
		case system.webMap:
			got = "web maps"
		case system.zone != nil:
			got = system.zone.String()
		}
		plain := strings.NewReplacer("the .prj names ", "", "the .prj is ", "").Replace(got)
		if !strings.HasPrefix(plain, want) {
			t.Errorf("%.60s…: %s, want %s", text, got, want)
		}
	}
}

func TestShapefileTraps(t *testing.T) {
	whole := shpOf(shpPolygon, dammed...)
	told := func(bytes int) string {
		return whole[:24] + string(binary.BigEndian.AppendUint32(nil, uint32(bytes/2))) + whole[28:]
	}
	for name, shp := range map[string]string{
		"other bytes behind the end":  told(len(whole)) + "12345",
		"the head tells no end":       whole,
		"the end told lies beyond":    told(len(whole) + 100),
		"the end told lies within":    told(len(whole) - 40),
		"an empty shape before":       whole[:shpHeader] + "\x00\x00\x00\x01\x00\x00\x00\x02\x00\x00\x00\x00" + whole[shpHeader:],
		"the inner ring first":        shpOf(shpPolygon, dammed[1], dammed[0]),
		"both rings the same way":     shpOf(shpPolygon, dammed[0], reversed(dammed[1])),
		"both rings the other way":    shpOf(shpPolygon, reversed(dammed[0]), dammed[1]),
		"with heights and measures":   shpOf(shpPolygon+10, dammed...),
		"the rings as two polygons":   whole[:shpHeader] + shpOf(shpPolygon, dammed[0])[shpHeader:] + shpOf(shpPolygon, dammed[1])[shpHeader:],
		"a folder of another machine": whole,
	} {
		got, err := ReadBoundary("a.zip", zipOf(t, `farm\a.shp`, shp, `farm\a.prj`, prjWGS84, `farm\a.dbf`, "\x03", `farm\a.cpg`, "ISO-8859-1"))
		if err != nil || len(got.Shape) != 1 || len(got.Shape[0].Holes) != 1 {
			t.Errorf("%s: %v, %v", name, got.Shape, err)
		}
	}
	for name, shp := range map[string]string{"cut within a ring": whole[:len(whole)-20], "cut within a head": whole[:shpHeader+6], "told longer than it is": whole[:len(whole)-8] + "12345"} {
		if _, err := ReadBoundary("a.zip", zipOf(t, "a.shp", shp, "a.prj", prjWGS84)); err == nil || !strings.Contains(err.Error(), "cut short") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func reversed(ring []Point) []Point {
	out := make([]Point, len(ring))
	for i, p := range ring {
		out[len(ring)-1-i] = p
	}
	return out
}
