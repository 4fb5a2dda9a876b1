package walk

import (
	"regexp"
	"strconv"
)

// between is what stands between the thousands of a figure, on pages and on papers.
var between = regexp.MustCompile(`(\d)[\x{2009}\x{202f}\x{a0},](\d{3})`)

// figuresJoined takes the marks between thousands out, and writes one minus.
func figuresJoined(text string) string {
	for between.MatchString(text) {
		text = between.ReplaceAllString(text, "$1$2")
	}
	return text
}

// fixed writes a figure with so many decimals, as a page shows it once its thousands are
// joined.
func fixed(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
