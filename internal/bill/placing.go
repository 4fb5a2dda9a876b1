package bill

import (
	"slices"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// Directed finds the open invoice that a payer's own words name, by its reference or its
// number, however spaced.
func (a Account) Directed(words string) (OpenBill, bool) {
	bare := bareReference(words)
	for _, b := range a.Bills() {
		if b.Open > 0 && strings.Contains(bare, bareReference(b.Invoice.Number)) {
			return b, true
		}
	}
	return OpenBill{}, false
}

// PlaceBy sets an amount against invoices: first by the payer's direction to one of them
// (0 for none), then by hand where amounts were chosen, else oldest first. What is left over
// is credit. An amount above what its invoice leaves open, and one that is more than the
// payment, are refused by the field "invoice_<number in the store>".
func (a Account) PlaceBy(amount money.Cents, directed int64, hand map[int64]money.Cents) ([]Placing, error) {
	if len(hand) > 0 {
		if directed != 0 {
			return nil, fault.Refuse("direction", "the payer's direction rules: choose that nothing was said, or leave the amounts by hand empty")
		}
		return a.placeByHand(amount, hand)
	}
	var placed []Placing
	bills := a.Bills()
	if i := slices.IndexFunc(bills, func(b OpenBill) bool { return b.Invoice.ID == directed }); i >= 0 {
		first := bills[i]
		bills = slices.Delete(bills, i, i+1)
		if part := min(amount, first.Open); part > 0 {
			placed, amount = append(placed, Placing{PaperID: directed, Amount: part, PlacedBy: ByPayer}), amount-part
		}
	} else if directed != 0 {
		return nil, fault.Refuse("direction", "there is no such invoice on this farm's account, choose one of the list")
	}
	for _, b := range bills {
		if part := min(amount, b.Open); part > 0 {
			placed, amount = append(placed, Placing{PaperID: b.Invoice.ID, Amount: part, PlacedBy: ByAge}), amount-part
		}
	}
	return placed, nil
}

func (a Account) placeByHand(amount money.Cents, hand map[int64]money.Cents) ([]Placing, error) {
	var placed []Placing
	left := amount
	for _, b := range a.Bills() {
		part, chosen := hand[b.Invoice.ID]
		if !chosen || part == 0 {
			continue
		}
		field := InvoiceField(b.Invoice.ID)
		switch {
		case part > b.Open:
			return nil, fault.Refuse(field, "%s has %s open, enter that or less", b.Invoice.Number, max(b.Open, 0).Shown())
		case part > left:
			return nil, fault.Refuse(field, "%s of the payment are left for %s, enter that or less", left.Shown(), b.Invoice.Number)
		}
		placed, left = append(placed, Placing{PaperID: b.Invoice.ID, Amount: part, PlacedBy: ByHand}), left-part
	}
	return placed, nil
}

// credit is money that stands against nothing: of a payment, and, where it was placed on an
// invoice that asks for less since, of that invoice.
type credit struct {
	paymentID, paperID int64
	amount             money.Cents
}

// CreditPlacings sets the account's credit against its open bills, the oldest first.
func (a Account) CreditPlacings() []Placing {
	var placed []Placing
	credits := a.credits()
	for _, b := range a.Bills() {
		open := b.Open
		for i := range credits {
			c := &credits[i]
			part := min(open, c.amount)
			if part <= 0 {
				continue
			}
			if c.paperID != 0 {
				placed = append(placed, Placing{PaymentID: c.paymentID, PaperID: c.paperID, Amount: -part, PlacedBy: ByAge})
			}
			placed = append(placed, Placing{PaymentID: c.paymentID, PaperID: b.Invoice.ID, Amount: part, PlacedBy: ByAge})
			open, c.amount = open-part, c.amount-part
		}
	}
	return placed
}

// credits lists where the account's credit lies. What was refunded or reversed is taken from
// it, the oldest credit first.
func (a Account) credits() []credit {
	var out []credit
	var gone money.Cents
	for _, p := range a.Payments {
		if rest := p.Amount - p.Placed(); rest > 0 {
			out = append(out, credit{p.ID, 0, rest})
		} else {
			gone -= rest
		}
	}
	for _, b := range a.Bills() {
		out = append(out, a.overpaid(b)...)
	}
	for i := range out {
		part := min(gone, out[i].amount)
		out[i].amount, gone = out[i].amount-part, gone-part
	}
	return out
}

// overpaid finds the payments whose money is on an invoice beyond what it asks for, the
// latest first.
func (a Account) overpaid(b OpenBill) []credit {
	var out []credit
	over := -b.Open
	for _, p := range slices.Backward(a.Payments) {
		var on money.Cents
		for _, one := range p.Placings {
			if one.PaperID == b.Invoice.ID {
				on += one.Amount
			}
		}
		if part := min(over, on); part > 0 {
			out, over = append(out, credit{p.ID, b.Invoice.ID, part}), over-part
		}
	}
	return out
}
