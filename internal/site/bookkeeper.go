package site

import (
	"fmt"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/xuri/excelize/v2"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

type bookkeeperPage struct {
	Frame
	Head   string
	First  Field
	Last   Field
	Shown  bool
	Leaves []leaf
}

// leaf is one table for the bookkeeper, with its file's name without an ending.
type leaf struct{ File, Says string }

var leaves = []leaf{
	{"sales", "Invoices and adjustment notes"},
	{"tax-accrual", "Tax by month, counted when billed"},
	{"tax-cash", "Tax by month, counted when paid"},
	{"payments", "Payments, reversals and refunds"},
	{"job-results", "What each job cost and brought, by season"},
	{"stock-value", "Stock value now: seed by lot, medium at its moving average"},
}

func (s *site) bookkeeper(r *request) error {
	f, _, _ := r.days()
	page := bookkeeperPage{Frame: r.frame("accounts", "For the bookkeeper"), Leaves: leaves,
		First: f.field(Field{Name: "from", Label: "From", Kind: "date", Required: true}), Last: f.field(Field{Name: "to", Label: "To", Kind: "date", Required: true}),
		Shown: f.ok(), Head: f.head()}
	if !f.ok() {
		r.Status(422)
	}
	return r.show("bookkeeper", page)
}

// days reads the span of days that a page asks for: a year back where none is given.
func (r *request) days() (f *form, from, to unit.Date) {
	f = blank(map[string]string{"from": r.Query("from", string(r.today().PlusMonths(-12))), "to": r.Query("to", string(r.today()))})
	from, to = f.day("from", true), f.day("to", true)
	if f.ok() && from > to {
		f.refuse("to", "The days begin on %s: enter that day or a later one as the last.", from)
	}
	return f, from, to
}

// leafFile gives one table as a CSV or XLSX file.
func (s *site) leafFile(r *request) error {
	name, ending, _ := strings.Cut(r.Params("file"), ".")
	f, from, to := r.days()
	if !f.ok() || ending != "csv" && ending != "xlsx" {
		return noPage()
	}
	table, err := s.table(r, name, from, to)
	if err != nil {
		return err
	}
	content, kind, err := []byte(nil), "text/csv; charset=utf-8", error(nil)
	if ending == "csv" {
		content, err = table.CSV()
	} else {
		kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
		content, err = workbook(table)
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", table.Name, err)
	}
	r.Set(fiber.HeaderContentType, kind)
	r.Set(fiber.HeaderContentDisposition, fmt.Sprintf("attachment; filename=%q", name+"."+ending))
	return r.Send(content)
}

func (s *site) table(r *request, name string, from, to unit.Date) (job.Table, error) {
	if name == "stock-value" {
		shelf, err := s.Books.Shelf(r.Context())
		return job.StockTable(shelf), err
	}
	if name == "job-results" {
		return s.results(r, from, to)
	}
	all, err := s.Books.Ledgers(r.Context(), 0)
	if err != nil {
		return job.Table{}, err
	}
	switch name {
	case "sales":
		return job.SalesTable(all, from, to), nil
	case "payments":
		return job.PaymentsTable(all, from, to), nil
	case "tax-accrual":
		return job.TaxTable(all, job.Accrual, from, to), nil
	case "tax-cash":
		return job.TaxTable(all, job.Cash, from, to), nil
	}
	return job.Table{}, noPage()
}

// results lists the jobs of the seasons that the days touch.
func (s *site) results(r *request, from, to unit.Date) (job.Table, error) {
	years, err := s.Books.Seasons(r.Context())
	if err != nil {
		return job.Table{}, err
	}
	var seasons []job.SeasonCost
	for _, year := range years {
		if first, last := unit.Date(fmt.Sprintf("%04d-01-01", year)), unit.Date(fmt.Sprintf("%04d-12-31", year)); last < from || first > to {
			continue
		}
		one, err := s.resultsOf(r, year)
		if err != nil {
			return job.Table{}, err
		}
		seasons = append(seasons, one)
	}
	return job.ResultsTable(seasons), nil
}

// workbook is a table as a spreadsheet: numbers as numbers, texts as texts.
func workbook(t job.Table) ([]byte, error) {
	book := excelize.NewFile()
	defer book.Close()
	const sheet = "Sheet1"
	heads := make([]any, len(t.Heads))
	for i, head := range t.Heads {
		heads[i] = head
	}
	if err := book.SetSheetRow(sheet, "A1", &heads); err != nil {
		return nil, err
	}
	for i, row := range t.Rows {
		cells := make([]any, len(row))
		for k, cell := range row {
			cells[k] = cell.Text
			if cell.Number != nil {
				cells[k] = cell.Number.Float()
			}
		}
		if err := book.SetSheetRow(sheet, fmt.Sprintf("A%d", i+2), &cells); err != nil {
			return nil, err
		}
	}
	out, err := book.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
