package calc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"rowtally/internal/published"
)

// answeredGround runs one calculation and hands back its JSON object.
func answeredGround(t *testing.T, name, in string) map[string]any {
	t.Helper()
	var out bytes.Buffer
	if err := Run(name, false, false, strings.NewReader(in), &out); err != nil {
		t.Fatalf("%s %s: %v %s", name, in, err, out.String())
	}
	var got map[string]any
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

func TestGeodesicOfPublishedLines(t *testing.T) {
	checked := 0
	for _, row := range published.Rows(t, "geodesy.csv") {
		if row.Text("kind") != "geodesic" || row.Text("quantity") != "distance" || row.Text("ellipsoid_or_grid") != "WGS84" {
			continue
		}
		var a, b, c, d float64
		if _, err := fmt.Sscanf(row.Text("places"), "%g, %g; %g, %g", &a, &b, &c, &d); err != nil {
			t.Fatal(err)
		}
		got := answeredGround(t, "geodesic", fmt.Sprintf(`{"from":{"lat":%v,"lon":%v},"to":{"lat":%v,"lon":%v}}`, a, b, c, d))
		if off := got["distance_m"].(float64) - row.Number("expected"); math.Abs(off) > row.Number("tolerance") {
			t.Errorf("%s: off by %v", row.Name, off)
		}
		checked++
	}
	if checked < 5 {
		t.Errorf("%d lines checked", checked)
	}
}

const squareOnEarth = `{"type":"Polygon","coordinates":[[[140,-36],[140.01,-36],[140.01,-36.01],[140,-36.01],[140,-36]]]}`

// The size of the square as Planimeter of GeographicLib 2 gives it.
func TestPolygonArea(t *testing.T) {
	got := answeredGround(t, "polygon-area", `{"boundary":`+squareOnEarth+`}`)
	if math.Abs(got["area_m2"].(float64)-1000384.948) > 0.001 || math.Abs(got["perimeter_m"].(float64)-4022.34177871) > 1e-7 {
		t.Errorf("%v", got)
	}
}

func TestRowPlanAnswersEveryField(t *testing.T) {
	got := answeredGround(t, "row-plan", `{"boundary":`+squareOnEarth+`,"headland_m":20,"bearing_deg":0,"rows_per_belt":2,"row_gap_m":2,"alley_m":12,"placement_spacing_m":3,"rows":true}`)
	for _, field := range strings.Fields("paddock_m2 pitch_m row_m_per_ha row_count span_count belt_count row_m placements turns dropped_m rows") {
		if _, there := got[field]; !there {
			t.Errorf("no %s", field)
		}
	}
	first := got["rows"].([]any)[0].(map[string]any)["spans"].([]any)[0].(map[string]any)["from"].(map[string]any)
	if lat := first["lat"].(float64); math.Abs(lat+36.01) > 0.001 {
		t.Errorf("the first row starts at %v", first)
	}
}

func TestGroundRefusalsNameTheField(t *testing.T) {
	plan := func(change string) string {
		fields := map[string]any{}
		base := `{"boundary":` + squareOnEarth + `,"headland_m":20,"bearing_deg":0,"rows_per_belt":2,"row_gap_m":2,"alley_m":12,"placement_spacing_m":3}`
		if json.Unmarshal([]byte(base), &fields) != nil || json.Unmarshal([]byte(change), &fields) != nil {
			t.Fatal(change)
		}
		for name, value := range fields {
			if value == "none" {
				delete(fields, name)
			}
		}
		raw, err := json.Marshal(fields)
		if err != nil {
			t.Fatal(err)
		}
		return string(raw)
	}
	for _, c := range []struct{ name, in, field string }{
		{"geodesic", `{"from":{"lat":91,"lon":0},"to":{"lat":0,"lon":0}}`, "from"},
		{"geodesic", `{"from":{"lat":1,"lon":0},"to":{"lat":0,"lon":-999}}`, "to"},
		{"geodesic", `{"from":{"lat":1,"lon":0},"to":{"lat":0}}`, "to.lon"},
		{"geodesic", `{"from":{"lat":1,"lon":0},"to":{"lat":0,"lon":0},"ellipsoid":"ball"}`, "ellipsoid"},
		{"polygon-area", `{"boundary":{"type":"Point","coordinates":[140,-36]}}`, "boundary"},
		{"polygon-area", `{"boundary":{"type":"Polygon","coordinates":[[[0,0],[2,2],[2,0],[0,2],[0,0]]]}}`, "boundary"},
		{"polygon-area", `{"boundary":null}`, "boundary"},
		{"row-plan", plan(`{"boundary":"none"}`), "boundary"},
		{"row-plan", plan(`{"boundary_m":[[[0,0],[1,0],[0,1]]]}`), "boundary_m"},
		{"row-plan", plan(`{"boundary":"none","boundary_m":[[[0,0],[1,0],[2,0]]]}`), "boundary_m"},
		{"row-plan", plan(`{"boundary":"none","boundary_m":[]}`), "boundary_m"},
		{"row-plan", plan(`{"boundary":"none","boundary_m":[[[0,0],[1e300,0],[0,1]]]}`), "boundary_m"},
		{"row-plan", plan(`{"boundary":"none","boundary_m":[[[0,0],[200000,0],[0,1]]]}`), "boundary_m"},
		{"row-plan", plan(`{"no_go":[{"type":"Point","coordinates":[140,-36]},{"type":"Point","coordinates":[14,-36]}]}`), "no_go[1]"},
		{"row-plan", plan(`{"no_go":[[[[0,0],[1,0],[0,1]]]]}`), "no_go[0]"},
		{"row-plan", plan(`{"headland_m":-1}`), "headland_m"},
		{"row-plan", plan(`{"bearing_deg":361}`), "bearing_deg"},
		{"row-plan", plan(`{"rows_per_belt":0}`), "rows_per_belt"},
		{"row-plan", plan(`{"rows_per_belt":1.5}`), "rows_per_belt"},
		{"row-plan", plan(`{"row_gap_m":"none"}`), "row_gap_m"},
		{"row-plan", plan(`{"row_gap_m":0}`), "row_gap_m"},
		{"row-plan", plan(`{"alley_m":0}`), "alley_m"},
		{"row-plan", plan(`{"placement_spacing_m":0}`), "placement_spacing_m"},
		{"row-plan", plan(`{"least_row_m":-3}`), "least_row_m"},
		{"row-plan", plan(`{"phase_m":1e9}`), "phase_m"},
		{"row-plan", plan(`{"hedland_m":3}`), "hedland_m"},
		{"row-plan", plan(`{"boundary":"none","boundary_m":[[[0,0],[90000,0],[90000,9],[0,9]]],"row_gap_m":0.1,"rows_per_belt":900,"alley_m":0.1}`), "alley_m"},
	} {
		var out bytes.Buffer
		err := Run(c.name, false, false, strings.NewReader(c.in), &out)
		var answer struct {
			Error struct{ Kind, Field, Message string }
		}
		if json.Unmarshal(out.Bytes(), &answer) != nil || !errors.Is(err, ErrRefused) || answer.Error.Field != c.field {
			t.Errorf("%s %s: %v %s, should refuse %s", c.name, c.in, err, out.String(), c.field)
		}
	}
}
