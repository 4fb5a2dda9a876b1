//go:build !race

package paper_test

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
	"math"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/jung-kurt/gofpdf"

	"rowtally/internal/paper"
)

// What a page may cost beside the PDF library drawing the same page by itself, with the same
// texts in the same places, the same lines and the same typefaces.
const mostBesideBare = 1.3

// onePage are the printings of papers of one page, as they are issued every day.
func onePage(pr *paper.Press) map[string]func() ([]byte, error) {
	billed, offered, mixed := invoice(), quote(), sheet(2)
	billed.Particulars = billed.Particulars[:1]
	offered.Particulars = offered.Particulars[:1]
	offered = totalled(offered, offered.Lines[:4]...)
	return map[string]func() ([]byte, error){
		"invoice": func() ([]byte, error) { return pr.Invoice(billed) },
		"quote":   func() ([]byte, error) { return pr.Quote(offered) },
		"mixing":  func() ([]byte, error) { return pr.Mixing(mixed) },
	}
}

func TestAPageCostsLittleMoreThanItsBareDrawing(t *testing.T) {
	pr := press(t)
	for name, print := range onePage(pr) {
		pdf, err := print()
		if pages := len(pagesOf(t, printed(t, pdf, err))); pages != 1 {
			t.Fatalf("%s: %d pages", name, pages)
		}
		page := recorded(t, pdf, pr.Typefaces())
		if dots := apart(picture(t, rendered(t, pdf, 1)), picture(t, rendered(t, page.draw(), 1))); dots != 0 {
			t.Fatalf("%s: the bare drawing differs in %d dots", name, dots)
		}
		ours, bare, ratio := besideOneAnother(func() { print() }, func() { page.draw() })
		for i, what := range []string{"ms of processor", "allocations", "bytes allocated"} {
			t.Logf("%s: %.4g %s beside %.4g bare, %.2f times", name, ours[i], what, bare[i], ratio[i])
			if ratio[i] > mostBesideBare {
				t.Errorf("%s: %.2f times the %s of the bare drawing, more than %.1f", name, ratio[i], what, mostBesideBare)
			}
		}
	}
}

// besideOneAnother does the one and the other in turns, and gives what one doing of each
// costs and how many times the other's cost the one's is, in the middle of all turns: what
// else the machine does in a turn lengthens both alike.
func besideOneAnother(one, other func()) (ones, others, ratios [3]float64) {
	const turns = 15
	var all [3][3][]float64
	for range turns {
		a, b := cost(one), cost(other)
		for i := range a {
			all[0][i], all[1][i], all[2][i] = append(all[0][i], a[i]), append(all[1][i], b[i]), append(all[2][i], a[i]/b[i])
		}
	}
	for k, into := range []*[3]float64{&ones, &others, &ratios} {
		for i := range into {
			slices.Sort(all[k][i])
			into[i] = all[k][i][turns/2]
		}
	}
	return ones, others, ratios
}

// cost is the milliseconds of processor, the allocations and the bytes allocated of one doing.
func cost(do func()) (spent [3]float64) {
	const times = 4
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	began := processorTime()
	for range times {
		do()
	}
	spent[0] = (processorTime() - began).Seconds() * 1000 / times
	runtime.ReadMemStats(&after)
	spent[1], spent[2] = float64(after.Mallocs-before.Mallocs)/times, float64(after.TotalAlloc-before.TotalAlloc)/times
	return spent
}

func processorTime() time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		panic(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}

// barePage is a page as calls of the PDF library.
type barePage struct {
	faces map[string][]byte // by name
	calls []func(*gofpdf.Fpdf)
}

// draw draws the page. The library changes the typefaces that it is given.
func (page barePage) draw() []byte {
	pdf := gofpdf.New("P", "mm", "A4", "")
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(time.Unix(0, 0))
	pdf.SetModificationDate(time.Unix(0, 0))
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	for name, ttf := range page.faces {
		pdf.AddUTF8FontFromBytes(name, "", slices.Clone(ttf))
	}
	pdf.AddPage()
	for _, call := range page.calls {
		call(pdf)
	}
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		panic(err)
	}
	return out.Bytes()
}

var (
	drawn = regexp.MustCompile(`(?s)BT /F([0-9a-f]{40}) ([\d.]+) Tf ET\n` +
		`|(?:q ([\d. ]+) rg )?BT ([\d.-]+ [\d.-]+) Td \(((?:\\.|[^\\)])*)\) Tj ET(?: Q)?\n` +
		`|[^\n]*\n`)
	faceObject = regexp.MustCompile(`(\d+) 0 obj\n<</Type /Font\n/Subtype /Type0\n/BaseFont /utf8(\S+)`)
	faceName   = regexp.MustCompile(`/F([0-9a-f]{40}) (\d+) 0 R`)
	escaped    = regexp.MustCompile(`(?s)\\(.)`)
)

