package rows

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/ground"
)

// field is 300 m by 200 m with its fence along the south in two edges: corners 1 to 5 are
// (0, 0), (150, 0), (300, 0), (300, 200), (0, 200).
func field() Input {
	in := single(ring(0, 0, 150, 0, 300, 0, 300, 200, 0, 200))
	in.HeadlandM = 10
	return in
}

func TestAHeadlandOfItsOwnByHand(t *testing.T) {
	in := field()
	in.PhaseM = metres(150) // one row, along x = 150 where the two edges meet, and on
	in.AlleyM = 60
	near(t, "without", laid(t, in).RowM, 180+180+180) // at 150, 210, 270
	in.Edges = []Edge{{FromCorner: 2, ToCorner: 3, HeadlandM: 30}}
	near(t, "the drain along the south-east", laid(t, in).RowM, 160+160+160) // the end of the drain at 150 keeps its own 30 m round it
	in.PhaseM = metres(130)
	p := laid(t, in) // 20 m beside the drain's end: √(30² − 20²) up from the fence
	near(t, "beside the drain's end", p.Rows[0].Spans[0].LengthM, 190-math.Sqrt(500))
	in.Edges = []Edge{{3, 5, 40}, {4, 5, 20}} // the east and the north; the wider holds where both speak
	p = laid(t, in)                           // at 130, 190 and 250
	near(t, "round a corner, widest of two", p.RowM, 3*(200-10-40))
	in.Edges = []Edge{{5, 1, 50}} // past the last corner to the first: the west alone
	in.PhaseM = metres(40)
	p = laid(t, in)
	near(t, "the west", p.RowM, 4*180) // at 100, 160, 220, 280; not at 40
	in.Edges = []Edge{{5, 1, 0}}
	in.PhaseM = metres(5)
	near(t, "less than the rest", laid(t, in).RowM, 5*180) // at 5, 65, 125, 185, 245
}

func TestANoGoMarginOfItsOwn(t *testing.T) {
	in := field()
	in.AlleyM, in.PhaseM, in.NoGoMarginM = 200, metres(100), metres(5)
	dam := func(m *float64) NoGo {
		n := area(ring(90, 100, 110, 100, 110, 120, 90, 120))
		n.MarginM = m
		return n
	}
	in.NoGo = []NoGo{dam(nil)}
	near(t, "the margin of all", laid(t, in).RowM, 180-30)
	in.NoGo = []NoGo{dam(metres(12))}
	near(t, "a margin of its own", laid(t, in).RowM, 180-44)
	in.NoGo = []NoGo{dam(metres(0))}
	near(t, "none", laid(t, in).RowM, 180-20)
}

func TestClearancesAsJSON(t *testing.T) {
	var in Input
	raw := `{"boundary_m":[[[0,0],[150,0],[300,0],[300,200],[0,200]]],"headland_m":10,"edges":[{"from_corner":2,"to_corner":3,"headland_m":30}],
		"no_go":[{"rings":[[[90,100],[110,100],[110,120],[90,120]]],"margin_m":12},[[[190,100],[210,100],[210,120],[190,120]]]],"no_go_margin_m":5,
		"rows_per_belt":1,"alley_m":100,"phase_m":100,"placement_spacing_m":3}`
	if err := json.Unmarshal([]byte(raw), &in); err != nil {
		t.Fatal(err)
	}
	near(t, "row_m", laid(t, in).RowM, (180-44)+(160-30))
	p := middle(t, `[{"type":"Point","coordinates":[140.1,-36.4],"margin_m":33},{"type":"Point","coordinates":[140.1,-36.395]}]`)
	if whole := arc(-36.41, -36.39) - 60; math.Abs(p.RowM-(whole-66-40)) > 2e-3 {
		t.Errorf("%v m of rows beside a bore of 33 m and one of 20 m, by hand %v", p.RowM, whole-106)
	}
}

