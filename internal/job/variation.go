package job

import (
	"fmt"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
)

// mostVariationLines bounds a variation.
const mostVariationLines = 12

// VariationDraft is a change to an agreed job as it would be issued now: lines as entered,
// with the reason, which wait for a yes of their own and are billed with the agreed lines. A
// quantity below 0 takes something agreed back. It refuses a job that is not agreed or is
// billed, a variation without a reason ("reason") or without a line, and a price below 0
// ("lines[2].unit_price").
func VariationDraft(f Facts, reason string, rates []bill.Rate) (bill.Paper, error) {
	quote, _, agreed := f.Agreed()
	if !agreed {
		return bill.Paper{}, fault.Conflict("No quote of this job is agreed yet, so there is nothing to vary. Make a new revision of the quote instead.")
	}
	if err := f.Billable(); err != nil {
		return bill.Paper{}, err
	}
	p := f.draft(bill.Variation)
	p.AnswersID, p.AnswersNumber, p.AnswersOn = quote.ID, quote.Number, quote.IssuedOn
	p.UntilOn, p.Reason = f.Today.Plus(f.Business.ValidDays), strings.TrimSpace(reason)
	p.Inclusive = p.Registered && (quote.Inclusive || !quote.Registered) // as the invoice will have it
	if p.Reason == "" {
		return p, fault.Refuse("reason", "say what changes and why: the variation states it")
	}
	if len(rates) == 0 || len(rates) > mostVariationLines {
		return p, fault.Refuse("", "a variation has from 1 to %d lines: enter what is charged, by which unit, at what price", mostVariationLines)
	}
	for i, rate := range rates {
		if rate.UnitPrice.Sign() < 0 {
			return p, fault.Refuse(fmt.Sprintf("lines[%d].unit_price", i), "a price is 0 or more; to take something back enter a quantity below 0")
		}
	}
	p.Lines = PriceLines(rates, nil, f.Business.TaxingOn(f.Today))
	p.Particulars = []bill.Particular{
		{Heading: "Varies", Text: fmt.Sprintf("Quote %s, revision %d, of %s. Everything else stays as agreed.", quote.Number, quote.Revision, quote.IssuedOn)},
		{Heading: "Why", Text: p.Reason},
		{Heading: "Billed", Text: "With the agreed lines, in part as it is done or with the last invoice, once your yes to this variation is given. Without it the work stays as agreed."},
	}
	if untaxed := untaxedParticular(p); untaxed.Text != "" {
		p.Particulars = append(p.Particulars, untaxed)
	}
	_, err := p.AddUp()
	return p, err
}

// VariationView is a variation with its yes, or why none can be given.
type VariationView struct {
	bill.Paper
	Yes    *bill.Acceptance
	CanSay bool
	WhyNot string
}

// Variations are the job's variations in the order of their issue.
func (f Facts) Variations() (views []VariationView) {
	for _, p := range f.Papers {
		if p.Kind != bill.Variation {
			continue
		}
		v := VariationView{Paper: p}
		for i := range f.Acceptances {
			if f.Acceptances[i].PaperID == p.ID {
				v.Yes = &f.Acceptances[i]
			}
		}
		billed := f.Billable()
		switch {
		case v.Yes != nil:
		case billed != nil:
			v.WhyNot = "The job is billed without it."
		case p.UntilOn < f.Today:
			v.WhyNot = fmt.Sprintf("It ran out on %s. Ask the contractor for a new one.", p.UntilOn)
		default:
			v.CanSay = true
		}
		views = append(views, v)
	}
	return views
}

// variedLines are the lines of the variations that have their yes, named after them, taxed as
// on the invoice's day. The invoice states each yes.
func (f Facts) variedLines(p *bill.Paper) (lines []bill.PaperLine) {
	for _, v := range f.Variations() {
		if v.Yes == nil {
			continue
		}
		inclusive := p.Inclusive
		varied := f.taxAsAgreed(p, v.Paper)
		p.Inclusive = inclusive
		for i := range varied {
			varied[i].Description = v.Varied(varied[i])
		}
		lines = append(lines, varied...)
		p.Particulars = append(p.Particulars, bill.Particular{Heading: "Variation", Text: fmt.Sprintf("%s of %s, agreed by %s on %s: %s",
			v.Number, v.IssuedOn, v.Yes.Name, v.Yes.AcceptedAt.Format("2 Jan 2006"), v.Reason)})
	}
	return lines
}

// variationsSay is a sentence for each variation of the job.
func (f Facts) variationsSay() string {
	var says []string
	for _, v := range f.Variations() {
		state := "waits for its yes"
		switch {
		case v.Yes != nil:
			state = fmt.Sprintf("agreed by %s on %s", v.Yes.Name, v.Yes.AcceptedAt.Format("2 Jan 2006"))
		case v.WhyNot != "":
			state = "was not agreed"
		}
		says = append(says, fmt.Sprintf("%s, %s, %s.", v.Number, f.Business.Money(v.Total), state))
	}
	return strings.Join(says, " ")
}
