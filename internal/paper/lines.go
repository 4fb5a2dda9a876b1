package paper

import (
	"slices"
	"strings"

	"rowtally/internal/bill"
)

// The columns of the lines. Figures end at their right edge, aligned on the point.
const (
	descriptionWMM = 80.0
	quantityEndMM  = leftMM + 100
	unitXMM        = leftMM + 104
	unitWMM        = 16.0
	priceEndMM     = leftMM + 141
	figureWMM      = 22.0
)

// provisional is what stands below a quoted line whose quantity is to be measured, ifWanted
// below one that is outside the total.
const (
	provisional = "provisional"
	ifWanted    = "if wanted, not in the total"
)

// linePadsMM is the room below each line, the roomiest first.
var linePadsMM = []float64{3, 2.4, 1.9}

// bill adds the lines and what follows them, with the room between the lines that needs the
// fewest pages.
func (b *billing) bill(after ...piece) {
	b.add(b.tightest(linePadsMM, func(mm float64) []piece { return slices.Concat(b.lines(mm), after) })...)
}

// lines lays out the lines of the paper below their column heads, with so much room between
// them. The last line stays with what follows.
func (b *billing) lines(padMM float64) []piece {
	heads := b.columnHeads()
	pointMM := quantityEndMM - b.widestDecimals()
	out := []piece{heads}
	for i, line := range b.paper.Lines {
		row := b.lineRow(line, pointMM, padMM, i == len(b.paper.Lines)-1)
		for k := range row {
			row[k].heads = &heads
		}
		out = append(out, row...)
	}
	return out
}

// columnHeads names the columns and, for money, what it holds.
func (b *billing) columnHeads() piece {
	without := ""
	switch {
	case b.paper.Inclusive:
		without = "incl. " + b.paper.TaxLabel
	case b.paper.Registered:
		without = "ex " + b.paper.TaxLabel
	}
	return piece{mm: 10, glued: true, draw: func(p *pen, y float64) {
		p.write(b.soft, leftMM, y+7, joined(": ", b.headedBy(), "description"))
		p.right(b.soft, quantityEndMM, y+7, "quantity")
		p.write(b.soft, unitXMM, y+7, "unit")
		for _, money := range []struct {
			word  string
			endMM float64
		}{{"unit price", priceEndMM}, {"amount", b.amountEndMM()}} {
			p.right(b.soft, money.endMM, y+3.4, money.word)
			p.right(b.soft, money.endMM, y+7, joined(" ", without, b.paper.Currency))
		}
		p.ruled(ink, 0.3)
		p.line(leftMM, y+9, rightMM, y+9)
	}}
}

// widestDecimals is the room that the decimals of the quantities take.
func (b *billing) widestDecimals() float64 {
	mm := 0.0
	for _, line := range b.paper.Lines {
		whole, _, _ := strings.Cut(b.quantity(line), ".")
		mm = max(mm, b.text.widthMM(b.quantity(line))-b.text.widthMM(whole))
	}
	return mm
}

// lineRow is one line: its figures beside the first line of its description, the other
// lines below, then its marks, or a single mark behind the last word where it has room. All of it stays together.
func (b *billing) lineRow(line bill.PaperLine, pointMM, padMM float64, last bool) []piece {
	var out []piece
	words := b.text.wrap(line.Description, descriptionWMM)
	units := b.text.wrap(line.Unit, unitWMM)
	marks, beside := b.marks(line), ""
	if end := len(words) - 1; len(marks) == 1 && b.text.widthMM(words[end])+2+b.soft.widthMM(marks[0]) <= descriptionWMM {
		marks, beside = nil, marks[0]
	}
	for i := range max(len(words), len(units)) {
		out = append(out, piece{mm: b.text.leadMM(), glued: true, draw: func(p *pen, y float64) {
			base := y + 4
			if i < len(words) {
				p.write(b.text, leftMM, base, words[i])
			}
			if i == len(words)-1 {
				p.write(b.soft, leftMM+b.text.widthMM(words[i])+2, base, beside)
			}
			if i < len(units) {
				p.write(b.text, unitXMM, base, units[i])
			}
			if i == 0 {
				b.lineFigures(p, line, pointMM, base)
			}
		}})
	}
	for _, mark := range marks {
		out = append(out, piece{mm: b.soft.leadMM(), glued: true, draw: func(p *pen, y float64) {
			p.write(b.soft, leftMM, y+3.6, mark)
		}})
	}
	return append(out, piece{mm: padMM, glued: last, draw: func(p *pen, y float64) {
		p.ruled(faint, 0.15)
		p.line(leftMM, y+padMM-1, rightMM, y+padMM-1)
	}})
}

func (b *billing) lineFigures(p *pen, line bill.PaperLine, pointMM, base float64) {
	count := b.quantity(line)
	if b.text.widthMM(count) <= figureWMM {
		p.atPoint(b.text, pointMM, base, count)
	} else {
		p.right(b.text.fit(count, figureWMM), quantityEndMM, base, count)
	}
	each, net := line.UnitPrice.Priced(), line.Net.Shown()
	p.right(b.text.fit(each, figureWMM), priceEndMM, base, each)
	p.right(b.text.fit(net, figureWMM), b.amountEndMM(), base, net)
}

// amountEndMM is where amounts end, so that their points stand above the point of the
// total, which is set larger and ends at the margin.
func (b *billing) amountEndMM() float64 {
	return rightMM - b.sum.centsMM() + b.text.centsMM()
}

// marks are the small words below a line: that its quantity is provisional, and what tax
// it bears when that is not the common one.
func (b *billing) marks(line bill.PaperLine) []string {
	var out []string
	if !b.paper.Kind.Measured() && line.Basis.Provisional() {
		out = append(out, provisional)
	}
	if line.Optional {
		out = append(out, ifWanted)
	}
	if !b.paper.Registered {
		return out
	}
	if untaxed := bill.UntaxedAs(line.TaxCategory, b.paper.TaxLabel); untaxed != "" {
		out = append(out, untaxed)
	}
	return out
}
