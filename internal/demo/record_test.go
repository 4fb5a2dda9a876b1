package demo_test

import (
	"context"
	"strings"
	"testing"

	"rowtally/internal/job"
)

// The invoice of the first job was issued over what its log showed: its record was kept with
// it, says the same row-km as the invoice, and prints as the same bytes again.
func TestAnInvoicesRowsCanAlwaysBeShownAgain(t *testing.T) {
	s := demoOf(t)
	papers, err := s.books.Papers(context.Background(), 1)
	if err != nil || len(papers) != 2 {
		t.Fatalf("%d papers, %v", len(papers), err)
	}
	invoice := papers[1]
	text, err := s.books.PaperSown(context.Background(), invoice.ID)
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := job.ReadSownSheet(text)
	if err != nil {
		t.Fatal(err)
	}
	if covered, billed := sheet.Sums[1].Amount, job.RowKmOf(invoice.RowM).Fixed(2); covered != billed || len(sheet.Files) != 1 || len(sheet.Files[0].SHA256) != 64 {
		t.Errorf("the record says %s row-km of %d files, the invoice %s", covered, len(sheet.Files), billed)
	}
	sum := 0.0
	for _, row := range sheet.Rows {
		sum += row.CoveredM
	}
	if got := job.RowKmOf(sum).Fixed(2); got != sheet.Sums[1].Amount {
		t.Errorf("the rows add up to %s row-km, the record says %s", got, sheet.Sums[1].Amount)
	}
	v := s.enter(t, "contractor")
	_, _, first := v.get("/papers/2/sown-record.pdf")
	if _, kind, again := v.get("/papers/2/sown-record.pdf"); again != first || !strings.HasPrefix(kind, "application/pdf") {
		t.Errorf("printed again, the bytes differ (%s)", kind)
	}
}
