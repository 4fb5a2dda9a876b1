package job

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"rowtally/internal/fault"
)

// The rectangle's sides are known; its western fence leans in by a metre.
func TestAPaddockIsMeasuredAsItWasDrawn(t *testing.T) {
	p := paddockFor(t, 24)
	survey, err := Survey(p)
	if err != nil {
		t.Fatal(err)
	}
	eastM, northM := 39*14.0+2+2*7+1, 24_000.0/79+14
	if area := (eastM - 0.5) * northM; math.Abs(survey.GrossM2-area) > 1e-5*area || math.Abs(GrossM2(p)-area) > 1e-5*area {
		t.Errorf("%v m², want %v", survey.GrossM2, area)
	}
	if survey.Corners != 4 || survey.Holes != 0 || p.ReadOn != "2026-05-04" || !strings.HasPrefix(p.Source, "bore.geojson: ") {
		t.Errorf("%d corners, %d holes, read on %s from %q", survey.Corners, survey.Holes, p.ReadOn, p.Source)
	}
	if GrossM2(Paddock{Name: "Hut"}) != 0 {
		t.Error("a paddock without a boundary has hectares")
	}
}

func TestAFileThatCannotBeReadLeavesThePaddockAsItWas(t *testing.T) {
	p := paddockFor(t, 24)
	before := p
	for _, content := range []string{"", "{", `{"type":"Point","coordinates":[140,-36]}`, "<kml></kml>", strings.Repeat("x", 1000)} {
		if err := ReadBoundary(&p, "new.geojson", []byte(content), today); fault.KindOf(err) != fault.Refused {
			t.Errorf("%.20q is read as a boundary: %v", content, err)
		}
		if strings.Contains(content, "Point") {
			continue // a point is a no-go: a bore
		}
		if err := ReadNoGo(&p, "new.geojson", []byte(content)); fault.KindOf(err) != fault.Refused {
			t.Errorf("%.20q is read as a no-go area: %v", content, err)
		}
	}
	if p != before {
		t.Errorf("the paddock changed to %+v", p)
	}
}

func TestABrokenBoundaryInTheBooksIsADefect(t *testing.T) {
	for _, p := range []Paddock{{Name: "Bore", Boundary: "{"}, {Name: "Bore", Boundary: paddockFor(t, 24).Boundary, NoGo: "x"}} {
		if _, err := Survey(p); err == nil || fault.KindOf(err) != fault.Internal {
			t.Errorf("got %v", err)
		}
		f := sceneOf(t, 24)
		f.Paddock = p
		if c := ChainOf(f); c.Map != nil || c.RowM() != 0 {
			t.Errorf("a chain with rows of %v m", c.RowM())
		}
	}
}

func TestALayoutThatCannotBeLaidNamesItsField(t *testing.T) {
	p := paddockFor(t, 24)
	for _, c := range []struct {
		change      func(*Layout)
		field, says string
	}{
		{func(l *Layout) { l.HeadlandM = 400 }, "headland_m", "no row fits: the headland of 400 m"},
		{func(l *Layout) { l.AlleyM = 0 }, "alley_m", ""},
		{func(l *Layout) { l.SpacingM = 0 }, "placement_spacing_m", ""},
		{func(l *Layout) { l.RowsPerBelt = 0 }, "rows_per_belt", ""},
		{func(l *Layout) { l.RowGapM = -2 }, "row_gap_m", ""},
		{func(l *Layout) { l.BearingDeg = math.NaN() }, "bearing_deg", ""},
	} {
		layout := twinRows()
		c.change(layout)
		_, err := Lay(p, *layout)
		if says, refused := fault.Fields(err)[c.field]; !refused || !strings.Contains(says, c.says) {
			t.Errorf("%+v: %v, want a refusal of %s", layout, err, c.field)
		}
	}
}

// The boundary in the books is GeoJSON, for whoever opens them with something else.
func TestABoundaryIsKeptAsGeoJSON(t *testing.T) {
	var kept struct {
		Type        string
		Coordinates [][][2]float64
	}
	if err := json.Unmarshal([]byte(paddockFor(t, 24).Boundary), &kept); err != nil {
		t.Fatal(err)
	}
	if kept.Type != "Polygon" || len(kept.Coordinates) != 1 || len(kept.Coordinates[0]) != 5 || kept.Coordinates[0][0][0] < 140 {
		t.Errorf("kept as %+v: want a ring of five corners, longitude first", kept)
	}
}
