package ground

import (
	"encoding/xml"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
)

// validCase is one case of the validity suite: a geometry, and whether it is valid.
type validCase struct {
	Says string `xml:"desc"`
	What string `xml:"a"`
	Want string `xml:"test>op"`
}

// validSuite reads TestValid.xml and TestValid2.xml of the JTS Topology Suite (EDL 1.0), as
// they come with simplefeatures v0.59.0 in the module cache.
func validSuite(t *testing.T) (cases []validCase) {
	t.Helper()
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/peterstace/simplefeatures").Output()
	if err != nil {
		t.Fatalf("the module cache cannot be asked: %v", err)
	}
	for _, name := range []string{"TestValid.xml", "TestValid2.xml"} {
		text, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "internal", "jtsport", "xmltest", "testdata", "general", name))
		if err != nil {
			t.Fatalf("the suite is not in the module cache: %v", err)
		}
		var suite struct {
			Cases []validCase `xml:"case"`
		}
		if err := xml.Unmarshal(text, &suite); err != nil {
			t.Fatal(err)
		}
		for _, c := range suite.Cases {
			c.Says = name + ", " + c.Says
			cases = append(cases, c)
		}
	}
	return cases
}

// onTheEarth is the polygons of a geometry with their figures as degrees, made smaller by a
// power of two, which rounds nothing; false where it holds anything else, or nothing.
func onTheEarth(t *testing.T, text string) (shape Shape, is bool) {
	t.Helper()
	g, err := geom.UnmarshalWKT(strings.TrimSpace(text), geom.NoValidate{})
	if err != nil || g.IsEmpty() || g.Dimension() != 2 {
		return nil, false
	}
	box, _ := g.Envelope().Min().XY()
	far, _ := g.Envelope().Max().XY()
	largest := max(math.Abs(box.X), math.Abs(box.Y), math.Abs(far.X), math.Abs(far.Y))
	scale := math.Ldexp(1, -math.Ilogb(largest)+4) // 16 to 32 degrees
	ring := func(line geom.LineString) (out []LatLon) {
		places := line.Coordinates()
		for i := range places.Length() {
			at := places.GetXY(i)
			out = append(out, LatLon{at.Y * scale, at.X * scale})
		}
		return out
	}
	for _, part := range g.Dump() {
		polygon, is := part.AsPolygon()
		if !is {
			return nil, false
		}
		if polygon.IsEmpty() {
			continue
		}
		var ours GeoPolygon
		for _, line := range polygon.DumpRings() {
			if ours.addRing(ring(line)) != nil {
				return Shape{{}}, true // a ring of too few corners
			}
		}
		shape = append(shape, ours)
	}
	return shape, true
}

// takenOf tells whether the suite is stricter in what a paddock may well be: ground that holes
// cut in two by touching, and parts with one fence.
func takenOf(says string) bool {
	return strings.Contains(says, "interior disconnected") || strings.Contains(says, "shells adjacent") ||
		slices.Contains([]string{"TestValid2.xml, Test 226", "TestValid2.xml, Test 227"}, says)
}

func TestShapesAgainstAValiditySuite(t *testing.T) {
	checked, stricter := 0, 0
	for _, c := range validSuite(t) {
		shape, is := onTheEarth(t, c.What)
		if !is || strings.Contains(c.What, "EMPTY") { // of which no file of ours has any
			continue
		}
		checked++
		_, err := finished(shape, nil)
		want := strings.TrimSpace(c.Want) == "true"
		if takenOf(c.Says) && !want && err == nil {
			stricter++
			continue
		}
		if (err == nil) != want {
			t.Errorf("%s: the suite says %v, we say %v: %.300s", c.Says, want, err, strings.TrimSpace(c.What))
		}
	}
	t.Logf("%d cases, in %d of which the suite is stricter", checked, stricter)
	if checked < 300 || stricter > 11 {
		t.Errorf("%d cases were checked, the suite was stricter in %d", checked, stricter)
	}
}

// Parts of few corners on a coarse grid overlap, touch and share fences in every way there is.
func TestPartsAgainstAnotherLibrarysOverlay(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 12))
	valid := func() (ring Ring, peer geom.Polygon) {
		for {
			var flat []float64
			ring = nil
			for range 3 + r.IntN(4) {
				ring = append(ring, Point{float64(r.IntN(5)), float64(r.IntN(5))})
				flat = append(flat, ring[len(ring)-1].E, ring[len(ring)-1].N)
			}
			peer = geom.NewPolygonXY(append(flat, flat[0], flat[1]))
			if peer.Validate() == nil {
				return ring, peer
			}
		}
	}
	apart, touching := 0, 0
	for range 4000 {
		a, peerA := valid()
		b, peerB := valid()
		common, err := geom.Intersection(peerA.AsGeometry(), peerB.AsGeometry())
		if err != nil {
			t.Fatal(err)
		}
		fig := figure{many: true, where: Point.String}
		fig.add(0, 0, a)
		fig.add(1, 0, b)
		ours, overlap := fig.check(), common.Area() > 1e-9
		switch {
		case (ours != nil) != overlap:
			t.Errorf("%v and %v have %.3g in common, we say %v", a, b, common.Area(), ours)
		case !overlap && !common.IsEmpty():
			touching++
		case !overlap:
			apart++
		}
	}
	if apart < 50 || touching < 50 {
		t.Errorf("%d pairs lay apart and %d touched", apart, touching)
	}
}

// A file that holds one paddock twice, or two that share ground, would sow it twice.
func TestOneGroundIsNotTakenTwice(t *testing.T) {
	square := func(west, east float64) string {
		return fmt.Sprintf("[[[%[1]v,-36.01],[%[2]v,-36.01],[%[2]v,-36],[%[1]v,-36],[%[1]v,-36.01]]]", west, east)
	}
	for name, c := range map[string]struct {
		parts string
		says  string // "" where it is taken
	}{
		"one twice":         {square(140, 140.01) + "," + square(140, 140.01), "lies within"},
		"half of each":      {square(140, 140.01) + "," + square(140.005, 140.015), "lies within"},
		"one fence between": {square(140, 140.01) + "," + square(140.01, 140.02), ""},
	} {
		got, err := ReadBoundary("a.geojson", []byte(`{"type":"MultiPolygon","coordinates":[`+c.parts+`]}`))
		if c.says == "" && (err != nil || len(got.Shape) != 2) || c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%s: %v, %v", name, got.Shape, err)
		}
	}
	// A dam whose every corner touches the fence is a hole all the same; a ring twice is not.
	fence, dam := closed(140, -36.01, 140, -36, 140.01, -36, 140.01, -36.01), closed(140.005, -36.01, 140, -36.005, 140.005, -36, 140.01, -36.005)
	got, err := ReadBoundary("a.zip", zipOf(t, "a.shp", shpOf(shpPolygon, fence, dam), "a.prj", prjWGS84))
	if err != nil || len(got.Shape) != 1 || len(got.Shape[0].Holes) != 1 {
		t.Errorf("%v, %v", got.Shape, err)
	}
	_, err = ReadBoundary("a.zip", zipOf(t, "a.shp", shpOf(shpPolygon, fence, fence), "a.prj", prjWGS84))
	if err == nil || !strings.Contains(err.Error(), "take one of the two out") {
		t.Errorf("a ring twice: %v", err)
	}
}
