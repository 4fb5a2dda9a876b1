package bank

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Line is one movement of the account.
type Line struct {
	Day    unit.Date
	Amount money.Cents // above 0 where money came in
	Who    string      // the other party, as the bank names it; "" when it does not
	Text   string      // what was written with it
	Key    string      // the same for the same movement in a later file
}

// Words is all that the bank says of the line beside its figures.
func (l Line) Words() string { return strings.TrimSpace(l.Who + " " + l.Text) }

// Skipped is a row of the file that was not read, and why.
type Skipped struct {
	At  int // row of the file, the first is 1
	Why string
}

// keyed gives every line without a reference of the bank's own its key: its figures and
// words, and which one of equal lines it is, so that two equal payments stay two and a file
// that overlaps an earlier one brings none of them twice.
func keyed(lines []Line) []Line {
	seen := map[string]int{}
	for i := range lines {
		l := &lines[i]
		said := l.Key
		if said == "" {
			said = fmt.Sprintf("%s|%d|%s|%s", l.Day, l.Amount, l.Who, l.Text)
		}
		seen[said]++
		sum := sha256.Sum256(fmt.Appendf(nil, "%s|%d", said, seen[said]))
		l.Key = hex.EncodeToString(sum[:16])
	}
	return lines
}

// squeezed is text with its white space in single spaces.
func squeezed(text string) string { return strings.Join(strings.Fields(text), " ") }
