package bill

import (
	"database/sql/driver"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rowtally/internal/fault"
)

// Positions are lines of a paper by their place on it, from 1. The store keeps them as text,
// "3 5".
type Positions []int

// String writes the positions as the store keeps them.
func (p Positions) String() string {
	words := make([]string, len(p))
	for i, n := range p {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, " ")
}

// Value keeps the positions as text.
func (p Positions) Value() (driver.Value, error) { return p.String(), nil }

// Scan reads the positions back from the store.
func (p *Positions) Scan(src any) error {
	*p = nil
	for _, word := range strings.Fields(fmt.Sprintf("%s", src)) {
		n, err := strconv.Atoi(word)
		if err != nil {
			return fmt.Errorf("%q is no place of a line: %w", word, err)
		}
		*p = append(*p, n)
	}
	return nil
}

// GormDataType names the column type to the store.
func (Positions) GormDataType() string { return "text" }

// AgreedBy is the paper as a yes makes it: the optional lines that the yes names count, and
// those that it does not name are left out. A yes that names a line which is not optional is
// refused ("options").
func (p Paper) AgreedBy(yes Acceptance) (Paper, error) {
	lines := p.Lines
	p.Lines = nil
	for _, l := range lines {
		chosen := slices.Contains(yes.Options, l.Position)
		if l.Optional && !chosen {
			continue
		}
		if chosen && !l.Optional {
			return p, fault.Refuse("options", "line %d of %s is in its total already, choose among the optional lines", l.Position, p.Number)
		}
		l.Optional = false
		p.Lines = append(p.Lines, l)
	}
	for _, n := range yes.Options {
		if !slices.ContainsFunc(lines, func(l PaperLine) bool { return l.Position == n }) {
			return p, fault.Refuse("options", "%s has no line %d, choose among its optional lines", p.Number, n)
		}
	}
	_, err := p.AddUp()
	return p, err
}
