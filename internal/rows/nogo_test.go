package rows

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"rowtally/internal/ground"
)

// middle is 1.8 km by 2.2 km of ground about 36.4° S 140.1° E, with rows along the middle
// meridian alone.
func middle(t *testing.T, noGo string) Plan {
	t.Helper()
	in := single(nil)
	in.BoundaryM, in.HeadlandM, in.AlleyM = nil, 30, 5000
	in.NoGoMarginM = metres(20)
	if err := json.Unmarshal([]byte(`{"type":"Polygon","coordinates":[[[140.09,-36.41],[140.11,-36.41],[140.11,-36.39],[140.09,-36.39],[140.09,-36.41]]]}`), &in.Boundary); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(noGo), &in.NoGo); err != nil {
		t.Fatal(err)
	}
	left := ground.NewFrame(in.Boundary.Centre()).ToPlane(ground.LatLon{Lat: -36.39, Lon: 140.09})
	in.PhaseM = metres(-left.E)
	return laid(t, in)
}

// arc is the meridian between two latitudes, 100 m or so long.
func arc(southDeg, northDeg float64) float64 {
	return ground.WGS84.Between(ground.LatLon{Lat: southDeg, Lon: 140.1}, ground.LatLon{Lat: northDeg, Lon: 140.1}).DistanceM
}

func TestLinesAndPointsAreKeptClearOf(t *testing.T) {
	whole := arc(-36.41, -36.39) - 60
	for _, c := range []struct {
		name, noGo string
		rowM       float64
		spans      int
	}{
		{"nothing", `[]`, whole, 1},
		{"a trough on the row", `[{"type":"Point","coordinates":[140.1,-36.4]}]`, whole - 40, 2},
		{"two troughs", `[{"type":"MultiPoint","coordinates":[[140.1,-36.4],[140.1,-36.395]]}]`, whole - 80, 3},
		{"a pipe across", `[{"type":"LineString","coordinates":[[140.098,-36.4],[140.102,-36.4]]}]`, whole - 40, 2},
		{"a pipe along", `[{"type":"LineString","coordinates":[[140.1,-36.401],[140.1,-36.399]]}]`, whole - arc(-36.401, -36.399) - 40, 2},
		{"a pipe in a feature", `[{"type":"Feature","geometry":{"type":"MultiLineString","coordinates":[[[140.098,-36.4],[140.102,-36.4]]]}}]`, whole - 40, 2},
		{"a dam", `[{"type":"Polygon","coordinates":[[[140.098,-36.402],[140.102,-36.402],[140.102,-36.4],[140.098,-36.4],[140.098,-36.402]]]}]`, whole - arc(-36.402, -36.4) - 40, 2},
		{"a dam outside", `[{"type":"Polygon","coordinates":[[[140.2,-36.402],[140.21,-36.402],[140.2,-36.4],[140.2,-36.402]]]}]`, whole, 1},
	} {
		p := middle(t, c.noGo)
		// An end beside a parallel lies a hair off the meridian's own measure.
		if math.Abs(p.RowM-c.rowM) > 2e-3 || p.SpanCount != c.spans || p.RowCount != 1 {
			t.Errorf("%s: %.4f m in %d spans, by hand %.4f m in %d", c.name, p.RowM, p.SpanCount, c.rowM, c.spans)
		}
	}
}

// Two paddocks of one job are laid out as one, from the left-most corner of both.
func TestPaddockInTwoParts(t *testing.T) {
	frame := ground.NewFrame(ground.LatLon{Lat: -36.4, Lon: 140.1})
	part := func(west, south float64) ground.GeoPolygon {
		var ring ground.GeoRing
		for _, at := range ring2(west, south) {
			ring = append(ring, frame.ToEarth(at))
		}
		return ground.GeoPolygon{Outer: ring}
	}
	in := single(nil)
	in.BoundaryM, in.HeadlandM, in.PhaseM = nil, 10, metres(12)
	in.Boundary = ground.Shape{part(-100, -50), part(40, -200)}
	p := laid(t, in) // 60 m wide, 100 m long each, 140 m apart across
	if p.RowCount != 8 || p.Turns != 7 {
		t.Errorf("%+v", p.Totals)
	}
	if math.Abs(p.RowM-8*80) > 1e-3 || math.Abs(p.PaddockM2-2*6000) > 0.01 {
		t.Errorf("%v m of rows on %v m²", p.RowM, p.PaddockM2)
	}
	for i, want := range []float64{12, 22, 32, 42, 152, 162, 172, 182} {
		if math.Abs(p.Rows[i].OffsetM-want) > 1e-9 || p.Rows[i].Belt != i+1 || p.Rows[i].Number != i+1 {
			t.Errorf("%+v", p.Rows[i])
		}
	}
}

