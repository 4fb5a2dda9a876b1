package bill

import (
	"fmt"

	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// OfferState is what became of a quote, an estimate or a variation.
type OfferState struct {
	ID       int64 // of the paper
	Agreed   bool
	Replaced bool // by a later revision
	Declined bool // its job

	Alternatives int    // that a quote offers; 0 where it offers none
	Taken        string // the letter of the one agreed; "" while none is
}

// Says tells in a word or two how an offer stands on a day.
func (o OfferState) Says(p Paper, on unit.Date) string {
	switch says := o.says(p, on); {
	case o.Alternatives == 0:
		return says
	case o.Taken != "":
		return says + ", alternative " + o.Taken + "; the total here is A's"
	default:
		return fmt.Sprintf("%s, %d alternatives; the total here is A's", says, o.Alternatives)
	}
}

func (o OfferState) says(p Paper, on unit.Date) string {
	switch {
	case o.Agreed:
		return "agreed"
	case o.Declined:
		return "declined"
	case o.Replaced:
		return "replaced by a later revision"
	case p.Kind == Estimate:
		return "binds nobody"
	case p.UntilOn != "" && p.UntilOn < on:
		return "ran out"
	}
	return "open"
}

// Says tells in a few words how an invoice stands on a day.
func (b OpenBill) Says(on unit.Date) string {
	days := b.DaysPast(on)
	switch {
	case b.Open < 0:
		return (-b.Open).Shown() + " paid too much"
	case b.Open == 0:
		return "paid"
	case days == 1:
		return b.Open.Shown() + " past due, 1 day"
	case days > 0:
		return fmt.Sprintf("%s past due, %d days", b.Open.Shown(), days)
	case b.Paid > 0:
		return b.Open.Shown() + " still open"
	}
	return b.Open.Shown() + " open"
}

// Stands tells how each paper of a list stands on a day, by its number in the store. open
// are the invoices that are not paid to the cent: any other of the list is settled.
func Stands(papers []Paper, offers []OfferState, open []OpenBill, on unit.Date) map[int64]string {
	says, offered, unpaid, noted := map[int64]string{}, map[int64]OfferState{}, map[int64]OpenBill{}, map[int64]money.Cents{}
	for _, o := range offers {
		offered[o.ID] = o
	}
	for _, b := range open {
		unpaid[b.Invoice.ID] = b
	}
	for _, p := range papers {
		if p.Kind == Adjustment {
			noted[p.AnswersID] += p.Total
		}
	}
	for _, p := range papers {
		b, isOpen := unpaid[p.ID]
		switch {
		case p.Kind.Offer():
			says[p.ID] = offered[p.ID].Says(p, on)
		case p.Kind == Adjustment:
			says[p.ID] = "of " + p.AnswersNumber
		case isOpen:
			says[p.ID] = b.Says(on)
		case p.Total+noted[p.ID] == 0:
			says[p.ID] = "nothing left to pay"
		default:
			says[p.ID] = "paid"
		}
	}
	return says
}
