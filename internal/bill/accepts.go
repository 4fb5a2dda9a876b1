package bill

import (
	"slices"
	"strconv"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Ways are how money comes.
var Ways = []string{"transfer", "cheque", "card", "cash"}

// InvoiceField is the field that an invoice's amount is entered in.
func InvoiceField(paperID int64) string { return "invoice_" + strconv.FormatInt(paperID, 10) }

// mostPaid bounds one payment: 100,000,000.00.
const mostPaid money.Cents = 100_000_000_00

// Accepts refuses a payment, reversal or refund that the account does not allow on a day: an
// amount of nothing or of the wrong sign, a day to come, an invoice that is not on the
// account or has less open, a second reversal, a refund above the credit.
func (a Account) Accepts(p Payment, today unit.Date) error {
	switch {
	case p.PaidOn == "":
		return fault.Refuse("paid_on", "enter the day on which the money came")
	case p.PaidOn > today:
		return fault.Refuse("paid_on", "%s is still to come, enter the day on which the money came", p.PaidOn)
	case p.PaidOn < "1990-01-01":
		return fault.Refuse("paid_on", "%s is long ago, check the year", p.PaidOn)
	case !slices.Contains(Ways, p.Way):
		return fault.Refuse("way", "%q is no way of paying, choose one of the list", p.Way)
	}
	switch p.Kind {
	case Paid:
		return a.acceptsPaid(p)
	case Reversed:
		return a.acceptsReversal(p)
	case Refunded:
		return a.acceptsRefund(p)
	}
	return fault.Refuse("kind", "%q is no kind of payment", p.Kind)
}

func (a Account) acceptsPaid(p Payment) error {
	if p.Amount <= 0 || p.Amount > mostPaid {
		return fault.Refuse("amount", "the payment is %s, enter an amount above 0.00 and up to %s", p.Amount.Shown(), mostPaid.Shown())
	}
	open := map[int64]OpenBill{}
	for _, b := range a.Bills() {
		open[b.Invoice.ID] = b
	}
	rest := p.Amount
	for _, one := range p.Placings {
		b, known := open[one.PaperID]
		switch {
		case !known:
			return fault.Refuse("direction", "an invoice of the payment is not on this farm's account, choose one of the list")
		case one.Amount <= 0 || one.Amount > rest:
			return fault.Refuse(InvoiceField(one.PaperID), "%s of the payment are left for %s", rest.Shown(), b.Invoice.Number)
		case one.Amount > b.Open:
			return fault.Conflict("%s has %s open now, less than was to be placed on it: load the page again", b.Invoice.Number, max(b.Open, 0).Shown())
		}
		b.Open -= one.Amount
		open[one.PaperID], rest = b, rest-one.Amount
	}
	return nil
}

func (a Account) acceptsReversal(p Payment) error {
	due, err := a.Reversal(p.ReversesID)
	if err != nil {
		return err
	}
	if paid, _ := a.Payment(p.ReversesID); p.PaidOn < paid.PaidOn {
		return fault.Refuse("paid_on", "the payment came on %s, a reversal cannot lie before it", paid.PaidOn)
	}
	if p.Amount != due.Amount || !slices.Equal(p.Placings, due.Placings) {
		return fault.Conflict("the payment was placed anew meanwhile, load the page again")
	}
	return nil
}

// Reversal is the row that takes a payment back whole: the same amounts with the other sign.
// A payment that is not there, one that is reversed and a reversal itself are refused.
func (a Account) Reversal(paymentID int64) (Payment, error) {
	paid, known := a.Payment(paymentID)
	if !known {
		return Payment{}, fault.Miss("there is no such payment on this farm's account")
	}
	if paid.Kind != Paid {
		return Payment{}, fault.Conflict("only a payment is reversed: enter what is right as a payment")
	}
	if by, done := a.ReversedBy(paymentID); done {
		return Payment{}, fault.Conflict("this payment was reversed on %s already", by.PaidOn)
	}
	back := Payment{FarmID: paid.FarmID, Kind: Reversed, Amount: -paid.Amount, Way: paid.Way, Reference: paid.Reference, ReversesID: paid.ID}
	for _, one := range paid.Placings {
		back.Placings = append(back.Placings, Placing{PaperID: one.PaperID, Amount: -one.Amount, PlacedBy: ByReversal})
	}
	return back, nil
}

func (a Account) acceptsRefund(p Payment) error {
	credit := a.Credit()
	if p.Amount >= 0 || len(p.Placings) > 0 {
		return fault.Refuse("amount", "enter how much went back to the farm, above 0.00")
	}
	if -p.Amount > credit {
		return fault.Refuse("amount", "the farm's credit is %s, a refund cannot be %s", max(credit, 0).Shown(), (-p.Amount).Shown())
	}
	return nil
}

// Allows refuses parts of credit that are not what the account's credit comes to now.
func (a Account) Allows(parts []Placing) error {
	if len(parts) == 0 {
		return fault.Conflict("there is no credit that an open invoice could take")
	}
	if !slices.Equal(parts, a.CreditPlacings()) {
		return fault.Conflict("the account has changed meanwhile, load the page again")
	}
	return nil
}
