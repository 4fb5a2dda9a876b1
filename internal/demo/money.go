package demo

import (
	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// vary issues a variation of an agreed job, which waits for its yes.
func (b *builder) vary(jobID int64, on unit.Date, why string, lines ...bill.Rate) {
	draft, err := job.VariationDraft(b.facts(jobID, on), why, lines)
	b.keep("variation", err)
	if b.failed == nil {
		b.issue(draft, on)
	}
}

// paid enters a transfer of all that a farm owes, under the reference of its oldest invoice.
func (b *builder) paid(farm string, on unit.Date) {
	ledgers, err := b.books.Ledgers(b.ctx, b.farms[farm])
	b.keep("account", err)
	if b.failed != nil {
		return
	}
	account := ledgers[0].Account
	oldest := account.Bills()[0].Invoice
	p := bill.Payment{FarmID: b.farms[farm], Kind: bill.Paid, PaidOn: on, Amount: account.Owed(), Way: "transfer", Reference: oldest.PayReference()}
	p.Placings, err = account.PlaceBy(p.Amount, oldest.ID, nil)
	b.keep("place", err)
	_, err = b.books.Pay(b.ctx, b.at(on), p)
	b.keep("pay", err)
}