func TestRefusalsOfClearances(t *testing.T) {
	for says, spoil := range map[string]func(*Input){
		"edges[0].from_corner: there is no corner 6":                 func(in *Input) { in.Edges = []Edge{{6, 1, 5}} },
		"edges[0].to_corner: corner 9 is not of the outside":         func(in *Input) { in.Edges = []Edge{{1, 9, 5}} },
		"edges[1].to_corner: the stretch begins and ends at":         func(in *Input) { in.Edges = []Edge{{1, 2, 5}, {2, 2, 5}} },
		"edges[0].headland_m: the headland of its own is NaN":        func(in *Input) { in.Edges = []Edge{{1, 2, math.NaN()}} },
		"no_go[0].margin_m: the margin of its own is -1":             func(in *Input) { in.NoGo = []NoGo{{MarginM: metres(-1)}} },
		"phase_m: the first row's place is given and the best one":   func(in *Input) { in.PhaseM, in.BestPhase = metres(1), true },
		"headland_passes: the count of headland passes is 21":        func(in *Input) { in.HeadlandPasses = 21 },
		"headland_passes: a headland pass needs a headland on every": func(in *Input) { in.HeadlandPasses, in.Edges = 1, []Edge{{1, 2, 0}} },
	} {
		in := field()
		spoil(&in)
		if _, err := Lay(in); err == nil || !strings.Contains(fieldOf(err)+": "+err.Error(), says) {
			t.Errorf("%v, should say %q", err, says)
		}
	}
}

// The edge of a long side is found again where further corners were set along it.
func TestAHeadlandOfItsOwnOnLongEdges(t *testing.T) {
	var in Input
	raw := `{"boundary":{"type":"Polygon","coordinates":[[[140.09,-36.41],[140.11,-36.41],[140.11,-36.39],[140.09,-36.39],[140.09,-36.41]]]},
		"headland_m":10,"bearing_deg":0,"rows_per_belt":1,"alley_m":20,"placement_spacing_m":3,"edges":[{"from_corner":3,"to_corner":4,"headland_m":110}]}`
	if err := json.Unmarshal([]byte(raw), &in); err != nil {
		t.Fatal(err)
	}
	wide := laid(t, in)
	in.Edges = nil
	if plain := laid(t, in); plain.RowCount != wide.RowCount || math.Abs(plain.RowM-wide.RowM-100*float64(plain.RowCount)) > 0.02*float64(plain.RowCount) {
		t.Errorf("%v m and %v m in %d rows: 100 m of every row lie along the north", plain.RowM, wide.RowM, plain.RowCount)
	}
}

// A headland of its own on every edge is the headland; and what keeps more clear is never longer.
func TestHeadlandsOfTheirOwnAsLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := paddocks(t)
		corners := len(in.BoundaryM.Outer)
		plain, err := Lay(in)
		if err != nil {
			t.Fatal(err)
		}
		all := in
		all.HeadlandM, all.PhaseM = 0, metres(in.phase())
		for i := range corners {
			all.Edges = append(all.Edges, Edge{i + 1, (i+1)%corners + 1, in.HeadlandM})
		}
		if p, err := Lay(all); err != nil || math.Abs(p.RowM-plain.RowM) > 1e-6 {
			t.Fatalf("%v m edge by edge, %v m at once (%v)", p.RowM, plain.RowM, err)
		}
		more, at := in, rapid.IntRange(0, corners-1).Draw(t, "edge")
		more.Edges = []Edge{{at + 1, (at+1)%corners + 1, in.HeadlandM + rapid.Float64Range(0, 40).Draw(t, "more")}}
		p, err := Lay(more)
		if err != nil || p.RowM > plain.RowM+1e-6 {
			t.Fatalf("%v m with a wider headland, %v m before (%v)", p.RowM, plain.RowM, err)
		}
		own := more.Edges[0]
		a, b := in.BoundaryM.Outer[at], in.BoundaryM.Outer[(at+1)%corners]
		for _, row := range p.Rows {
			for _, span := range row.Spans {
				from, to := p.Ends(row, span)
				for _, end := range []ground.Point{from, to} {
					if off := distance(end, a, b); off < own.HeadlandM-1e-6 {
						t.Fatalf("row %d ends %v m from an edge that asks for %v m", row.Number, off, own.HeadlandM)
					}
				}
			}
		}
	})
}
