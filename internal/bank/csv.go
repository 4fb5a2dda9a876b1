package bank

import (
	"encoding/csv"
	"strings"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// None says that a file has no such column.
const None = -1

// Columns says in which column of a CSV file what stands, from 0; None for what it lacks.
type Columns struct {
	Day, Amount, In, Out, Who, Text int
	MonthFirst                      bool // days are written 07/20/2026
	Head                            bool // the first row names the columns
}

// The most that is read of a file.
const (
	mostRows    = 50_000
	mostColumns = 60
)

// Table reads a CSV file, parted by commas, semicolons or tabs, whichever parts its rows the
// most alike. What is no table is refused (field "file").
func Table(text string) ([][]string, error) {
	var best [][]string
	for _, comma := range []rune{',', ';', '\t'} {
		r := csv.NewReader(strings.NewReader(text))
		r.Comma, r.FieldsPerRecord, r.LazyQuotes, r.TrimLeadingSpace = comma, -1, true, comma != '\t'
		rows, err := r.ReadAll()
		if err == nil && len(rows) > 0 && width(rows) > width(best) {
			best = rows
		}
	}
	switch {
	case width(best) < 2:
		return nil, fault.Refuse("file", "this is no table: choose the bank's CSV file, or its camt.053 statement")
	case len(best) > mostRows || width(best) > mostColumns:
		return nil, fault.Refuse("file", "the file has %d rows and %d columns, at most %d and %d are read: take fewer months", len(best), width(best), mostRows, mostColumns)
	}
	return best, nil
}

// width is how many columns most rows have.
func width(rows [][]string) int {
	counts, most := map[int]int{}, 0
	for _, row := range rows {
		counts[len(row)]++
		if counts[len(row)] > counts[most] {
			most = len(row)
		}
	}
	return most
}

// Guess names the columns by the words that banks head them with (common practice, no
// source).
func Guess(table [][]string) Columns {
	c := Columns{Day: None, Amount: None, In: None, Out: None, Who: None, Text: None}
	if len(table) == 0 {
		return c
	}
	for i, head := range table[0] {
		head = strings.ToLower(head)
		for _, guess := range []struct {
			at    *int
			words []string
		}{
			{&c.Day, []string{"date", "booked", "day"}}, {&c.In, []string{"credit", "paid in", "deposit"}}, {&c.Out, []string{"debit", "paid out", "withdrawal"}},
			{&c.Amount, []string{"amount", "value"}}, {&c.Who, []string{"payer", "name", "party", "from"}}, {&c.Text, []string{"narrat", "descr", "detail", "reference", "text", "particular"}},
		} {
			if *guess.at == None && hasAny(head, guess.words) {
				*guess.at, c.Head = i, true
				break
			}
		}
	}
	if c.In != None {
		c.Amount = None
	}
	return c
}

func hasAny(text string, words []string) bool {
	for _, w := range words {
		if strings.Contains(text, w) {
			return true
		}
	}
	return false
}

// Check refuses columns that cannot be: one that the file lacks, no day, no amount, or both
// an amount and a column of what came in.
func (c Columns) Check(columns int) error {
	for _, one := range []struct {
		field string
		at    int
	}{{"day", c.Day}, {"amount", c.Amount}, {"in", c.In}, {"out", c.Out}, {"who", c.Who}, {"text", c.Text}} {
		if one.at < None || one.at >= columns {
			return fault.Refuse(one.field, "the file has no column %d, choose one of the list", one.at+1)
		}
	}
	switch {
	case c.Day == None:
		return fault.Refuse("day", "say in which column the day stands")
	case c.Amount == None && c.In == None:
		return fault.Refuse("amount", "say in which column the amount stands, or in which the money that came in")
	case c.Amount != None && c.In != None:
		return fault.Refuse("in", "choose the amount's column, or those of money in and out, not both")
	}
	return nil
}

// ReadCSV reads the rows of a table by its columns. Rows whose day or amount cannot be read
// are skipped with the reason.
func ReadCSV(table [][]string, c Columns) (lines []Line, skipped []Skipped, err error) {
	if err := c.Check(width(table)); err != nil {
		return nil, nil, err
	}
	for i, row := range table {
		if i == 0 && c.Head || len(row) == 1 && strings.TrimSpace(row[0]) == "" {
			continue
		}
		line, why := c.line(row)
		if why != "" {
			skipped = append(skipped, Skipped{i + 1, why})
			continue
		}
		lines = append(lines, line)
	}
	return keyed(lines), skipped, nil
}

func (c Columns) line(row []string) (Line, string) {
	cell := func(at int) string {
		if at == None || at >= len(row) {
			return ""
		}
		return squeezed(row[at])
	}
	day, ok := dayOf(cell(c.Day), c.MonthFirst)
	if !ok {
		return Line{}, "“" + cell(c.Day) + "” is no day"
	}
	line := Line{Day: day, Who: cell(c.Who), Text: cell(c.Text)}
	for _, part := range []struct {
		text string
		sign money.Cents
	}{{cell(c.Amount), 1}, {cell(c.In), 1}, {cell(c.Out), -1}} {
		if part.text == "" {
			continue
		}
		amount, ok := amountOf(part.text)
		if !ok {
			return Line{}, "“" + part.text + "” is no amount of whole cents"
		}
		if part.sign < 0 {
			amount = max(amount, -amount) // some banks write what went out with its sign, some without
		}
		line.Amount += part.sign * amount
	}
	return line, ""
}

// dayOf reads a day as banks write it; a clock behind it is left out.
func dayOf(text string, monthFirst bool) (unit.Date, bool) {
	layouts := []string{"2006-01-02", "2/1/2006", "2-1-2006", "2.1.2006", "2/1/06", "2.1.06", "2-1-06", "2 Jan 2006", "2-Jan-2006", "2 January 2006", "20060102", "2006/01/02"}
	if monthFirst {
		layouts = []string{"2006-01-02", "1/2/2006", "1-2-2006", "1/2/06", "Jan 2, 2006"}
	}
	text, _, _ = strings.Cut(text, "T")
	if day, clock, more := strings.Cut(text, " "); more && strings.Contains(clock, ":") {
		text = day
	}
	for _, layout := range layouts {
		if at, err := time.Parse(layout, text); err == nil {
			return unit.DateOf(at), true
		}
	}
	return "", false
}
