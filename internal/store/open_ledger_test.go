package store

import (
	"slices"
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

func TestWhatBecameOfAnOffer(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		first, other := y.issue(quote(y.job)), y.issue(quote(y.newJob()))
		second := y.issue(quote(y.job))
		y.must(s.AcceptQuote(y.ctx, y.act(), yesTo(second.ID), nil))
		y.must(s.Decline(y.ctx, y.act(), other.JobID, "2026-07-20", "too salty"))
		got, err := s.Offers(y.ctx, first.Year)
		y.must(err)
		same(t, got, []bill.OfferState{{ID: first.ID, Replaced: true}, {ID: other.ID, Declined: true}, {ID: second.ID, Agreed: true}})
		if none, err := s.Offers(y.ctx, first.Year-1); err != nil || len(none) != 0 {
			t.Errorf("the year before has %v, %v", none, err)
		}
	})
}

func TestWhatIsToBeBilled(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		offered := y.issue(quote(y.job))
		asks := func(when string, want ...int64) {
			t.Helper()
			if got, err := s.ToBill(y.ctx); err != nil || !slices.Equal(got, want) {
				t.Errorf("%s: %v, %v; want %v", when, got, err, want)
			}
		}
		asks("quoted")
		y.must(s.AcceptQuote(y.ctx, y.act(), yesTo(offered.ID), nil))
		asks("agreed", y.job)
		y.issue(invoice(y.job))
		asks("billed")
	})
}
