package job

import (
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// An invoice paid in whatever parts: its shares of tax add up to its tax, and on the accrual
// basis it counts once.
func TestTaxPaidInPartsAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := money.Cents(rapid.IntRange(1, 900_000).Draw(t, "total"))
		_, tax := money.SplitInclusive(total, money.Whole(10))
		a := bill.Account{Papers: []bill.Paper{{ID: 1, Kind: bill.Invoice, IssuedOn: "2026-01-31", NetTotal: total - tax, TaxTotal: tax, Total: total}}}
		for left := total; left > 0; {
			part := money.Cents(rapid.IntRange(1, int(left)).Draw(t, "part"))
			a.Payments = append(a.Payments, bill.Payment{Kind: bill.Paid, PaidOn: "2026-02-01", Amount: part, Placings: []bill.Placing{{PaperID: 1, Amount: part}}})
			left -= part
		}
		all := []Ledger{{Account: a}}
		for basis, month := range map[TaxBasis]string{Accrual: "2026-01", Cash: "2026-02"} {
			rows := TaxTable(all, basis, "2026-01-01", "2026-12-31").Rows
			if len(rows) != 1 || rows[0][0].Text != month || rows[0][1].Number.Cents() != total || rows[0][2].Number.Cents() != tax {
				t.Fatalf("%s: %v, want %s of %s in %s", basis, rows, tax, total, month)
			}
		}
		if rows := TaxTable(all, Cash, "2026-03-01", "2026-12-31").Rows; len(rows) != 0 {
			t.Fatalf("other months hold %v", rows)
		}
	})
}

func TestAFormulaIsNoText(t *testing.T) {
	table := Table{Heads: []string{"farm", "amount"}, Rows: [][]Cell{{said("=1+1"), amounted(-5)}, {said(`a "b", c`), amounted(1234_50)}}}
	got, err := table.CSV()
	if want := "farm,amount\r\n'=1+1,-0.05\r\n\"a \"\"b\"\", c\",1234.50\r\n"; err != nil || string(got) != want {
		t.Errorf("%q, %v, want %q", got, err, want)
	}
}
