package ground

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"rowtally/internal/fault"
)

// fence runs east and then north; bore stands beside it.
var (
	fence = []LatLon{{-36.01, 140}, {-36.01, 140.01}, {-36, 140.01}}
	bore  = LatLon{-36.005, 140.002}
)

const (
	fenceKML = `<kml><Document><Placemark><name>fence</name><LineString><coordinates>140,-36.01 140.01,-36.01 140.01,-36</coordinates></LineString></Placemark>
<Placemark><name>bore</name><Point><coordinates>140.002,-36.005,12</coordinates></Point></Placemark></Document></kml>`
	fenceGeoJSON = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[140,-36.01],[140.01,-36.01],[140.01,-36.01],[140.01,-36]]}},
{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[140.002,-36.005]}}]}`
	fenceGPX = `<gpx><wpt lat="-36.005" lon="140.002"/><trk><trkseg><trkpt lat="-36.01" lon="140"/><trkpt lat="-36.01" lon="140.01"/><trkpt lat="-36" lon="140.01"/></trkseg></trk></gpx>`
	fenceCSV = "-36.01,140\n-36.01,140.01\n-36,140.01\n"
)

// shpPointsOf writes a .shp of one point (kind 1), or of several in one record (kind 8).
func shpPointsOf(kind uint32, places ...Point) string {
	whole := shpOf(kind, places)
	head, body := whole[:shpHeader+8], whole[shpHeader+8:]
	figures := body[len(body)-16*len(places):]
	if kind == shpPoint {
		return recordOf(head, body[:4]+figures)
	}
	return recordOf(head, body[:36]+string([]byte{byte(len(places)), 0, 0, 0})+figures)
}

// recordOf puts a body behind a head, and its length into the head.
func recordOf(head, body string) string {
	words := len(body) / 2
	return head[:shpHeader+4] + string([]byte{0, 0, byte(words >> 8), byte(words)}) + body
}

func TestNoGoLinesAndPointsInEveryDress(t *testing.T) {
	plainFence := []Point{{140, -36.01}, {140.01, -36.01}, {140.01, -36}}
	line, point := [][]LatLon{fence}, []LatLon{bore}
	for _, c := range []struct {
		name, text string
		lists      Lists
		want       Geometry
	}{
		{"a.geojson", fenceGeoJSON, ListsAreAreas, Geometry{Lines: line, Points: point}},
		{"a.kml", fenceKML, ListsAreAreas, Geometry{Lines: line, Points: point}},
		{"a.kmz", string(zipOf(t, "doc.kml", fenceKML)), ListsAreAreas, Geometry{Lines: line, Points: point}},
		{"a.gpx", fenceGPX, ListsAreLines, Geometry{Lines: line, Points: point}},
		{"a.csv", fenceCSV, ListsAreLines, Geometry{Lines: line}},
		{"two.csv", fenceCSV + "\n-36.005 140.002\n-36.006 140.002", ListsAreLines, Geometry{Lines: append(line, []LatLon{bore, {-36.006, 140.002}})}},
		{"a.csv", fenceCSV, ListsArePoints, Geometry{Points: fence}},
		{"pasted text", "-36.005, 140.002", ListsAreAreas, Geometry{Points: point}},
		{"pasted text", "-36.01 140\n-36.01 140.01", ListsAreAreas, Geometry{Lines: [][]LatLon{fence[:2]}}},
		{"a.csv", fenceCSV, ListsAreAreas, Geometry{Polygons: Shape{{Outer: fence}}}},
		{"line.zip", string(zipOf(t, "a.shp", shpOf(shpLine, plainFence), "a.prj", prjWGS84)), ListsAreAreas, Geometry{Lines: line}},
		{"linez.zip", string(zipOf(t, "a.shp", shpOf(shpLine+10, plainFence), "a.prj", prjWGS84)), ListsAreAreas, Geometry{Lines: line}},
		{"point.zip", string(zipOf(t, "a.shp", shpPointsOf(shpPoint, Point{140.002, -36.005}), "a.prj", prjWGS84)), ListsAreAreas, Geometry{Points: point}},
		{"points.zip", string(zipOf(t, "a.shp", shpPointsOf(shpMultiPoint, plainFence...), "a.prj", prjWGS84)), ListsAreAreas, Geometry{Points: fence}},
		{"areas.zip", string(zipOf(t, "a.shp", shpOf(shpPolygon, dammed...), "a.prj", prjWGS84)), ListsAreAreas, Geometry{Polygons: wanted}},
	} {
		got, err := Repairs{}.ReadNoGo(c.name, []byte(c.text), c.lists)
		if err != nil {
			t.Errorf("%s as %s: %v", c.name, c.lists, err)
			continue
		}
		if !reflect.DeepEqual(got.Lines, c.want.Lines) || !reflect.DeepEqual(got.Points, c.want.Points) || !sameRounds(got.Polygons, c.want.Polygons) {
			t.Errorf("%s as %s: %+v, want %+v", c.name, c.lists, got, c.want)
		}
		text, err := json.Marshal(got)
		var back Geometry
		if err != nil || json.Unmarshal(text, &back) != nil || back.Tally() != got.Tally() || !reflect.DeepEqual(back.Lines, got.Lines) || !reflect.DeepEqual(back.Points, got.Points) {
			t.Errorf("%s comes back from the books as %s, %v", c.name, text, err)
		}
	}
}

// sameRounds compares areas by their extent: a reader may begin a ring at another corner.
func sameRounds(a, b Shape) bool {
	x, y := WGS84.Extent(a), WGS84.Extent(b)
	return len(a) == len(b) && a.Corners() == b.Corners() && math.Abs(x.AreaM2-y.AreaM2) < 1e-4 && math.Abs(x.PerimeterM-y.PerimeterM) < 1e-6
}

func TestNoGoFilesThatAreRefused(t *testing.T) {
	corrupt := shpPointsOf(shpMultiPoint, Point{140, -36})
	for _, c := range []struct {
		name, text string
		lists      Lists
		says       string
	}{
		{"a.gpx", fenceGPX, ListsAreAreas, CloseForMe},
		{"a.gpx", "<gpx></gpx>", ListsAreLines, "no area, line or point"},
		{"a.kml", "<kml><LineString><coordinates></coordinates></LineString></kml>", ListsAreAreas, "line 1: it has 0 corners"},
		{"a.geojson", `{"type":"LineString","coordinates":[]}`, ListsAreAreas, "it has 0 corners"},
		{"a.geojson", `{"type":"LineString","coordinates":[[140,-36],[140,-36]]}`, ListsAreAreas, "it has 1 corner,"},
		{"a.csv", "-36,140\n-36,140\n", ListsAreLines, "it has 1 corner,"},
		{"a.csv", strings.Repeat("-36,140\n", mostNoGo+1), ListsArePoints, "holds 201 points, at most 200"},
		{"a.csv", fenceCSV, listsOneRing, "areas, lines or points"},
		{"a.geojson", `{"type":"Point","coordinates":[140,-96]}`, ListsAreAreas, "latitude"},
		{"a.zip", string(zipOf(t, "a.shp", corrupt[:len(corrupt)-4], "a.prj", prjWGS84)), ListsAreAreas, "cut short or damaged"},
		{"a.zip", string(zipOf(t, "a.shp", recordOf(corrupt[:shpHeader+8], corrupt[shpHeader+8:shpHeader+8+36]+"\xff\xff\xff\xff"), "a.prj", prjWGS84)), ListsAreAreas, "cut short or damaged"},
		{"a.zip", string(zipOf(t, "a.shp", shpOf(shpPatches, fencePoints()), "a.prj", prjWGS84)), ListsAreAreas, "shapes of kind 31"},
		{"a.zip", string(zipOf(t, "a.shp", shpOf(20, fencePoints()), "a.prj", prjWGS84)), ListsAreAreas, "shapes of kind 20"},
	} {
		_, err := Repairs{}.ReadNoGo(c.name, []byte(c.text), c.lists)
		if err == nil || !strings.Contains(err.Error(), c.says) || fault.KindOf(err) != fault.Refused {
			t.Errorf("%s as %s: %v, should say %q", c.name, c.lists, err, c.says)
		}
	}
}

func fencePoints() []Point { return []Point{{140, -36.01}, {140.01, -36.01}} }

// No bytes make the reader panic, or hand out what cannot be told apart on the picture.
func FuzzReadNoGo(f *testing.F) {
	f.Add("a.kml", []byte(fenceKML), string(ListsAreAreas), true)
	f.Add("a.kml", []byte("<kml><Track><coord>140 -36 1</coord><coord/><coord>140,1</coord></Track></Track><coord>"), string(ListsAreLines), false)
	f.Add("a.geojson", []byte(fenceGeoJSON), string(ListsAreAreas), false)
	f.Add("a.gpx", []byte(fenceGPX), string(ListsArePoints), true)
	f.Add("a.csv", []byte(fenceCSV+"\n-36.005 140.002\n"), string(ListsAreLines), false)
	f.Add("a.zip", zipOf(f, "a.shp", shpPointsOf(shpMultiPoint, Point{140, -36}, Point{140.1, -36}), "a.prj", prjWGS84), string(ListsAreAreas), true)
	f.Fuzz(func(t *testing.T, name string, content []byte, lists string, closes bool) {
		g, err := Repairs{CloseRings: closes}.ReadNoGo(name, content, Lists(lists))
		if err != nil && fault.KindOf(err) != fault.Refused {
			t.Errorf("%v is no refusal", err)
		}
		if parts := len(g.Each()); err == nil && (parts == 0 || parts > mostNoGo) {
			t.Errorf("%d parts", parts)
		}
		for _, line := range g.Lines {
			if len(line) < 2 {
				t.Errorf("a line of %d places", len(line))
			}
		}
		if len(g.Polygons) > 0 && g.Polygons.Check() != nil {
			t.Error(g.Polygons.Check())
		}
	})
}

func TestWhatAGeometryHoldsIsCounted(t *testing.T) {
	for want, g := range map[string]Geometry{
		"":                           {},
		"1 point":                    {Points: []LatLon{bore}},
		"1 line and 2 points":        {Lines: [][]LatLon{fence}, Points: fence[:2]},
		"1 area, 1 line and 1 point": {Polygons: wanted, Lines: [][]LatLon{fence}, Points: []LatLon{bore}},
	} {
		if got := g.Tally(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
