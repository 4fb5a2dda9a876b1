package paper_test

import (
	"strings"
	"testing"
)

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
	lacks(t, text, "no-go", "missed")
	p.Map = `{"outline":[[[0,0],[90,0],[90,40]]],"sown":[[5,5,40,5]],"missed":[[40,5,60,5]]}`
	pdf, err = pr.Invoice(p)
	text = textOf(t, printed(t, pdf, err))
	holds(t, text, "sown", "missed")
	lacks(t, text, "planned  ")
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
