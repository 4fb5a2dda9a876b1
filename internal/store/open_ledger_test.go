package store

import (
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// openAgrees checks that what is open of an account tells what the whole account does, and
// gives how many papers that took.
func (y yard) openAgrees(when string) int {
	y.t.Helper()
	open, err := y.OpenLedgers(y.ctx)
	y.must(err)
	if len(open) != 1 {
		y.t.Fatalf("%s: %d farms were billed, want 1", when, len(open))
	}
	whole, part := y.account(), open[0].Account
	ages := part.AgeingOf("2026-12-01")
	if ages != whole.AgeingOf("2026-12-01") || part.Credit() != whole.Credit() || ages.Sum()-part.Credit() != whole.Balance() {
		y.t.Errorf("%s: open %v with %s of credit, the whole account %v, %s, %s in all", when, ages, part.Credit(), whole.AgeingOf("2026-12-01"), whole.Credit(), whole.Balance())
	}
	return len(part.Papers)
}

// Whatever is billed, paid, paid too much or taken back: what is open says it without what
// is settled.
func TestWhatIsOpenTellsWhatTheWholeAccountDoes(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		first := y.issue(invoice(y.job))
		y.openAgrees("one invoice")
		all := y.id(s.Pay(y.ctx, y.act(), paid(y.farm, first.Total, bill.Placing{PaperID: first.ID, Amount: first.Total, PlacedBy: bill.ByAge})))
		if n := y.openAgrees("it is paid"); n != 0 {
			t.Errorf("%d papers are open of an account that is settled", n)
		}
		second := y.issue(invoice(y.newJob()))
		y.id(s.Pay(y.ctx, y.act(), paid(y.farm, second.Total+100_00, bill.Placing{PaperID: second.ID, Amount: second.Total - 64_40, PlacedBy: bill.ByHand})))
		if n := y.openAgrees("a part is placed, the rest on nothing"); n != 1 {
			t.Errorf("%d papers are open, want the one that is not paid", n)
		}
		back, err := y.account().Reversal(all)
		y.must(err)
		back.PaidOn = "2026-07-20"
		y.id(s.Pay(y.ctx, y.act(), back))
		if n := y.openAgrees("the first payment is taken back"); n != 2 {
			t.Errorf("%d papers are open, want both", n)
		}
		if sum, err := s.Issued(y.ctx); err != nil || len(sum) != 1 || sum[0] != (bill.Issued{Year: 2026, Kind: bill.Invoice, Papers: 2, Total: money.Cents(2) * first.Total}) {
			t.Errorf("issued %+v, %v", sum, err)
		}
	})
}
