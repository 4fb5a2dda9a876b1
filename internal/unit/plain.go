package unit

import "strconv"

// Plain writes a number as it was entered: with the decimals that it has and no more.
func Plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Counted writes a count with its noun: "1 job", "2 jobs".
func Counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return Grouped(float64(n), 0) + " " + noun + "s"
}