// recorded reads the calls of a paper's first page back from its drawing: typefaces, texts
// and fills as calls, lines and curves as they stand.
func recorded(t *testing.T, pdf []byte, faces map[string][]byte) barePage {
	t.Helper()
	page, names := barePage{faces: faces}, map[string]string{}
	objects := map[string]string{}
	for _, m := range faceObject.FindAllSubmatch(pdf, -1) {
		objects[string(m[1])] = string(m[2])
	}
	for _, m := range faceName.FindAllSubmatch(pdf, -1) {
		names[string(m[1])] = objects[string(m[2])]
	}
	var now hand
	for _, op := range drawn.FindAllStringSubmatch(firstPage(t, pdf), -1) {
		if call := now.call(op, names); call != nil {
			page.calls = append(page.calls, call)
		}
	}
	if len(page.calls) < 60 || len(names) < 3 {
		t.Fatalf("only %d calls and %d typefaces found", len(page.calls), len(names))
	}
	return page
}

// hand is what the page's drawing has in hand at a place.
type hand struct {
	face string
	fill [3]int
}

// call is the call that draws one operation; nil for a typeface that is in hand already.
func (now *hand) call(op []string, names map[string]string) func(*gofpdf.Fpdf) {
	id, size, ink, place, text := op[1], op[2], op[3], numbers(op[4]), op[5]
	switch {
	case id != "" && now.face == id+size:
		return nil
	case id != "":
		now.face = id + size
		name, pt := names[id], numbers(size)[0]
		return func(pdf *gofpdf.Fpdf) { pdf.SetFont(name, "", pt) }
	case len(place) == 2:
		x, y, words, c := acrossMM(place[0]), downMM(place[1]), written(text), now.fill
		if ink != "" {
			c = colourOf(numbers(ink))
		}
		return func(pdf *gofpdf.Fpdf) { pdf.SetTextColor(c[0], c[1], c[2]); pdf.Text(x, y, words) }
	}
	return now.stroke(strings.TrimSuffix(op[0], "\n"))
}

// stroke is the call of one operation of drawing.
func (now *hand) stroke(line string) func(*gofpdf.Fpdf) {
	words := strings.Fields(line)
	operator, at := words[len(words)-1], numbers(line)
	var x, y [3]float64
	for i := range min(len(at)/2, 3) {
		x[i], y[i] = acrossMM(at[2*i]), downMM(at[2*i+1])
	}
	switch {
	case operator == "rg" || operator == "g":
		c := colourOf(at)
		now.fill = c
		return func(pdf *gofpdf.Fpdf) { pdf.SetFillColor(c[0], c[1], c[2]) }
	case operator == "RG" || operator == "G":
		c := colourOf(at)
		return func(pdf *gofpdf.Fpdf) { pdf.SetDrawColor(c[0], c[1], c[2]) }
	case operator == "w":
		mm := acrossMM(at[0])
		return func(pdf *gofpdf.Fpdf) { pdf.SetLineWidth(mm) }
	case operator == "m":
		return func(pdf *gofpdf.Fpdf) { pdf.MoveTo(x[0], y[0]) }
	case operator == "l":
		return func(pdf *gofpdf.Fpdf) { pdf.LineTo(x[0], y[0]) }
	case operator == "c":
		return func(pdf *gofpdf.Fpdf) { pdf.CurveBezierCubicTo(x[0], y[0], x[1], y[1], x[2], y[2]) }
	case strings.HasSuffix(line, " re S"):
		return func(pdf *gofpdf.Fpdf) { pdf.Rect(x[0], y[0], acrossMM(at[2]), -acrossMM(at[3]), "D") }
	case operator == "S" && len(at) == 4:
		return func(pdf *gofpdf.Fpdf) { pdf.Line(x[0], y[0], x[1], y[1]) }
	}
	return func(pdf *gofpdf.Fpdf) { pdf.RawWriteStr(line) }
}

const (
	ptPerMM = 72 / 25.4
	pageHPt = 841.89
)

func acrossMM(pt float64) float64 { return pt / ptPerMM }
func downMM(pt float64) float64   { return (pageHPt - pt) / ptPerMM }

// numbers are those in a line, in its order.
func numbers(line string) (out []float64) {
	for word := range strings.FieldsSeq(line) {
		if v, err := strconv.ParseFloat(word, 64); err == nil {
			out = append(out, v)
		}
	}
	return out
}

// colourOf reads one shade of grey, or red, green and blue, from 0..1 to 0..255.
func colourOf(parts []float64) (c [3]int) {
	for i := range c {
		c[i] = int(math.Round(255 * parts[i%len(parts)]))
	}
	return c
}

// written reads a text as a page has it: UTF-16 with escapes.
func written(text string) string {
	raw := escaped.ReplaceAllFunc([]byte(text), func(m []byte) []byte {
		if m[1] == 'r' {
			return []byte("\r")
		}
		return m[1:]
	})
	units := make([]uint16, len(raw)/2)
	for i := range units {
		units[i] = binary.BigEndian.Uint16(raw[2*i:])
	}
	return string(utf16.Decode(units))
}

// firstPage is the drawing of a paper's first page.
func firstPage(t *testing.T, pdf []byte) string {
	t.Helper()
	_, after, found := bytes.Cut(pdf, []byte("stream\n"))
	page, err := zlib.NewReader(bytes.NewReader(after))
	if !found || err != nil {
		t.Fatal("no page found", err)
	}
	text, err := io.ReadAll(page)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
