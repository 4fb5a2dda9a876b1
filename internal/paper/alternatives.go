package paper

import (
	"fmt"
	"slices"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// addPrices adds the quote's lines with their sums; of several alternatives first what sets
// them apart, then each under its own heading with its own total, and nothing over them.
// What follows comes after.
func (b *billing) addPrices(after ...piece) {
	apart := b.paper.Apart()
	if len(apart) == 0 {
		b.add(b.section("The price", false))
		b.bill(slices.Concat([]piece{b.sums(), gap(2)}, after)...)
		return
	}
	b.add(b.section("Which one", false))
	b.add(b.compared()...)
	for _, one := range apart {
		b.addAlternative(one)
	}
	b.add(after...)
}

// addAlternative adds one alternative: how it differs, its lines, its own total, and what is
// not stated of A.
func (b *billing) addAlternative(one bill.AlternativePaper) {
	alone := *b
	alone.paper = one.Paper
	for _, line := range b.strong.wrap("Alternative "+one.Titled(), rightMM-leftMM) {
		b.add(b.over(line))
	}
	for _, line := range b.text.wrap(one.Says, rightMM-leftMM) {
		b.add(piece{mm: b.text.leadMM(), glued: true, draw: func(p *pen, y float64) { p.write(b.text, leftMM, y+3.6, line) }})
	}
	b.add(piece{mm: 1.5, glued: true})
	b.add(alone.lines(linePadsMM[0])...)
	b.add(alone.sums(), gap(2))
	if others := b.paper.Otherwise(one.Alternative); len(others) > 0 {
		b.add(b.particulars(others)...)
	}
	b.add(gap(3))
}

// over is a line that stands over what follows and stays with it.
func (b *billing) over(line string) piece {
	return piece{mm: b.strong.leadMM() + 1, glued: true, draw: func(p *pen, y float64) { p.write(b.strong, leftMM, y+3.8, line) }}
}

// Where the figures of the alternatives end, and how wide a column of them is.
const (
	comparedNameWMM = 66.0
	comparedGapMM   = 4.0
)

// compared sets the alternatives side by side, their names over the figures.
func (b *billing) compared() []piece {
	titles, lines := b.paper.Titles(), b.paper.Compared()
	columnMM := (rightMM - leftMM - comparedNameWMM) / float64(len(titles))
	out := []piece{b.comparedHeads(titles, columnMM)}
	for i, line := range lines {
		style := b.text
		if line.Total {
			style = b.strong
		}
		out = append(out, piece{mm: 5.2, glued: i < len(lines)-1, draw: func(p *pen, y float64) {
			p.write(style.fit(line.Name, comparedNameWMM-2), leftMM, y+3.8, line.Name)
			for k, figure := range line.Figures {
				p.right(style, leftMM+comparedNameWMM+float64(k+1)*columnMM, y+3.8, figure)
			}
			p.ruled(faint, 0.15)
			p.line(leftMM, y+5.2, rightMM, y+5.2)
		}})
	}
	if plans := b.plansBeside(columnMM); plans.draw != nil {
		out[len(out)-1].glued = true
		out = append(out, plans)
	}
	return append(out, gap(4))
}

// plansBeside draws the rows of each alternative in its column; an empty piece where none of
// them has any.
func (b *billing) plansBeside(columnMM float64) piece {
	const mostMM = 30.0
	plans, high := make([]job.Map, len(b.paper.Alternatives)), 0.0
	for i, one := range b.paper.Apart() {
		m, drawn, err := job.ReadMap(one.Paper.Map)
		if err != nil || !drawn { // that of A was read already; one that cannot be read is left out
			continue
		}
		plans[i], high = m, max(high, fitted(m, columnMM-comparedGapMM, mostMM).mmHigh)
	}
	if high == 0 {
		return piece{}
	}
	return piece{mm: high + 6, draw: func(p *pen, y float64) {
		p.write(b.text, leftMM, y+6.4, "rows, north up")
		for i, m := range plans {
			if len(m.Outline) == 0 {
				continue
			}
			f := fitted(m, columnMM-comparedGapMM, mostMM)
			f.xMM, f.yMM = leftMM+comparedNameWMM+float64(i)*columnMM+comparedGapMM, y+3
			b.drawGround(p, f, m)
		}
	}}
}

// comparedHeads are the titles over the figures, each wrapped to its column and set right.
func (b *billing) comparedHeads(titles []string, columnMM float64) piece {
	wrapped, most := make([][]string, len(titles)), 0
	for i, title := range titles {
		wrapped[i] = b.soft.wrap(title, columnMM-comparedGapMM)
		most = max(most, len(wrapped[i]))
	}
	mm := float64(most)*b.soft.leadMM() + 3
	return piece{mm: mm, glued: true, draw: func(p *pen, y float64) {
		for i, lines := range wrapped {
			top := y + float64(most-len(lines))*b.soft.leadMM()
			for k, line := range lines {
				p.right(b.soft, leftMM+comparedNameWMM+float64(i+1)*columnMM, top+3.6+float64(k)*b.soft.leadMM(), line)
			}
		}
		p.ruled(ink, 0.3)
		p.line(leftMM, y+mm-1, rightMM, y+mm-1)
	}}
}

// headedBy stands over the lines of an alternative, on every page that they run to; "" over
// those of a paper that offers none.
func (b *billing) headedBy() string {
	if b.paper.Alternative == "" {
		return ""
	}
	return "alternative " + b.paper.Letter()
}

// ofAlternative names the alternative that a total is of.
func (b *billing) ofAlternative() string {
	if b.paper.Alternative == "" {
		return ""
	}
	return "of " + b.paper.Letter()
}

// agreesToOne is what the farmer signs where the quote offers several.
func (b *billing) agreesToOne() string {
	return fmt.Sprintf("I agree to one alternative of quote %s, revision %d, at its own total above: the one whose letter I write below",
		b.paper.Number, b.paper.Revision)
}
