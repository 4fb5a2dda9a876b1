package paper_test

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/ground"
	"rowtally/internal/paper"
	"rowtally/internal/rows"
)

func TestMapIsKeptToTenthsOfAMetre(t *testing.T) {
	m := paper.MapOf(
		[]ground.Polygon{{Outer: ground.Ring{{E: 0, N: 0}, {E: 100.04, N: -0.04}, {E: 99.96, N: 50.25}}, Holes: []ground.Ring{{{E: 10, N: 10}, {E: 20, N: 10}, {E: 15, N: 20}}}}},
		[]ground.Polygon{{Outer: ground.Ring{{E: 1, N: 2}, {E: 3, N: 4}, {E: 5, N: 7}}}},
		rows.Plan{BearingDeg: 90, LeftM: -10, Rows: []rows.Row{{Number: 1, OffsetM: 4, Spans: []rows.Span{{FromM: 5, ToM: 60, LengthM: 55}}}}})
	text, err := m.Text()
	if err != nil {
		t.Fatal(err)
	}
	want := `{"outline":[[[0,0],[100,0],[100,50.3]]],"holes":[[[10,10],[20,10],[15,20]]],"no_go":[[[1,2],[3,4],[5,7]]],"rows":[[5,6,60,6]]}`
	if text != want {
		t.Errorf("the map reads\n%s, not\n%s", text, want)
	}
}

func TestMapRefusesWhatIsNoPlace(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), -1e12} {
		if text, err := (paper.Map{Outline: []paper.Ring{{{paper.Metres(bad), 0}}}}).Text(); err == nil {
			t.Errorf("%v was kept as %s", bad, text)
		}
	}
}

func TestMapOfAWholePaddockStaysSmall(t *testing.T) {
	if text := planPicture(true); len(text) > 8000 {
		t.Errorf("a paddock of some 100 stretches takes %d bytes", len(text))
	}
}

// The picture shows its scale and what its lines mean, each only where it is drawn.
func TestPictureExplainsItself(t *testing.T) {
	pr, p := press(t), invoice()
	pdf, err := pr.Invoice(p)
	holds(t, textOf(t, printed(t, pdf, err)), "200 m", "planned", "sown", "no-go")
	p.Map = `{"outline":[[[0,0],[90,0],[90,40]]],"rows":[[5,5,60,5]]}`
	pdf, err = pr.Invoice(p)
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "20 m", "planned")
	lacks(t, text, "no-go", "planned sown")
	for _, none := range []string{"", `{"outline":[]}`, `{"outline":null,"rows":[[1,2,3,4]]}`} {
		p.Map = none
		pdf, err = pr.Invoice(p)
		if text := textOf(t, printed(t, pdf, err)); strings.Contains(text, "planned  ") {
			t.Errorf("map %q was drawn", none)
		}
	}
}

// Rings and rows that no paddock has, from a store gone wrong, still print a paper.
func TestOddMapsDoNotStopAPaper(t *testing.T) {
	pr, p := press(t), quote()
	for _, odd := range []string{`{"outline":[[]]}`, `{"outline":[[[1,1]]]}`, `{"outline":[[[1,1],[1,1],[1,1]]],"no_go":[[]],"holes":[[]]}`,
		`{"outline":[[[0,0],[0,9000],[1,9000]]]}`} {
		p.Map = odd
		pdf, err := pr.Quote(p)
		if out := run(t, printed(t, pdf, err), "qpdf", "--check", "PAPER"); !strings.Contains(out, "No syntax") {
			t.Errorf("map %s: %s", odd, out)
		}
	}
}
