package paper_test

import (
	"html"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// word is a word as a reader's program finds it on a page, in points from the top left.
type word struct {
	page                   int
	xMin, yMin, xMax, yMax float64
	text                   string
}

// words asks poppler where each word of a paper stands.
func words(t *testing.T, pdf []byte) []word {
	t.Helper()
	out := run(t, pdf, "pdftotext", "-bbox", "PAPER", "-")
	entry := regexp.MustCompile(`<page |<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*)</word>`)
	page, all := 0, []word{}
	for _, m := range entry.FindAllStringSubmatch(out, -1) {
		if m[0] == "<page " {
			page++
			continue
		}
		w := word{page: page, text: html.UnescapeString(m[5])}
		for i, side := range []*float64{&w.xMin, &w.yMin, &w.xMax, &w.yMax} {
			*side, _ = strconv.ParseFloat(m[i+1], 64)
		}
		all = append(all, w)
	}
	if len(all) < 20 {
		t.Fatalf("only %d words found", len(all))
	}
	return all
}

// heightOfPt is how high the text face's boxes are: its ascent and descent, per point.
const heightOfPt = 1.3

// pt is the size in which a word of the text face is set.
func (w word) pt() float64 { return (w.yMax - w.yMin) / heightOfPt }

// overlaps tells whether what two words leave on the paper overlaps. A box holds room above
// the tallest letter and below the deepest; a figure has nothing below its baseline.
func (w word) overlaps(v word) bool {
	const slackPt = 0.4
	wide := math.Min(w.xMax, v.xMax) - math.Max(w.xMin, v.xMin)
	top, bottom := math.Max(w.top(), v.top()), math.Min(w.bottom(), v.bottom())
	return w.page == v.page && wide > slackPt && bottom-top > slackPt
}

func (w word) top() float64 { return w.yMin + 0.22*w.pt() }

func (w word) bottom() float64 {
	if strings.Trim(w.text, "0123456789.,$") == "" {
		return w.yMax - 0.29*w.pt()
	}
	return w.yMax - 0.09*w.pt()
}

func TestNothingOverlapsAndNothingLeavesThePage(t *testing.T) {
	pr := press(t)
	const leftPt, rightPt, topPt, bottomPt = 8 / 25.4 * 72, 202 / 25.4 * 72, 5 / 25.4 * 72, 290 / 25.4 * 72
	for name, print := range printings {
		pdf, err := print(pr)
		all := words(t, printed(t, pdf, err))
		for i, w := range all {
			if w.xMin < leftPt || w.xMax > rightPt || w.yMin < topPt || w.yMax > bottomPt {
				t.Errorf("%s, page %d: %q stands outside the margins: %+v", name, w.page, w.text, w)
			}
			for _, v := range all[:i] {
				if w.overlaps(v) {
					t.Errorf("%s, page %d: %q and %q overlap: %+v %+v", name, w.page, v.text, w.text, v, w)
				}
			}
		}
	}
}

var amount = regexp.MustCompile(`^\$?[\d,]+\.\d\d$`)

func TestAmountsStandOnOneLineAtTheirPoint(t *testing.T) {
	pdf, err := press(t).Invoice(invoice())
	points := map[string]float64{}
	for _, w := range words(t, printed(t, pdf, err)) {
		if amount.MatchString(w.text) && w.xMax > 510 {
			point := 0.210 // advance of the point in ems, in the text face and in the bold one
			if w.pt() > 12 {
				point = 0.272
			}
			points[w.text] = w.xMax - (2*0.632+point/2)*w.pt()
		}
	}
	if len(points) < 7 {
		t.Fatalf("only %d amounts found: %v", len(points), points)
	}
	for text, at := range points {
		if math.Abs(at-points["430.92"]) > 0.1 {
			t.Errorf("the point of %s stands at %.2f pt, that of 430.92 at %.2f", text, at, points["430.92"])
		}
	}
}

func TestTotalIsTheLastAndLargestAmount(t *testing.T) {
	p := invoice()
	pdf, err := press(t).Invoice(p)
	var largest, last word
	for _, w := range words(t, printed(t, pdf, err)) {
		if w.xMax < 510 || !amount.MatchString(w.text) {
			continue
		}
		if w.yMax-w.yMin > largest.yMax-largest.yMin {
			largest = w
		}
		if w.yMin > last.yMin {
			last = w
		}
	}
	if want := "$" + p.Total.Shown(); largest.text != want || last.text != want {
		t.Errorf("the largest amount is %s, the last %s, the total %s", largest.text, last.text, want)
	}
}

func TestGramsAreReadAtArmsLength(t *testing.T) {
	pdf, err := press(t).Mixing(sheet(1))
	found := 0
	for _, w := range words(t, printed(t, pdf, err)) {
		if w.text != "308" && w.text != "155.4" && !strings.HasSuffix(w.text, "092") {
			continue
		}
		found++
		if w.pt() < 20 {
			t.Errorf("%s is set at %.1f pt, less than 20", w.text, w.pt())
		}
	}
	if found < 3 {
		t.Errorf("%d of the 3 weights of tub 1 found", found)
	}
}
