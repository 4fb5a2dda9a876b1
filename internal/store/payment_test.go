package store

import (
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// paid is a payment of a farm in cents, placed on invoices as given.
func paid(farmID int64, amount money.Cents, on ...bill.Placing) bill.Payment {
	return bill.Payment{FarmID: farmID, Kind: bill.Paid, PaidOn: "2026-07-20", Amount: amount, Way: "transfer", Placings: on}
}

// creditBeforeItsInvoice issues an invoice to a farm that is in credit, and gives how the
// credit would be placed on it.
func (y yard) creditBeforeItsInvoice() ([]bill.Placing, error) {
	if _, err := y.IssuePaper(y.ctx, y.act(), invoice(y.job)); err != nil {
		return nil, err
	}
	return y.account().CreditPlacings(), nil
}

func (y yard) account() bill.Account {
	y.t.Helper()
	ledgers, err := y.Ledgers(y.ctx, y.farm)
	y.must(err)
	if len(ledgers) != 1 {
		y.t.Fatalf("%d accounts of one farm", len(ledgers))
	}
	return ledgers[0].Account
}

func TestAPaymentComesBackAsItWasEntered(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := y.issue(invoice(y.job))
		want := paid(y.farm, 1_000_00, bill.Placing{PaperID: p.ID, Amount: 400_00, PlacedBy: bill.ByHand})
		want.Reference, want.Note = "ref ‘1’", "by the manager"
		want.ID = y.id(s.Pay(y.ctx, y.act(), want))
		want.EnteredAt, want.PersonID, want.Who = morning.UTC(), y.contractor, "Contractor One"
		want.Placings[0].ID, want.Placings[0].PaymentID, want.Placings[0].PlacedAt = 1, want.ID, morning.UTC()
		same(t, y.account().Payments, []bill.Payment{want})
		everyFarm, err := s.Ledgers(y.ctx, 0)
		y.must(err)
		same(t, everyFarm[0].Account, y.account())
		placed, err := placings(s.reader(y.ctx), y.job)
		y.must(err)
		same(t, placed, want.Placings)
		y.sound()
	})
}

func TestCreditIsPlacedAndAReversalTakesItBack(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		first := y.id(s.Pay(y.ctx, y.act(), paid(y.farm, 5_000_00)))
		parts, err := y.creditBeforeItsInvoice()
		y.must(err)
		y.must(s.PlaceCredit(y.ctx, y.act(), y.farm, parts))
		if a := y.account(); a.Owed() != 0 || a.Credit() != 5_000_00-2_864_40 || a.Balance() != -a.Credit() {
			t.Errorf("owed %s, credit %s, balance %s", a.Owed(), a.Credit(), a.Balance())
		}
		refused(t, s.PlaceCredit(y.ctx, y.act(), y.farm, parts), fault.Clash, "", "changed meanwhile")
		back, err := y.account().Reversal(first)
		y.must(err)
		back.PaidOn = "2026-07-20"
		y.id(s.Pay(y.ctx, y.act(), back))
		if a := y.account(); a.Owed() != 2_864_40 || a.Credit() != 0 || a.Balance() != 2_864_40 {
			t.Errorf("after the reversal: owed %s, credit %s", a.Owed(), a.Credit())
		}
		refused(t, second(s.Pay(y.ctx, y.act(), back)), fault.Clash, "", "reversed on 20 Jul 2026 already")
		y.sound()
	})
}

// Twelve people enter the same payment at once: the invoice takes it once, the others are told.
func TestAnInvoiceIsPaidOnce(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := y.issue(invoice(y.job))
		errs := crowd(12, func(int) error {
			_, err := s.Pay(y.ctx, y.act(), paid(y.farm, p.Total, bill.Placing{PaperID: p.ID, Amount: p.Total, PlacedBy: bill.ByAge}))
			return err
		})
		if n := failures(t, errs, fault.Clash); n != 11 {
			t.Errorf("%d of 12 were refused, want 11", n)
		}
		if a := y.account(); a.Balance() != 0 || a.Credit() != 0 {
			t.Errorf("balance %s, credit %s", a.Balance(), a.Credit())
		}
		y.sound()
	})
}

func TestAJobIsBilledOnceAndAdjustedWhereItStands(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		errs := crowd(8, func(int) error { return second(s.IssuePaper(y.ctx, y.act(), invoice(y.job))) })
		if n := failures(t, errs, fault.Clash); n != 7 {
			t.Errorf("%d of 8 invoices were refused, want 7", n)
		}
		issued, err := s.Papers(y.ctx, y.job)
		y.must(err)
		if len(issued) != 1 || issued[0].Number != "T2026-0001" || issued[0].Reference != bill.PaymentReference("T2026-0001") {
			t.Fatalf("the invoices are %+v", issued)
		}
		note := adjusted(t, issued[0], "24.0")
		errs = crowd(8, func(int) error { return second(s.IssuePaper(y.ctx, y.act(), note)) })
		if n := failures(t, errs, fault.Clash); n != 7 {
			t.Errorf("%d of 8 notes were refused, want 7", n)
		}
		issued, err = s.Papers(y.ctx, y.job)
		y.must(err)
		standing := bill.StandingOf(issued[0], issued)
		if len(issued) != 2 || issued[1].Number != "A2026-0001" || standing.Total != 2772_00 {
			t.Errorf("%d papers, the invoice stands at %s", len(issued), standing.Total)
		}
		other := adjusted(t, issued[0], "20")
		other.JobID = y.newJob()
		refused(t, second(s.IssuePaper(y.ctx, y.act(), other)), fault.Clash, "", "of its own job")
		wrong := adjusted(t, issued[0], "20")
		wrong.Total--
		refused(t, second(s.IssuePaper(y.ctx, y.act(), wrong)), fault.Internal, "", "the total says")
		y.sound()
	})
}

// adjusted is a note that corrects an invoice's only line to another quantity.
func adjusted(t *testing.T, p bill.Paper, quantity string) bill.Paper {
	t.Helper()
	line := p.Lines[0]
	line.Quantity = money.MustFactor(quantity)
	note := bill.Paper{Kind: bill.Adjustment, JobID: p.JobID, Currency: "AUD", Reason: "a slip"}
	must(t, bill.StandingOf(p, nil).Correct(&note, []bill.PaperLine{line}))
	return note
}

func TestAPaymentThatTheAccountDoesNotAllowIsRefused(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := y.issue(invoice(y.job))
		other := paid(y.farm, 10_00, bill.Placing{PaperID: p.ID + 50, Amount: 10_00})
		refused(t, second(s.Pay(y.ctx, y.act(), other)), fault.Refused, "direction", "not on this farm's account")
		refused(t, second(s.Pay(y.ctx, y.act(), paid(y.farm+9, 10_00))), fault.Missing, "", "no farm")
		refused(t, second(s.Pay(y.ctx, y.act(), paid(y.farm, -10_00))), fault.Refused, "amount", "above 0.00")
		late := paid(y.farm, 10_00)
		late.PaidOn = "2026-07-21"
		refused(t, second(s.Pay(y.ctx, y.act(), late)), fault.Refused, "paid_on", "still to come")
		y.sound()
	})
}
