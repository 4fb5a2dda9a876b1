package job

import (
	"bytes"
	"encoding/csv"
	"strings"

	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Table is figures that leave for the bookkeeper: numbers stay numbers.
type Table struct {
	Name  string
	Heads []string
	Rows  [][]Cell
}

// Cell is one field of a table: a text, a day as 2026-07-20, or a number.
type Cell struct {
	Text   string
	Number *money.Factor // nil for a text
}

func said(s string) Cell               { return Cell{Text: s} }
func onDay(d unit.Date) Cell           { return Cell{Text: string(d)} }
func numbered(f money.Factor) Cell     { return Cell{Number: &f} }
func amounted(c money.Cents) Cell      { return numbered(c.Factor()) }
func thousandths(n int64) money.Factor { return money.Whole(n).Times(money.MustFactor("0.001")) }

// plainText keeps a spreadsheet from taking a text for a formula.
func plainText(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}

// String is the cell as a file of comma-separated values holds it: a number in plain digits
// with a point.
func (c Cell) String() string {
	if c.Number != nil {
		return c.Number.Plain()
	}
	return plainText(c.Text)
}

// CSV is the table as comma-separated values with its heads (RFC 4180), in UTF-8.
func (t Table) CSV() ([]byte, error) {
	var out bytes.Buffer
	writer := csv.NewWriter(&out)
	writer.UseCRLF = true
	lines := [][]string{t.Heads}
	for _, row := range t.Rows {
		line := make([]string, len(row))
		for i, cell := range row {
			line[i] = cell.String()
		}
		lines = append(lines, line)
	}
	err := writer.WriteAll(lines)
	return out.Bytes(), err
}
