package job

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// beside is a paddock of about 900 m by 1 100 m with a dam, a pipe and a bore in it.
func beside(t *testing.T) Paddock {
	t.Helper()
	p := Paddock{Name: "Bore", Boundary: `{"type":"Polygon","coordinates":[[[140.10,-36.41],[140.11,-36.41],[140.11,-36.40],[140.10,-36.40],[140.10,-36.41]]]}`}
	p.NoGo = `{"type":"GeometryCollection","geometries":[{"type":"Point","coordinates":[140.105,-36.404]},{"type":"LineString","coordinates":[[140.102,-36.402],[140.104,-36.402]]},
		{"type":"Polygon","coordinates":[[[140.102,-36.407],[140.103,-36.407],[140.103,-36.406],[140.102,-36.407]]]}]}`
	return p
}

func surveyOf(t *testing.T, p Paddock) Ground {
	t.Helper()
	g, err := Survey(p)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestClearancesAreReadAndWrittenAsTyped(t *testing.T) {
	g := surveyOf(t, beside(t))
	edges, err := g.ReadEdges("b to c: 12 m, drain\r\nfrom corner D to corner A: 7.5")
	if err != nil {
		t.Fatal(err)
	}
	margins, err := g.ReadMargins("3: 30 m, bore\nno-go 1, 15")
	if err != nil {
		t.Fatal(err)
	}
	l := Layout{RowsPerBelt: 1, AlleyM: 20, HeadlandM: 5, NoGoMarginM: 5, SpacingM: 3, Edges: edges, NoGoMargins: margins}
	if typed := g.EdgesTyped(l); typed != "B to C: 12 m, drain\nD to A: 7.5 m" {
		t.Errorf("%q", typed)
	}
	if typed := g.MarginsTyped(l); typed != "3: 30 m, bore\n1: 15 m" {
		t.Errorf("%q", typed)
	}
	in, err := planInput(g, l)
	if err != nil || len(in.NoGo) != 3 || *in.NoGo[2].MarginM != 30 || *in.NoGo[0].MarginM != 15 || in.NoGo[1].MarginM != nil {
		t.Errorf("%+v %v", in.NoGo, err)
	}
	if in.Edges[0].FromCorner != 2 || in.Edges[0].ToCorner != 3 || in.Edges[1].FromCorner != 4 || in.Edges[1].ToCorner != 1 {
		t.Errorf("%+v", in.Edges)
	}
}

func TestClearancesThatMeanNothingAreRefused(t *testing.T) {
	g := surveyOf(t, beside(t))
	for text, says := range map[string]string{
		"C: 12": "is not understood", "A to E: 12": "there is no corner E, the corners run from A to D",
		"A to B: 900": "enter 0 to 500", "A to B: 1.2.3": "cannot be",
	} {
		if _, err := g.ReadEdges(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, should say %q", text, err, says)
		}
	}
	for text, says := range map[string]string{
		"4: 12": "there is no no-go 4, they are numbered from 1 to 3", "0: 12": "there is no no-go 0", "bore: 3": "is not understood",
	} {
		if _, err := g.ReadMargins(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, should say %q", text, err, says)
		}
	}
}

// A drain must not lose its headland, nor give it to another edge, because the boundary was
// read anew.
func TestABoundaryReadAnewIsSaidAgain(t *testing.T) {
	p := beside(t)
	g := surveyOf(t, p)
	edges, _ := g.ReadEdges("A to B: 40, drain")
	l := Layout{RowsPerBelt: 1, AlleyM: 20, HeadlandM: 5, NoGoMarginM: 5, SpacingM: 3, Edges: edges}
	before, err := Lay(p, l)
	if err != nil {
		t.Fatal(err)
	}
	turned := p // the same corners from another on
	turned.Boundary = `{"type":"Polygon","coordinates":[[[140.11,-36.40],[140.10,-36.40],[140.10,-36.41],[140.11,-36.41],[140.11,-36.40]]]}`
	if after, err := Lay(turned, l); err != nil || math.Abs(after.RowM-before.RowM) > 1e-6 {
		t.Errorf("%v m and %v m of the same ground (%v)", before.RowM, after.RowM, err)
	}
	moved := p
	moved.Boundary = strings.Replace(p.Boundary, "140.11,-36.41", "140.111,-36.41", 1)
	if _, err := Lay(moved, l); fault.KindOf(err) != fault.Refused || fault.Fields(err)["edges"] == "" {
		t.Errorf("%v, should ask for the corners again", err)
	}
}

func TestCornersAreNamedByLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 701: "ZZ", 702: "AAA"} {
		if got := CornerName(i); got != want || cornerNamed(strings.ToLower(want)) != i {
			t.Errorf("corner %d is %q, read back as %d", i, got, cornerNamed(want))
		}
	}
}

func TestNoGoOfAnyKindIsKept(t *testing.T) {
	g := surveyOf(t, beside(t))
	text, err := json.Marshal(g.NoGo)
	if err != nil {
		t.Fatal(err)
	}
	var back ground.Geometry
	if err := json.Unmarshal(text, &back); err != nil || len(back.Each()) != 3 || back.Points[0] != g.NoGo.Points[0] || back.Lines[0][1] != g.NoGo.Lines[0][1] {
		t.Errorf("%s reads as %+v (%v)", text, back, err)
	}
}
