package bank

import (
	"slices"
	"strings"

	"rowtally/internal/bill"
)

// Payer is a farm with its account.
type Payer struct {
	FarmID  int64
	Name    string
	Account bill.Account
}

// Proposal is a movement with what it seems to pay.
type Proposal struct {
	Line
	FarmID    int64  // 0 where no farm is recognised
	InvoiceID int64  // 0 for the farm's oldest first
	Why       string // how it was recognised, or why it is left out
	Entered   bool   // this movement is among the payments already
}

// Propose says of every movement which farm's money it seems to be and which invoice it pays:
// by a reference or number in its words, else by an amount that exactly one open invoice
// asks for, else by the farm's name in its words. What went out of the account and what was
// entered before is left out. A proposal that is made counts for those after it.
func Propose(lines []Line, payers []Payer, entered map[string]bool) []Proposal {
	payers = slices.Clone(payers)
	var out []Proposal
	for _, line := range lines {
		p := Proposal{Line: line}
		switch {
		case entered[line.Key]:
			p.Entered, p.Why = true, "entered already"
		case line.Amount <= 0:
			p.Why = "money out"
		default:
			p.recognise(payers)
		}
		out = append(out, p)
	}
	return out
}

func (p *Proposal) recognise(payers []Payer) {
	for i := range payers {
		if open, ok := payers[i].Account.Directed(p.Words()); ok {
			p.pays(&payers[i], open.Invoice.ID, "its words name "+open.Invoice.Number)
			return
		}
	}
	if i, open := asksExactly(payers, p); i >= 0 {
		p.pays(&payers[i], open.Invoice.ID, open.Invoice.Number+" alone asks for this amount")
		return
	}
	for i := range payers {
		if named(p.Words(), payers[i].Name) {
			p.pays(&payers[i], 0, "its words name the farm")
			return
		}
	}
	p.Why = "no invoice and no farm is recognised"
}

// pays takes a payer, and sets the money on its account for the movements that follow.
func (p *Proposal) pays(payer *Payer, invoiceID int64, why string) {
	p.FarmID, p.InvoiceID, p.Why = payer.FarmID, invoiceID, why
	if placed, err := payer.Account.PlaceBy(p.Amount, invoiceID, nil); err == nil {
		payer.Account.Payments = append(slices.Clip(payer.Account.Payments), bill.Payment{Kind: bill.Paid, PaidOn: p.Day, Amount: p.Amount, Placings: placed})
	}
}

// asksExactly finds the one open invoice of all farms that asks for the amount; -1 where
// there is none or more than one.
func asksExactly(payers []Payer, p *Proposal) (at int, found bill.OpenBill) {
	at = -1
	for i := range payers {
		for _, open := range payers[i].Account.Bills() {
			if open.Open != p.Amount {
				continue
			}
			if at >= 0 {
				return -1, bill.OpenBill{}
			}
			at, found = i, open
		}
	}
	return at, found
}

// named tells whether words hold a farm's name, letters and digits alone counted.
func named(words, farm string) bool {
	plain := func(s string) string {
		return strings.Map(func(c rune) rune {
			if c == ' ' || c == '-' || c == '.' || c == ',' || c == '\'' || c == '&' {
				return -1
			}
			return c
		}, strings.ToLower(s))
	}
	return len(plain(farm)) >= 4 && strings.Contains(plain(words), plain(farm))
}
