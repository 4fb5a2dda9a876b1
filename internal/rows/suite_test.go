package rows

import (
	"encoding/xml"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/peterstace/simplefeatures/geom"

	"rowtally/internal/ground"
)

// overlayCase is one case of the overlay suite: areas, lines, and what the operations give.
type overlayCase struct {
	Says  string `xml:"desc"`
	Areas string `xml:"a"`
	Lines string `xml:"b"`
	Ops   []struct {
		Name string `xml:"name,attr"`
		Want string `xml:",chardata"`
	} `xml:"test>op"`
}

// overlaySuite reads TestOverlayLA.xml of the JTS Topology Suite (EDL 1.0), as it comes with
// simplefeatures v0.59.0 in the module cache: lines laid over areas, with the answers.
func overlaySuite(t *testing.T) []overlayCase {
	t.Helper()
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/peterstace/simplefeatures").Output()
	if err != nil {
		t.Fatalf("the module cache cannot be asked: %v", err)
	}
	path := filepath.Join(strings.TrimSpace(string(dir)), "internal", "jtsport", "xmltest", "testdata", "general", "TestOverlayLA.xml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("the suite is not in the module cache: %v", err)
	}
	var suite struct {
		Cases []overlayCase `xml:"case"`
	}
	if err := xml.Unmarshal(text, &suite); err != nil {
		t.Fatal(err)
	}
	return suite.Cases
}

func parsed(t *testing.T, text string) geom.Geometry {
	t.Helper()
	g, err := geom.UnmarshalWKT(strings.TrimSpace(text), geom.NoValidate{})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// areasOf are the areas of a geometry as the clipper takes them.
func areasOf(g geom.Geometry) (areas []ground.Polygon) {
	for _, part := range g.Dump() {
		polygon, is := part.AsPolygon()
		if !is {
			continue
		}
		areas = append(areas, ground.Polygon{Outer: placesOf(polygon.ExteriorRing())})
		for i := range polygon.NumInteriorRings() {
			last := &areas[len(areas)-1]
			last.Holes = append(last.Holes, placesOf(polygon.InteriorRingN(i)))
		}
	}
	return areas
}

func placesOf(ring geom.LineString) (out ground.Ring) {
	places := ring.Coordinates()
	for i := range places.Length() - 1 {
		out = append(out, ground.Point{E: places.GetXY(i).X, N: places.GetXY(i).Y})
	}
	return out
}

// aside is how far beside an edge a row is laid to see whether the edge bounds an area there.
const aside = 1e-7

// lengthWithin is how much of a straight line lies in the areas, by the clipper of rows: the line
// is a row, and its two ends cut what lies beyond them. An area of the suite holds its edges,
// while a row on an edge belongs to one side alone: it is then laid on both sides.
func lengthWithin(t *testing.T, areas []ground.Polygon, from, to geom.XY) (sum float64) {
	t.Helper()
	bearing := math.Atan2(to.X-from.X, to.Y-from.Y)
	a := axes{sin: math.Sin(bearing), cos: math.Cos(bearing)}
	start, end := a.spot(ground.Point{E: from.X, N: from.Y}), a.spot(ground.Point{E: to.X, N: to.Y})
	beyond := []stretch{{math.Inf(-1), start.along}, {end.along, math.Inf(1)}}
	for _, area := range areas {
		offsets := []float64{start.right}
		if alongAnEdge(a.polygon(nil, area), start, end) {
			offsets = []float64{start.right - aside, start.right + aside}
		}
		var crossed perRow[float64]
		if err := crossings(&crossed, onRows(a.polygon(nil, area), offsets), offsets); err != nil {
			t.Fatal(err)
		}
		most := 0.0
		for row := range offsets {
			length := 0.0
			for _, span := range left(nil, crossed.of(row), beyond) {
				length += span.to - span.from
			}
			most = max(most, length)
		}
		sum += most
	}
	return sum
}

// alongAnEdge tells whether a row runs on one of the edges.
func alongAnEdge(sides []side, from, to spot) bool {
	for _, s := range sides {
		low, high := min(s.a.along, s.b.along), max(s.a.along, s.b.along)
		on := math.Abs(s.a.right-from.right) < slack && math.Abs(s.b.right-from.right) < slack
		if on && low < to.along-slack && high > from.along+slack {
			return true
		}
	}
	return false
}

// The lengths of the suite's lines in its areas are those that the clipper of rows finds.
// The lines are first parted where they meet and stripped of what stands twice.
func TestTheClipperAgainstAnOverlaySuite(t *testing.T) {
	checked := 0
	for _, c := range overlaySuite(t) {
		areas := areasOf(parsed(t, c.Areas))
		lines, err := geom.UnaryUnion(parsed(t, c.Lines))
		if err != nil {
			t.Fatal(err)
		}
		got := 0.0
		for _, part := range lines.Dump() {
			line, _ := part.AsLineString()
			places := line.Coordinates()
			for i := range places.Length() - 1 {
				got += lengthWithin(t, areas, places.GetXY(i), places.GetXY(i+1))
			}
		}
		for _, op := range c.Ops {
			if op.Name != "intersection" {
				continue
			}
			checked++
			want := parsed(t, op.Want).Length()
			t.Logf("%s: %.6f, the suite's %.6f", c.Says, got, want)
			if math.Abs(got-want) > 1e-5 {
				t.Errorf("%s: %.6f of the lines lie in the areas, the suite has %.6f", c.Says, got, want)
			}
		}
	}
	if checked < 4 {
		t.Errorf("%d cases were checked, the suite has four at least", checked)
	}
}
