package paper

import (
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// Adjustment prints an adjustment note: which invoice it corrects and why, the lines as they
// stood, the lines as they stand now, and the difference in price and in tax.
func (pr *Press) Adjustment(p bill.Paper) ([]byte, error) {
	b, err := pr.newBilling(p, bill.Adjustment, "Adjustment note")
	if err != nil {
		return nil, err
	}
	b.add(b.parties(), gap(5))
	b.add(b.told("What it adjusts", b.adjusts())...)
	b.add(b.section("The lines as billed, each correction below its line", false))
	b.add(b.bothSides()...)
	b.add(b.differences(), gap(2))
	b.add(b.told("What stands behind it", p.Particulars)...)
	return b.print()
}

// adjusts names the invoice, the reason and the effect.
func (b *billing) adjusts() []bill.Particular {
	p := b.paper
	effect := fmt.Sprintf("%s of %s in the price of the invoice.", b.effect(), b.amount(magnitude(p.Total)))
	if p.Registered {
		effect = fmt.Sprintf("%s in the price of the invoice: %s ex %s, %s of %s, %s incl. %s.",
			b.effect(), b.amount(magnitude(p.NetTotal)), p.TaxLabel, b.amount(magnitude(p.TaxTotal)), p.TaxLabel, b.amount(magnitude(p.Total)), p.TaxLabel)
	}
	told := []bill.Particular{
		{Heading: "Invoice", Text: fmt.Sprintf("%s of %s", p.AnswersNumber, p.AnswersOn)},
		{Heading: "Reason", Text: p.Reason},
		{Heading: "Effect", Text: effect},
	}
	return append(told, b.measured()...)
}

// effect begins a sentence with the way in which the adjustment goes.
func (b *billing) effect() string {
	switch {
	case b.paper.Total < 0:
		return "Decrease"
	case b.paper.Total > 0:
		return "Increase"
	}
	return "No change"
}

// magnitude is an amount without its sign, which words say.
func magnitude(c money.Cents) money.Cents { return max(c, -c) }

// bothSides sets each line as billed and, where it changes, as corrected below it. The last
// line stays with what follows.
func (b *billing) bothSides() []piece {
	one := *b
	one.paper.Lines = append(b.paper.WasLines(), b.paper.NowLines()...)
	heads, pointMM := one.columnHeads(), quantityEndMM-one.widestDecimals()
	out := []piece{heads}
	for i, line := range b.paper.Adjusted {
		last := i == len(b.paper.Adjusted)-1
		var rows []piece
		was, now := line.Was(), line.Now()
		if line.Changed() {
			now.Description = "as corrected, " + b.apart(line.Difference())
			rows = append(one.lineRow(was, pointMM, linePadsMM[0], true), one.lineRow(now, pointMM, linePadsMM[0], last)...)
		} else {
			rows = one.lineRow(was, pointMM, linePadsMM[0], last)
		}
		for k := range rows {
			rows[k].heads = &heads
		}
		out = append(out, rows...)
	}
	return out
}

// apart says how far a corrected line is from the line as billed.
func (b *billing) apart(difference money.Cents) string {
	switch {
	case difference < 0:
		return magnitude(difference).Shown() + " less"
	case difference > 0:
		return difference.Shown() + " more"
	}
	return "the same amount"
}

// differences sets the sums of both sides and what lies between them, largest and last.
func (b *billing) differences() piece {
	const rowMM = 5.4
	was, now := netOf(b.paper.WasLines()), netOf(b.paper.NowLines())
	rows := [][]string{{"as billed", was.Shown()}, {"as corrected", now.Shown()}, {"difference", b.paper.NetTotal.Shown()}}
	if b.paper.Registered {
		held := map[bool]string{true: ", incl. ", false: ", ex "}[b.paper.Inclusive] + b.paper.TaxLabel
		rows[0][0], rows[1][0] = "as billed"+held, "as corrected"+held
		rows[2][0] = "difference ex " + b.paper.TaxLabel
		rows = append(rows, []string{"difference in " + b.paper.TaxLabel, b.paper.TaxTotal.Shown()})
	}
	headMM := float64(len(rows)) * rowMM
	total := b.amount(magnitude(b.paper.Total))
	return piece{mm: headMM + 13, draw: func(p *pen, y float64) {
		for i, row := range rows {
			base := y + 4 + float64(i)*rowMM
			p.right(b.text, priceEndMM, base, row[0])
			p.right(b.text.fit(row[1], figureWMM), b.amountEndMM(), base, row[1])
		}
		p.ruled(ink, 0.3)
		p.line(leftMM+90, y+headMM+2, rightMM, y+headMM+2)
		style := b.sum.fit(total, 60)
		p.right(style, rightMM, y+headMM+9, total)
		p.right(b.strong, rightMM-style.widthMM(total)-4, y+headMM+9, joined(" ", b.effect(), b.incl()))
	}}
}

// netOf adds up what lines come to as their prices have it.
func netOf(lines []bill.PaperLine) (sum money.Cents) {
	for _, l := range lines {
		sum += l.Net
	}
	return sum
}
