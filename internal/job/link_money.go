package job

import (
	"fmt"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/unit"
)

func (c Chain) moneyLink() ChainLink {
	link := c.priceLink()
	link.Doings = append(link.Doings, Next{"What it costs", c.path("/cost")})
	return link
}

// priceLink is how far the price is: rates, quote or yes.
func (c Chain) priceLink() ChainLink {
	link := ChainLink{Name: "Money", Anchor: "money", State: Open, Doings: []Next{{"Enter the rates", c.path("/rates")}}}
	quote, quoted := c.Quote()
	agreed, yes, isAgreed := c.Agreed()
	switch {
	case isAgreed && agreed.ID == quote.ID:
		link.State = Kept
		link.Figures = []Figure{{c.Business.Money(agreed.Total), c.totalUnit("agreed")}}
		link.Says = joinSentences(fmt.Sprintf("%s%s agreed by %s on %s%s. %s", agreed.Number, inAlternative(agreed), yes.Name, yes.AcceptedAt.Format("2 Jan 2006"), afterComma(yes.Told()), billedBy(agreed)), c.variationsSay())
		link.Doings = []Next{{"The quote", fmt.Sprintf("/papers/%d", agreed.ID)}, {"Change the rates", c.path("/rates")}, {"The terms", c.path("/terms")}}
		if c.Billable() == nil {
			link.Doings = append(link.Doings, Next{"A variation", c.path("/variation")})
		}
		return link
	case quoted:
		link.Figures = []Figure{{c.Business.Money(quote.Total), c.totalUnit("quoted")}}
		link.Says = fmt.Sprintf("%s, revision %d, issued %s, holds until %s. Send the farmer the link and wait for the yes.", quote.Number, quote.Revision, quote.IssuedOn, quote.UntilOn)
		if offers := offersSay(quote, c.Business); offers != "" {
			link.Figures[0].Unit += " for A"
			link.Says += " " + offers
		}
		if quote.UntilOn < c.Today {
			link.Warning = fmt.Sprintf("Quote %s ran out on %s. Issue a new revision.", quote.Number, quote.UntilOn)
		} else if doubts := c.Doubts(quote); c.Stage.Open() && len(doubts) > 0 {
			link.Warning = fmt.Sprintf("Quote %s no longer holds as issued. %s Issue a new revision.", quote.Number, strings.Join(doubts, " "))
		}
		link.Doings = []Next{{"The farmer's link", fmt.Sprintf("/farms/%d#link", c.Farm.ID)}, {"The quote", fmt.Sprintf("/papers/%d", quote.ID)}, {"A new revision", c.path("/quote")}, {"A yes told by phone", c.path("/yes")}, {"Change the rates", c.path("/rates")}, {"Alternatives", c.path("/alternatives")}, {"The terms", c.path("/terms")}}
		if link.Warning != "" { // the new revision first
			link.Doings[0], link.Doings[1], link.Doings[2] = link.Doings[2], link.Doings[0], link.Doings[1]
		}
		return link
	case len(c.Rates) == 0:
		link.Says = "No rates yet."
		return link
	}
	c.addDraft(&link)
	return link
}

// addDraft shows what the quote would come to.
func (c Chain) addDraft(link *ChainLink) {
	draft, err := QuoteDraft(c.Facts)
	if err != nil {
		link.Says = err.Error()
		if len(c.Alternatives) > 0 {
			link.Doings = append([]Next{{"Alternatives", c.path("/alternatives")}}, link.Doings...)
		}
		return
	}
	link.Figures = []Figure{{c.Business.Money(draft.Total), c.totalUnit("not quoted yet")}}
	link.Says = fmt.Sprintf("%s. %s", unit.Counted(len(draft.Lines), "line"), billedBy(draft))
	if estimate, ok := c.Estimate(); ok {
		link.Says += fmt.Sprintf(" Estimate %s of %s came to %s.", estimate.Number, estimate.IssuedOn, c.Business.Money(estimate.Total))
	}
	if offers := offersSay(draft, c.Business); offers != "" {
		link.Figures[0].Unit += ", for A"
		link.Says += " " + offers
	}
	link.Doings = []Next{{"Make the quote", c.path("/quote")}, {"Make an estimate", c.path("/estimate")}, {"Change the rates", c.path("/rates")}, {"Alternatives", c.path("/alternatives")}, {"The terms", c.path("/terms")}}
}

// billedBy says what a quote's quantities will follow.
func billedBy(quote bill.Paper) string {
	if followsRows(quote) {
		return "Billed by the row-km really sown."
	}
	if quote.Provisional() {
		return "Billed by what is measured."
	}
	return "Billed as quoted: no line follows rows."
}

func (c Chain) totalUnit(state string) string {
	if c.Business.TaxedOn(c.Today) {
		return "incl. " + c.Business.TaxLabel + ", " + state
	}
	return state
}

