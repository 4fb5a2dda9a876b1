package bill

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

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

// AgreedBy is the paper as a yes makes it: in the alternative that the yes names, where there are
// several; the optional lines that it names count, and those that it does not name are left
// out. A yes that leaves the alternative open is refused ("alternative"), and one that names a line which is
// not optional ("options").
func (p Paper) AgreedBy(yes Acceptance) (Paper, error) {
	p, err := p.By(yes.Alternative)
	if err != nil {
		return p, err
	}
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
	_, err = p.AddUp()
	return p, err
}

// Says is all that a paper says, its number, issue and issuer's person left out: two papers
// that say the same are the same offer, whoever pressed the button. What an alternative is planned to
// cost is left out too: no farmer reads it.
func (p Paper) Says() string {
	p.ID, p.Serial, p.Number, p.Revision, p.Year, p.SHA256, p.Reference = 0, 0, "", 0, 0, "", ""
	p.IssuedAt, p.PersonID, p.PersonName, p.SownSheet = time.Time{}, 0, "", ""
	p.Lines, p.Lots, p.Alternatives = slices.Clone(p.Lines), slices.Clone(p.Lots), slices.Clone(p.Alternatives)
	for i := range p.Alternatives {
		p.Alternatives[i].Cost = ""
	}
	for i := range p.Lines {
		p.Lines[i].PaperID, p.Lines[i].Position = 0, i+1
	}
	for i := range p.Lots {
		p.Lots[i].PaperID, p.Lots[i].Position = 0, i+1
	}
	text, err := json.Marshal(p)
	if err != nil {
		return err.Error() // a paper holds nothing that cannot be written
	}
	return string(text)
}

// toldPrefix begins the address of a yes that came by no network.
const toldPrefix = "told "

// ToldAddress is where a yes came from that the farmer told somebody: "told by phone, entered
// by Ada Contractor".
func ToldAddress(how, enteredBy string) string { return toldPrefix + how + ", entered by " + enteredBy }

// Told tells how a yes was told and who entered it; "" for one given by the farm's own link.
func (a Acceptance) Told() string {
	if !strings.HasPrefix(a.Address, toldPrefix) {
		return ""
	}
	return a.Address
}
