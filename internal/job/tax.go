package job

import (
	"fmt"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Taxing is how the business charges the tax on a day.
type Taxing struct {
	Charged bool         // whether it is registered
	Percent money.Factor // rate of what is taxed
}

// TaxedOn tells whether the business is registered for the tax on a day.
func (b Business) TaxedOn(day unit.Date) bool { return b.Registered && b.RegisteredOn <= day }

// TaxingOn is how the business charges the tax on a day, by its table of dated rates.
func (b Business) TaxingOn(day unit.Date) Taxing {
	first, _ := money.ParseFactor(b.TaxPercent) // checked where it is entered; "" is no tax
	return Taxing{b.TaxedOn(day), bill.RateOn(day, first, b.TaxRates)}
}

// on sets a line's tax as it is charged: what is taxed at the day's rate; nothing, where the
// business is not registered.
func (t Taxing) on(line *bill.PaperLine) {
	switch {
	case !t.Charged:
		line.TaxCategory, line.TaxPercent, line.TaxReason = "O", money.Factor{}, ""
	case line.TaxCategory == "S":
		line.TaxPercent = t.Percent
	}
}

// taxAsAgreed carries the prices of an agreed quote over to a paper of a later day. Where the
// business came to be registered in between, the agreed prices are taken to include the tax,
// so that the farmer owes no more than was agreed; where the rate moved, prices without tax
// stand and the tax follows the day of the invoice. The paper says so.
func (f Facts) taxAsAgreed(p *bill.Paper, quote bill.Paper) []bill.PaperLine {
	p.Inclusive = quote.Inclusive && p.Registered
	lines := make([]bill.PaperLine, len(quote.Lines))
	taxing := f.Business.TaxingOn(f.Today)
	was := ""
	for i, l := range quote.Lines {
		line := bill.PaperLine{Position: i + 1, Description: l.Description, Unit: l.Unit, Basis: l.Basis,
			Quantity: l.Quantity, UnitPrice: l.UnitPrice, TaxCategory: l.TaxCategory, TaxPercent: l.TaxPercent, TaxReason: l.TaxReason}
		if p.Registered && !quote.Registered {
			line.TaxCategory = "S"
		}
		taxing.on(&line)
		if line.TaxCategory == "S" && quote.Registered && line.TaxPercent.Compare(l.TaxPercent) != 0 {
			was = l.TaxPercent.String()
		}
		lines[i] = line
	}
	if p.Registered && !quote.Registered {
		p.Inclusive = true
	}
	if says := taxMoved(*p, quote, taxing, was); says != "" {
		p.Particulars = append(p.Particulars, bill.Particular{Heading: p.TaxLabel, Text: says})
	}
	return lines
}

// taxMoved says what became of the tax since a quote; "" where nothing did.
func taxMoved(p, quote bill.Paper, t Taxing, was string) string {
	switch {
	case p.Registered && !quote.Registered:
		return fmt.Sprintf("%s was given before %s was registered for %s. Its prices are taken to include %[3]s, so the amount agreed does not rise.", quote.Number, p.Issuer.Name, p.TaxLabel)
	case !p.Registered && quote.Registered:
		return fmt.Sprintf("%s was given with %s. %s is not registered for it on this day, so none is charged.", quote.Number, p.TaxLabel, p.Issuer.Name)
	case was != "" && p.Inclusive:
		return fmt.Sprintf("The rate moved from %s %% to %s %% since %s. The prices agreed include it and stay.", was, t.Percent, quote.Number)
	case was != "":
		return fmt.Sprintf("The rate moved from %s %% to %s %% since %s. The prices agreed without it stay; the tax follows the day of this paper.", was, t.Percent, quote.Number)
	}
	return ""
}

// untaxedParticular states which lines of a paper bear no tax, and why.
func untaxedParticular(p bill.Paper) bill.Particular {
	var says []string
	for i, l := range p.Lines {
		if untaxed := p.Untaxed(l); untaxed != "" && l.TaxReason != "" && !l.TakesOff() {
			says = append(says, fmt.Sprintf("Line %d, %s: %s.", i+1, l.Description, strings.TrimSuffix(untaxed, ".")))
		}
	}
	return bill.Particular{Heading: "Without " + p.TaxLabel, Text: strings.Join(says, " ")}
}

// asPriced is a price without tax as the business states its prices today.
func (f Facts) asPriced(net money.Cents) money.Cents {
	taxing := f.Business.TaxingOn(f.Today)
	if !taxing.Charged || !f.Business.PricesInclude {
		return net
	}
	return net.Factor().Percent(money.Whole(100).Plus(taxing.Percent)).Cents()
}
