package job

import (
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// DepositDraft is an invoice for a share of the agreed price before the work: percent above
// 0 and up to 100, of each rate of tax alike. The later invoices take it off. A deposit
// after another invoice is refused.
func DepositDraft(f Facts, percent money.Factor) (bill.Paper, error) {
	p, quote, err := f.invoice(bill.Deposit)
	if err != nil {
		return p, err
	}
	if earlier, has := f.Invoice(); has {
		return p, fault.Conflict("%s has billed a part of this job already: a deposit comes first. Make a progress claim instead.", earlier.Number)
	}
	if percent.Sign() <= 0 || percent.Compare(money.Whole(100)) > 0 {
		return p, fault.Refuse("percent", "%s %% is no share of the price, enter a figure above 0 and up to 100", percent)
	}
	p.Basis = fmt.Sprintf("%s %% of what quote %s comes to, before the work. The invoice for the rows really sown takes it off.", percent, quote.Number)
	whole := bill.Standing{Invoice: quote, Lines: f.taxAsAgreed(&p, quote)}
	for i := range whole.Lines {
		whole.Lines[i].Net = quote.Lines[i].Net
	}
	for _, share := range whole.ByRate() {
		share.Description = fmt.Sprintf("Deposit, %s %% of quote %s", percent, quote.Number)
		share.Quantity, share.UnitPrice = money.Whole(1), share.Net.Factor().Percent(percent).Cents().Factor()
		p.Lines = append(p.Lines, share)
	}
	return p, f.takeOff(&p)
}

// ClaimLines are the lines of which a progress claim bills what is done: the agreed quote's
// without what it added up to its least charge, then those of the variations that have their
// yes.
func (f Facts) ClaimLines() []bill.PaperLine {
	quote, _, _ := f.Agreed()
	p := f.draft(bill.Invoice)
	return append(f.agreedLines(&p, quote, nil), f.variedLines(&p)...)
}

// ClaimDraft is an invoice for what is done so far: the lines that are measured at what they
// come to up to now, each other line at the quantity done of it, in the order of ClaimLines,
// between 0 and the quantity agreed ("done[2]"); less what was billed before.
func ClaimDraft(f Facts, done []money.Factor) (bill.Paper, error) {
	p, quote, err := f.invoice(bill.Progress)
	if err != nil {
		return p, err
	}
	measured, err := f.doneSoFar(quote)
	if err != nil {
		return p, err
	}
	if followsRows(quote) {
		if err := f.addDone(&p, quote); err != nil {
			return p, err
		}
	}
	p.Basis = joinSentences("What is done up to "+f.Today.String()+", less what was billed before.", p.Basis)
	p.Lines = append(f.agreedLines(&p, quote, measured), f.variedLines(&p)...)
	for i := range p.Lines {
		if p.Lines[i].Basis.Provisional() {
			continue
		}
		if i >= len(done) || !p.Lines[i].Within(done[i]) {
			return p, fault.Refuse(fmt.Sprintf("done[%d]", i), "of this line %s %s were agreed, enter what is done of it, from 0 to %[1]s", p.Lines[i].Quantity, p.Lines[i].Unit)
		}
		p.Lines[i].Quantity = done[i]
	}
	return p, f.takeOff(&p)
}

func joinSentences(first, second string) string {
	if second == "" {
		return first
	}
	return first + " " + second
}

// takeOff takes what was billed before off an invoice and adds it up. An invoice that would
// come to nothing, or to less, is refused.
func (f Facts) takeOff(p *bill.Paper) error {
	p.Lines = append(p.Lines, bill.TakenOff(f.Papers)...)
	for i := range p.Lines {
		p.Lines[i].Position = i + 1
	}
	if _, err := p.AddUp(); err != nil {
		return err
	}
	if untaxed := untaxedParticular(*p); untaxed.Text != "" {
		p.Particulars = append(p.Particulars, untaxed)
	}
	earlier, has := f.Invoice()
	switch {
	case has && p.Total < 0:
		return fault.Conflict("What is done comes to %s less than was billed before. Adjust %s first: an adjustment note gives the difference back.", f.Business.Money(-p.Total), earlier.Number)
	case p.Total == 0 && (has || p.Part != bill.Whole):
		return fault.Conflict("Nothing is done that is not billed already, so there is nothing to bill.")
	}
	return nil
}

// Billable refuses a job of which nothing more can be billed: none of its quotes is agreed,
// or all of it is billed.
func (f Facts) Billable() error {
	_, _, err := f.invoice(bill.Progress)
	return err
}
