package job

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"rowtally/internal/ground"
)

// boxed is a ring round a box, from its south-west corner on.
func boxed(south, west, north, east float64) ground.GeoRing {
	return ground.GeoRing{{Lat: south, Lon: west}, {Lat: south, Lon: east}, {Lat: north, Lon: east}, {Lat: north, Lon: west}}
}

func TestWhatIsDrawnIsMeasuredOnTheEllipsoid(t *testing.T) {
	d := Drawn{Outsides: []ground.GeoRing{boxed(-36.41, 140.1, -36.4, 140.11)}}
	got, err := d.Extent()
	const square = 995374.4 // m²: Planimeter of GeographicLib, for these four corners
	if err != nil || math.Abs(got.GrossM2-square) > 0.1 || got.Corners != 4 {
		t.Errorf("measured %+v, %v", got, err)
	}
	d.Holes = []ground.GeoRing{boxed(-36.406, 140.104, -36.405, 140.105)}
	d.NoGo = []ground.GeoRing{boxed(-36.403, 140.104, -36.402, 140.105)}
	less, err := d.Extent()
	hole := got.GrossM2 - less.GrossM2
	if err != nil || less.Corners != 8 || math.Abs(hole/square-0.01) > 1e-5 || math.Abs(less.NoGoM2/hole-1) > 1e-4 {
		t.Errorf("with a hole of a hundredth: %+v, %v", less, err)
	}
}

func TestWhatIsDrawnGoesIntoThePaddockAndBack(t *testing.T) {
	d := Drawn{
		Outsides: []ground.GeoRing{boxed(-36.41, 140.1, -36.4, 140.11), boxed(-36.43, 140.1, -36.42, 140.11)},
		Holes:    []ground.GeoRing{boxed(-36.426, 140.104, -36.425, 140.105)},
		NoGo:     []ground.GeoRing{boxed(-36.403, 140.104, -36.402, 140.105)},
	}
	text, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	read, err := ReadDrawn(string(text))
	if err != nil {
		t.Fatal(err)
	}
	p := Paddock{Name: "Swale"}
	if err := read.ReadInto(&p, "2026-07-20"); err != nil {
		t.Fatal(err)
	}
	if p.Source != "drawn on the map: read 2 polygons with 1 hole, 12 corners" || p.ReadOn != "2026-07-20" {
		t.Errorf("the source is %q, read %s", p.Source, p.ReadOn)
	}
	drawn, _ := d.Extent()
	survey, err := Survey(p)
	if err != nil || math.Abs(survey.GrossM2-drawn.GrossM2) > 1e-6 || survey.Holes != 1 || len(survey.NoGo.Polygons) != 1 {
		t.Errorf("the paddock has %+v, %v", survey, err)
	}
	back, err := DrawnOf(p)
	if err != nil || len(back.Outsides) != 2 || len(back.Holes) != 1 || len(back.NoGo) != 1 {
		t.Errorf("drawn again as %+v, %v", back, err)
	}
}

func TestWhatNobodyMovesStaysAsItWasRead(t *testing.T) {
	p := Paddock{Name: "Swale"}
	const file = `{"type":"Polygon","coordinates":[[[140.10012345678901,-36.41],[140.11,-36.41],[140.11,-36.4],[140.1,-36.4],[140.10012345678901,-36.41]]]}`
	if err := ReadBoundary(&p, "swale.geojson", []byte(file), "2026-07-01"); err != nil {
		t.Fatal(err)
	}
	before := p
	d, err := DrawnOf(p)
	if err != nil {
		t.Fatal(err)
	}
	d.NoGo = []ground.GeoRing{boxed(-36.403, 140.104, -36.402, 140.105)}
	if err := d.ReadInto(&p, "2026-07-20"); err != nil {
		t.Fatal(err)
	}
	if p.Boundary != before.Boundary || p.Source != before.Source || p.ReadOn != before.ReadOn || p.NoGo == "" {
		t.Errorf("a no-go area drawn made %+v of %+v", p, before)
	}
	d.NoGo = nil
	if err := d.ReadInto(&p, "2026-07-20"); err != nil || p.NoGo != "" {
		t.Errorf("the no-go area taken out left %q, %v", p.NoGo, err)
	}
}

func TestWhatCannotBeAPaddockIsRefusedWithWhatToMove(t *testing.T) {
	outside := []ground.GeoRing{boxed(-36.41, 140.1, -36.4, 140.11)}
	bow := ground.GeoRing{{Lat: -36.41, Lon: 140.1}, {Lat: -36.4, Lon: 140.11}, {Lat: -36.4, Lon: 140.1}, {Lat: -36.41, Lon: 140.11}}
	for says, d := range map[string]Drawn{
		"draw the paddock's first":              {},
		"crosses itself near corners":           {Outsides: []ground.GeoRing{bow}},
		"no-go area 1: the outside crosses":     {Outsides: outside, NoGo: []ground.GeoRing{bow}},
		"hole 1 does not lie within an outside": {Outsides: outside, Holes: []ground.GeoRing{boxed(-36.43, 140.1, -36.42, 140.11)}},
		"hole 2 does not lie within an outside": {Outsides: outside, Holes: []ground.GeoRing{boxed(-36.406, 140.104, -36.405, 140.105), boxed(-36.43, 140.1, -36.42, 140.11)}},
		"the inner one as a hole":               {Outsides: append(outside, boxed(-36.406, 140.104, -36.405, 140.105))},
		"ring 2: there are 2 corners":           {Outsides: outside, Holes: []ground.GeoRing{boxed(-36.406, 140.104, -36.405, 140.105)[:2]}},
		"hole 1 does not lie":                   {Outsides: outside, Holes: []ground.GeoRing{boxed(-36.406, 140.104, -36.405, 140.115)}},
	} {
		if _, err := d.Extent(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("want a refusal with %q, got %v", says, err)
		}
	}
	for _, text := range []string{``, `{`, `{"features":[{"geometry":{"type":"Polygon","coordinates":[[[140,-36],[141,-36],[141,-35],[140,-36]]]}}]}`,
		`{"features":[{"properties":{"kind":"hole"},"geometry":{"type":"Point","coordinates":[140,-36]}}]}`} {
		if _, err := ReadDrawn(text); err == nil {
			t.Errorf("%s is read", text)
		}
	}
}