func (c Chain) invoiceLink() ChainLink {
	link := ChainLink{Name: "Invoice", Anchor: "invoice", State: Open, Says: "After sowing."}
	if standing, billed := c.Standing(); billed && standing.Invoice.Part == bill.Whole {
		return c.billedLink(link, standing)
	}
	c.addParts(&link)
	draft, err := InvoiceDraft(c.Facts)
	if err != nil {
		return link
	}
	link.Figures = append([]Figure{{c.Business.Money(draft.Total), c.totalUnit("not billed yet")}}, link.Figures...)
	parts := link.Says
	link.Says = "As agreed: no line follows rows."
	if draft.Provisional() {
		link.Says = "At what was measured, at the agreed prices."
	}
	if followsRows(draft) {
		link.Says = fmt.Sprintf("%s row-km sown at the agreed rates.", RowKmOf(draft.RowM).Fixed(2))
	}
	if len(c.Invoices()) > 0 {
		link.Says += " " + parts
	} else if quote, _, ok := c.Agreed(); ok && draft.NetTotal != quote.NetTotal {
		link.Says += fmt.Sprintf(" The quote came to %s, a difference of %s.", c.Business.Money(quote.Total), c.Business.Money(draft.Total-quote.Total))
	}
	link.Doings = append([]Next{{"Make the invoice", c.path("/invoice")}}, link.Doings...)
	return link
}

// addParts shows what of an agreed job was billed before its last invoice, and offers to bill
// a part of it.
func (c Chain) addParts(link *ChainLink) {
	quote, _, agreed := c.Agreed()
	if !agreed {
		return
	}
	if c.Sown != nil || !followsRows(quote) {
		link.Doings = []Next{{"A progress claim", c.path("/claim")}}
	}
	invoices := c.Invoices()
	if len(invoices) == 0 {
		link.Doings = append(link.Doings, Next{"A deposit", c.path("/deposit")})
		return
	}
	link.Figures = []Figure{{c.Business.Money(c.BilledInAll()), c.totalUnit("billed so far")}}
	link.Says = ""
	for _, invoice := range invoices {
		link.Says = joinSentences(link.Says, fmt.Sprintf("%s of %s, a %s: %s.", invoice.Number, invoice.IssuedOn, invoice.Part, c.Business.Money(invoice.Total)))
		link.Doings = append(link.Doings, Next{invoice.Number, fmt.Sprintf("/papers/%d", invoice.ID)})
	}
	link.Doings = append(link.Doings, Next{"Adjust " + invoices[len(invoices)-1].Number, c.path("/adjustment")})
}

// billedLink is the link of a job that has its invoice: what it comes to with its
// adjustment notes, and what is still to be paid.
func (c Chain) billedLink(link ChainLink, standing bill.Standing) ChainLink {
	invoice := standing.Invoice
	link.State = Kept
	link.Figures = []Figure{{c.Business.Money(c.BilledInAll()), c.totalUnit("billed")}}
	link.Says = fmt.Sprintf("%s of %s%s, due %s.", invoice.Number, invoice.IssuedOn, overRows(invoice), invoice.UntilOn)
	link.Doings = []Next{{"The invoice", fmt.Sprintf("/papers/%d", invoice.ID)}}
	for _, earlier := range c.Invoices() {
		if earlier.ID != invoice.ID {
			link.Says += fmt.Sprintf(" %s before it, of %s: %s.", earlier.Number, earlier.IssuedOn, c.Business.Money(earlier.Total))
			link.Doings = append(link.Doings, Next{earlier.Number, fmt.Sprintf("/papers/%d", earlier.ID)})
		}
	}
	for _, note := range standing.Adjustments {
		link.Says += fmt.Sprintf(" %s of %s: %s.", note.Number, note.IssuedOn, c.changeSays(note))
		link.Doings = append(link.Doings, Next{note.Number, fmt.Sprintf("/papers/%d", note.ID)})
	}
	if paid := c.PaidOn(); paid != 0 {
		link.Figures = append(link.Figures, Figure{c.Business.Money(c.BilledInAll() - paid), "still to be paid"})
	}
	link.Doings = append(link.Doings, Next{"The farm's account", fmt.Sprintf("/farms/%d/account", c.Farm.ID)})
	if link.Warning = c.owedSays(); link.Warning != "" {
		link.Doings = append([]Next{{"Make the adjustment note", c.path("/adjustment")}}, link.Doings...)
	} else {
		link.Doings = append(link.Doings, Next{"Adjust it", c.path("/adjustment")})
	}
	return link
}

// changeSays is what an adjustment note changes, in words: "120.58 less".
func (c Chain) changeSays(note bill.Paper) string {
	if note.Total < 0 {
		return c.Business.Money(-note.Total) + " less"
	}
	return c.Business.Money(note.Total) + " more"
}

// overRows names the row-km that a paper rests on; "" where it rests on none.
func overRows(p bill.Paper) string {
	if p.RowM == 0 {
		return ""
	}
	return fmt.Sprintf(" over %s row-km", RowKmOf(p.RowM).Fixed(2))
}

// afterComma sets words off behind a sentence's end; "" for none.
func afterComma(words string) string {
	if words == "" {
		return ""
	}
	return ", " + words
}
