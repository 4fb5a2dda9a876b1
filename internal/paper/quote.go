package paper

import (
	"fmt"
	"slices"

	"rowtally/internal/bill"
)

// Quote prints a quote as issued; one without a number is plainly a draft and cannot be
// agreed to.
func (pr *Press) Quote(p bill.Paper) ([]byte, error) {
	b, err := pr.newBilling(p, bill.Quote, "Quote")
	if err != nil {
		return nil, err
	}
	told := b.told("What it rests on", b.restsOn())
	if !b.draft() {
		told = append(told, b.agreement())
	}
	b.add(b.parties(), gap(5))
	b.addPrices(told...)
	return b.print()
}

// Estimate prints an estimate as issued: what may be charged, with what it takes for granted
// first, and nowhere to agree.
func (pr *Press) Estimate(p bill.Paper) ([]byte, error) {
	b, err := pr.newBilling(p, bill.Estimate, p.Heading())
	if err != nil {
		return nil, err
	}
	b.add(b.parties(), gap(5), b.section("What it may cost", false))
	rests := p.Particulars
	if p.Basis != "" {
		rests = append(slices.Clone(rests), bill.Particular{Heading: "Row-km", Text: p.Basis})
	}
	b.bill(slices.Concat([]piece{b.sums(), gap(2)}, b.told("What it rests on", rests))...)
	return b.print()
}

// Variation prints a variation of an agreed quote as issued, with room for its own yes.
func (pr *Press) Variation(p bill.Paper) ([]byte, error) {
	b, err := pr.newBilling(p, bill.Variation, p.Heading())
	if err != nil {
		return nil, err
	}
	b.add(b.parties(), gap(5), b.section("What changes", false))
	told := b.told("What it varies", p.Particulars)
	if !b.draft() {
		told = append(told, b.agreement())
	}
	b.bill(slices.Concat([]piece{b.sums(), gap(2)}, told)...)
	return b.print()
}

// restsOn is what the quote states beside its lines: how its row-km were measured, and
// its particulars.
func (b *billing) restsOn() []bill.Particular {
	if b.paper.Basis == "" {
		return b.paper.Particulars
	}
	return append([]bill.Particular{{Heading: "Row-km", Text: b.paper.Basis}}, b.paper.Particulars...)
}

// dates are the days that the paper names.
func (b *billing) dates() []bill.Particular {
	if b.paper.UntilOn == "" {
		return nil
	}
	heading := "due"
	if b.paper.Kind.Offer() {
		heading = "valid until"
	}
	return []bill.Particular{{Heading: heading, Text: b.paper.UntilOn.String()}}
}

// agreement is where the farmer says yes on paper.
func (b *billing) agreement() piece {
	words := fmt.Sprintf("I agree to quote %s, revision %d, of %s %s", b.paper.Number, b.paper.Revision, b.amount(b.paper.Total), b.incl())
	blanks := []string{"name", "signature", "date"}
	if len(b.paper.Alternatives) > 0 {
		words, blanks = b.agreesToOne(), append([]string{"alternative"}, blanks...)
	}
	if b.paper.Kind == bill.Variation {
		words = fmt.Sprintf("I agree to variation %s of %s %s", b.paper.Number, b.amount(b.paper.Total), b.incl())
	}
	if b.rests() {
		words += ". Lines by the row-km are billed by the row-km really sown, at the prices above"
	} else if b.paper.Provisional() {
		words += ". Provisional lines are billed by what is measured, at the prices above"
	}
	lines := b.text.wrap(words+".", rightMM-leftMM)
	head := b.section("Your yes", true)
	textMM := float64(len(lines)) * b.text.leadMM()
	return piece{mm: sectionMM + textMM + 20, draw: func(p *pen, y float64) {
		head.draw(p, y)
		p.lines(b.text, leftMM, y+sectionMM+3.6, lines)
		b.blanks(p, y+sectionMM+textMM+13, blanks...)
	}}
}

// blanks are lines to write on, with what belongs there below each.
func (b *billing) blanks(p *pen, y float64, words ...string) {
	const between = 6.0
	mm := (rightMM - leftMM + between) / float64(len(words))
	p.ruled(ink, 0.25)
	for i, word := range words {
		x := leftMM + float64(i)*mm
		p.line(x, y, x+mm-between, y)
		p.write(b.soft, x, y+4, word)
	}
}
