package unit

import (
	"strconv"
	"strings"
)

// thin is the space between thousands (U+2009): four figures and more are set apart.
const thin = "\u2009"

// Grouped writes a number with a fixed count of decimals (exact halves to even, by
// the binary value) and thousands set apart by a thin space.
func Grouped(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	sign, whole, rest := "", s, ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "−", whole[1:]
	}
	if dot := strings.IndexByte(whole, '.'); dot >= 0 {
		whole, rest = whole[:dot], whole[dot:]
	}
	if strings.Trim(whole+rest, "0.") == "" {
		sign = ""
	}
	var b strings.Builder
	b.WriteString(sign)
	for i, digit := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteString(thin)
		}
		b.WriteRune(digit)
	}
	return b.String() + rest
}
