package paper

import (
	"bytes"
	"slices"
	"strings"
	"time"

	"github.com/jung-kurt/gofpdf"
)

// colour is red, green, blue, 0..255. Those of the papers stay apart in black and white.
type colour [3]int

var (
	ink   = colour{34, 38, 31}
	soft  = colour{88, 94, 82}
	faint = colour{190, 185, 172}
	bush  = colour{84, 104, 90}
	salt  = colour{230, 226, 216}
	white = colour{255, 255, 255}
)

// pen draws on the pages of one PDF, in millimetres from the page's top left.
type pen struct {
	pdf   *gofpdf.Fpdf
	faces map[*face]bool
	face  *face // in hand, with its size
	pt    float64
}

// newPen opens a PDF whose bytes depend on what is drawn and on the moment given alone.
func newPen(title, author string, made time.Time) *pen {
	if made.IsZero() {
		made = time.Unix(0, 0) // the zero time would be replaced by the clock's
	}
	pdf := gofpdf.New("P", "mm", "A4", "")
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(made.UTC())
	pdf.SetModificationDate(made.UTC())
	pdf.SetProducer("Rowtally", true)
	pdf.SetTitle(title, true)
	pdf.SetAuthor(author, true)
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	return &pen{pdf: pdf, faces: map[*face]bool{}}
}

// bytes closes the PDF.
func (p *pen) bytes() ([]byte, error) {
	var out bytes.Buffer
	err := p.pdf.Output(&out)
	return out.Bytes(), err
}

// take puts a face in hand. The PDF writer changes the bytes it is given, so each paper
// has a copy of its own.
func (p *pen) take(f *face, pt float64) {
	if p.face == f && p.pt == pt {
		return
	}
	p.face, p.pt = f, pt
	if !p.faces[f] {
		p.pdf.AddUTF8FontFromBytes(f.name, "", slices.Clone(f.ttf))
		p.faces[f] = true
	}
	p.pdf.SetFont(f.name, "", pt)
}

// write sets a text on one line, starting at x on the baseline y.
func (p *pen) write(s style, x, y float64, text string) {
	line := text
	if !isPlain(text) {
		line = strings.ReplaceAll(s.face.clean(text), "\n", " ")
	}
	p.pdf.SetTextColor(s.ink[0], s.ink[1], s.ink[2])
	for _, part := range s.face.runs(line) {
		p.take(part.face, s.pt)
		p.pdf.Text(x, y, part.text)
		x += s.span(part.text)
	}
}

// right sets a text so that it ends at x.
func (p *pen) right(s style, x, y float64, text string) {
	p.write(s, x-s.widthMM(text), y, text)
}

// middle sets a text centred on x.
func (p *pen) middle(s style, x, y float64, text string) {
	p.write(s, x-s.widthMM(text)/2, y, text)
}

// lines sets wrapped lines below one another, the first on the baseline y.
func (p *pen) lines(s style, x, y float64, lines []string) {
	for i, line := range lines {
		p.write(s, x, y+float64(i)*s.leadMM(), line)
	}
}

// atPoint sets a figure so that its decimal point, or its end where it has none, stands
// at x.
func (p *pen) atPoint(s style, x, y float64, figure string) {
	whole, _, _ := strings.Cut(figure, ".")
	p.write(s, x-s.widthMM(whole), y, figure)
}

// ruled sets the colour and width of lines to come.
func (p *pen) ruled(c colour, mm float64) {
	p.pdf.SetDrawColor(c[0], c[1], c[2])
	p.pdf.SetLineWidth(mm)
}

func (p *pen) line(x1, y1, x2, y2 float64) { p.pdf.Line(x1, y1, x2, y2) }

// box draws an empty rectangle.
func (p *pen) box(x, y, w, h float64) { p.pdf.Rect(x, y, w, h, "D") }

// dashed draws with broken lines.
func (p *pen) dashed(draw func()) {
	p.pdf.SetDashPattern([]float64{0.9, 0.9}, 0)
	draw()
	p.pdf.SetDashPattern(nil, 0)
}

// dot draws a filled placement, ring one to act on.
func (p *pen) dot(x, y, radius float64, c colour) {
	p.pdf.SetFillColor(c[0], c[1], c[2])
	p.pdf.Circle(x, y, radius, "F")
}

func (p *pen) ring(x, y, radius float64, c colour) {
	p.dot(x, y, radius, white)
	p.ruled(c, 0.35)
	p.pdf.Circle(x, y, radius, "D")
}