func ring2(west, south float64) ground.Ring {
	return ring(west, south, west+60, south, west+60, south+100, west, south+100)
}

func TestRefusalsOfGoCallers(t *testing.T) {
	rect := func() Input { return single(ring(0, 0, 100, 0, 100, 500, 0, 500)) }
	for says, spoil := range map[string]func(*Input){
		"the headland is NaN":                func(in *Input) { in.HeadlandM = math.NaN() },
		"the alley is +Inf":                  func(in *Input) { in.AlleyM = math.Inf(1) },
		"the bearing is NaN":                 func(in *Input) { in.BearingDeg = math.NaN() },
		"the gap between rows is NaN":        func(in *Input) { in.RowGapM = metres(math.NaN()) },
		"needs the gap between its rows":     func(in *Input) { in.RowsPerBelt = 2 },
		"one in metres, give one of the two": func(in *Input) { in.Boundary = ground.Shape{{}} },
		"at most 10000 are taken":            func(in *Input) { in.NoGo = make([]NoGo, 10_001) },
		"runs round a pole": func(in *Input) {
			in.BoundaryM, in.Boundary = nil, ground.Shape{{Outer: ground.GeoRing{{Lat: -60, Lon: 0}, {Lat: -60, Lon: 120}, {Lat: -60, Lon: 240}}}}
		},
		"the paddock is 111 km across": func(in *Input) {
			in.BoundaryM, in.Boundary = nil, ground.Shape{{Outer: ground.GeoRing{{Lat: -36, Lon: 140}, {Lat: -36, Lon: 140.1}, {Lat: -37, Lon: 140}}}}
		},
		"the boundary is missing":      func(in *Input) { in.BoundaryM = nil },
		"at most 200000 are laid out":  func(in *Input) { in.BoundaryM.Outer[1].E, in.BoundaryM.Outer[2].E, in.AlleyM = 3e4, 3e4, 0.1 },
		"give the no-go area as rings": func(in *Input) { in.NoGo = []NoGo{{Geometry: &ground.Geometry{}}} },
		"corner 1 lies at +Inf":        func(in *Input) { in.BoundaryM.Outer[0].E = math.Inf(1) },
		"a ring needs at least 3":      func(in *Input) { in.BoundaryM.Outer = nil },
		"the outside crosses itself": func(in *Input) {
			in.BoundaryM.Outer[0], in.BoundaryM.Outer[1] = in.BoundaryM.Outer[1], in.BoundaryM.Outer[0]
		},
		"they meet over 20000000 times":         func(in *Input) { *in = crowded() },
		"hole 1 lies outside its polygon":       func(in *Input) { in.BoundaryM.Holes = []ground.Ring{ring(200, 0, 210, 0, 200, 10)} },
		"no_go[1]: the corners of the outside ": func(in *Input) { in.NoGo = []NoGo{area(ring(1, 1, 2, 1, 1, 2)), area(ring(1, 1, 2, 2, 3, 3))} },
	} {
		in := rect()
		spoil(&in)
		_, err := Lay(in)
		if err == nil || !strings.Contains(fieldOf(err)+": "+err.Error(), says) {
			t.Errorf("%v, should say %q", err, says)
		}
	}
}

func area(outer ground.Ring) NoGo { return NoGo{PolygonM: &ground.Polygon{Outer: outer}} }

// crowded has 400 teeth as long as the paddock is wide, and 100 000 rows across them all.
func crowded() Input {
	var r ground.Ring
	for i := range 400 {
		r = append(r, ground.Point{E: 10_000 * float64(i%2), N: float64(i)})
	}
	in := single(append(r, ground.Point{E: -5, N: 500}, ground.Point{E: -5, N: -5}))
	in.AlleyM = 0.1
	return in
}
