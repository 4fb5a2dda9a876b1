package bill

import (
	"cmp"
	"slices"

	"rowtally/internal/money"
)

// fill writes lines, tax and sums into a document.
func (d *ublDocument) fill(lines []PaperLine, t Totals) {
	for i, line := range lines {
		quantity := &ublNumber{Unit: codeOf(line.Unit), Text: line.Quantity.String()}
		out := ublLine{ID: i + 1, Note: line.TaxReason, Net: d.amount(line.Net), Item: ublItem{line.Description, d.category(Taxed{line.TaxCategory, money.Exact{Factor: line.TaxPercent}}, false)},
			Price: d.price(line)}
		if d.CreditType != "" {
			out.Credited = quantity
			d.Credits = append(d.Credits, out)
		} else {
			out.Invoiced = quantity
			d.Lines = append(d.Lines, out)
		}
	}
	d.extras(t.in.Allowances, false)
	d.extras(t.in.Charges, true)
	d.Tax.Amount = d.amount(t.TotalTax)
	for _, row := range t.Tax {
		d.Tax.Subtotals = append(d.Tax.Subtotals, ublSubtotal{d.amount(row.Taxable), d.amount(row.Tax), d.category(row.Taxed, true).because(lines)})
	}
	d.Sums = ublSums{Lines: d.amount(t.SumOfLines), Exclusive: d.amount(t.TotalExcl), Inclusive: d.amount(t.TotalIncl),
		Allowances: d.maybe(t.SumAllowances), Charges: d.maybe(t.SumCharges), Prepaid: d.maybe(t.Prepaid), Rounding: d.maybe(t.Rounding), Payable: d.amount(t.Payable)}
}

// price is a line's price for one unit; where its prices include tax, the net amount without
// it for the whole quantity, since that divided by the quantity need not come out even.
func (d *ublDocument) price(line PaperLine) ublPrice {
	if !d.whole || line.Quantity.Sign() == 0 {
		return ublPrice{Amount: ublAmount{d.Currency, line.UnitPrice.Plain()}}
	}
	net, quantity := line.Net, line.Quantity
	if quantity.Sign() < 0 {
		net, quantity = -net, money.Whole(0).Minus(quantity)
	}
	return ublPrice{d.amount(net), &ublNumber{Unit: codeOf(line.Unit), Text: quantity.String()}}
}

func (d *ublDocument) extras(extras []Extra, charge bool) {
	reason := map[bool]string{true: "Charge", false: "Allowance"}[charge]
	for _, e := range extras {
		d.Extras = append(d.Extras, ublExtra{charge, reason, d.amount(e.Amount.Cents()), d.category(e.Taxed, false)})
	}
}

// whyUntaxed are the reasons that a subtotal without tax must give.
var whyUntaxed = map[string]string{"E": "Input taxed", "O": "Not subject to GST: the seller is not registered", "G": "Export"}

// category tells how something is taxed. What lies outside the tax has no rate.
func (d *ublDocument) category(x Taxed, reason bool) ublCategory {
	scheme := "GST"
	if t := d.Supplier.Party.Tax; t != nil {
		scheme = t.Scheme
	}
	c := ublCategory{ID: x.TaxCategory, Percent: x.TaxPercent.String(), Scheme: scheme}
	if x.TaxCategory == "O" {
		c.Percent = ""
	}
	if reason {
		c.Reason = whyUntaxed[x.TaxCategory]
	}
	return c
}

// because puts the reasons of the lines themselves in the place of a common one. What is
// zero-rated states none there (rule BR-Z-10): its lines do.
func (c ublCategory) because(lines []PaperLine) ublCategory {
	if c.Reason == "" {
		return c
	}
	own := ""
	for _, l := range lines {
		if l.TaxCategory == c.ID {
			own = both(own, l.TaxReason)
		}
	}
	c.Reason = cmp.Or(own, c.Reason)
	return c
}

func codeOf(unitName string) string {
	if code, known := unitCodes[unitName]; known {
		return code
	}
	return one
}

// differences are the lines and sums of an adjustment note as a positive document: what a
// decrease takes off, or what an increase puts on. Its tax is the difference between the two
// whole invoices, rate by rate.
func (p Paper) differences() ([]PaperLine, Totals, error) {
	was, err := TotalsOf(p.WasLines(), p.Inclusive)
	if err != nil {
		return nil, Totals{}, err
	}
	now, err := TotalsOf(p.NowLines(), p.Inclusive)
	if err != nil {
		return nil, Totals{}, err
	}
	sign := money.Cents(-1)
	if p.Total > 0 {
		sign = 1
	}
	var lines []PaperLine
	for _, l := range p.Adjusted {
		if l.Changed() {
			lines = append(lines, l.apart(sign))
		}
	}
	t := Totals{SumOfLines: sign * p.NetTotal, TotalExcl: sign * p.NetTotal, TotalTax: sign * p.TaxTotal, TotalIncl: sign * p.Total, Payable: sign * p.Total}
	for i, row := range now.Tax {
		row.Taxable, row.Tax = sign*(row.Taxable-was.Tax[i].Taxable), sign*(row.Tax-was.Tax[i].Tax)
		if row.Taxable != 0 || row.Tax != 0 || len(now.Tax) == 1 {
			t.Tax = append(t.Tax, row)
		}
	}
	return lines, t, nil
}

// apart is the difference of a line as a line: by its quantity where the price stands and the
// product is the difference to the cent, else one of the amount.
func (l AdjustedLine) apart(sign money.Cents) PaperLine {
	line, net := l.Now(), sign*l.Difference()
	line.Net, line.Quantity = net, l.Quantity.Minus(l.WasQuantity).Times(money.Whole(int64(sign)))
	if l.UnitPrice.Compare(l.WasUnitPrice) == 0 && line.Quantity.Times(line.UnitPrice).Cents() == net {
		return line
	}
	line.Unit, line.Quantity, line.UnitPrice = "each", money.Whole(1), net.Factor()
	if net < 0 {
		line.Quantity, line.UnitPrice = money.Whole(-1), (-net).Factor()
	}
	return line
}

// withoutTax takes the tax out of lines whose prices include it, so that those of each rate
// add up to what is taxable at it: the last line of a rate takes up the cents.
func withoutTax(lines []PaperLine, t Totals) ([]PaperLine, Totals) {
	lines = slices.Clone(lines)
	for _, row := range t.Tax {
		left, last := row.Taxable, -1
		for i, line := range lines {
			if line.TaxCategory != row.TaxCategory || line.TaxPercent.Compare(row.TaxPercent.Factor) != 0 {
				continue
			}
			lines[i].Net, _ = money.SplitInclusive(line.Net, line.TaxPercent)
			left, last = left-lines[i].Net, i
		}
		if last >= 0 {
			lines[last].Net += left
		}
	}
	t.SumOfLines = t.TotalExcl
	return lines, t
}
