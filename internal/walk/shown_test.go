package walk

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// between is what stands between the thousands of a figure, on pages and on papers.
var between = regexp.MustCompile(`(\d)[\x{2009}\x{202f},]\x{2060}?(\d{3})`)

// figuresJoined takes the marks between thousands out, and lets every blank be a plain one.
func figuresJoined(text string) string {
	for between.MatchString(text) {
		text = between.ReplaceAllString(text, "$1$2")
	}
	return strings.ReplaceAll(text, "\u00a0", " ")
}

// fixed writes a figure with so many decimals, as a page shows it once its thousands are
// joined.
func fixed(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// spaced sets the thousands of a whole figure apart, as a PDF's thin space reads.
func spaced(whole string) string {
	if n := len(whole); n > 3 {
		return spaced(whole[:n-3]) + " " + whole[n-3:]
	}
	return whole
}

// short writes a figure to a tenth, without a needless ".0".
func short(v float64) string { return strings.TrimSuffix(fixed(v, 1), ".0") }

// count writes a whole number.
func count(n int) string { return strconv.Itoa(n) }

// near tells whether two figures are within so much of each other.
func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// same holds what a page shows of something against what it should.
func (w *walk) same(what, shown, want string) {
	w.t.Helper()
	if shown != want {
		w.t.Errorf("%s: the page shows %q, want %q", what, shown, want)
	}
}
