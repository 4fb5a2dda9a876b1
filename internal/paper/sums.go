package paper

import "rowtally/internal/bill"

// sums is the foot of the lines: without tax, the tax, and the total, which comes last
// and is the largest.
func (b *billing) sums() piece {
	const rowMM = 5.4
	labelMM := priceEndMM
	var rows [][2]string
	if b.paper.Registered {
		rows = [][2]string{{"total ex " + b.paper.TaxLabel, b.paper.NetTotal.Shown()}, {b.taxName(), b.paper.TaxTotal.Shown()}}
	}
	headMM := float64(len(rows)) * rowMM
	total, note := b.amount(b.paper.Total), b.totalNote()
	mm := headMM + 13
	if note != "" {
		mm += 4.5
	}
	return piece{mm: mm, draw: func(p *pen, y float64) {
		for i, row := range rows {
			base := y + 4 + float64(i)*rowMM
			p.right(b.text, labelMM, base, row[0])
			p.right(b.text.fit(row[1], figureWMM), b.amountEndMM(), base, row[1])
		}
		p.ruled(ink, 0.3)
		p.line(leftMM+90, y+headMM+2, rightMM, y+headMM+2)
		style := b.sum.fit(total, 60)
		p.right(style, rightMM, y+headMM+9, total)
		p.right(b.strong, rightMM-style.widthMM(total)-4, y+headMM+9, joined(" ", "Total", b.ofAlternative(), b.incl()))
		p.right(b.soft, rightMM, y+headMM+13.5, note)
	}}
}

// taxName is the tax with its rate, where one rate covers all that is taxed.
func (b *billing) taxName() string {
	rate := ""
	for _, line := range b.paper.Lines {
		if line.TaxPercent.Sign() == 0 {
			continue
		}
		if rate != "" && rate != line.TaxPercent.String() {
			return b.paper.TaxLabel
		}
		rate = line.TaxPercent.String()
	}
	if rate == "" {
		return b.paper.TaxLabel
	}
	return b.paper.TaxLabel + " " + rate + " %"
}

func (b *billing) totalNote() string {
	switch {
	case !b.paper.Registered:
		return "No " + b.paper.TaxLabel + " has been charged."
	case b.paper.Kind.Offer() && b.rests():
		return "provisional lines are billed by the row-km really sown"
	case b.paper.Kind.Offer() && b.paper.Provisional():
		return "provisional lines are billed by what is measured"
	}
	return ""
}

// rests tells whether any line goes by the row-km.
func (b *billing) rests() bool {
	for _, line := range b.paper.Lines {
		if line.Basis == bill.RowKm {
			return true
		}
	}
	return false
}
