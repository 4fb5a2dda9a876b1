package paper

import "fmt"

const rightOfHeadMM = 78.0 // kept for what the paper is and its number

// letterhead is what stands at the top of a paper of the family.
type letterhead struct {
	name    string   // whose paper it is
	address []string // lines below the name
	title   string   // what it is
	number  string   // "" where the kind has none
	marks   []string // lines below the number
	draft   bool
}

// topOf lays out the head of the first page.
func (pr *Press) topOf(h letterhead) piece {
	names := pr.name.clipped(h.name, rightMM-leftMM-rightOfHeadMM-6, 6)
	var address []string
	for _, line := range h.address {
		address = append(address, pr.soft.clipped(line, rightMM-leftMM-rightOfHeadMM-6, 4)...)
	}
	left := 5.5 + float64(len(names)-1)*pr.name.leadMM() + 1.5 + float64(len(address))*pr.soft.leadMM()
	right := 13.5 + float64(len(h.marks))*pr.soft.leadMM()
	rowMM := max(left, right) + 4
	return piece{mm: rowMM + 9, draw: func(p *pen, y float64) {
		p.lines(pr.name, leftMM, y+5.5, names)
		p.lines(pr.soft, leftMM, y+5.5+float64(len(names)-1)*pr.name.leadMM()+5.2, address)
		p.right(pr.title, rightMM, y+6.5, h.title)
		pr.numberLine(p, y+12.8, h)
		for i, mark := range h.marks {
			p.right(pr.soft, rightMM, y+17.6+float64(i)*pr.soft.leadMM(), mark)
		}
		p.mounds(y + rowMM + 2)
	}}
}

// numberLine sets the paper's number, or says plainly that it has none yet.
func (pr *Press) numberLine(p *pen, y float64, h letterhead) {
	if !h.draft {
		p.right(pr.strong.at(11), rightMM, y, h.number)
		return
	}
	const words = "DRAFT – not issued"
	style := pr.strong.at(11)
	p.ruled(ink, 0.4)
	p.box(rightMM-style.widthMM(words)-5, y-4.6, style.widthMM(words)+5, 6.4)
	p.right(style, rightMM-2.5, y, words)
}

// runningOf lays out the head of the pages after the first: one line and the mounds.
func (pr *Press) runningOf(h letterhead) piece {
	what := h.title + " " + h.number
	if h.draft {
		what = h.title + ", DRAFT – not issued"
	}
	name := pr.text.clipped(h.name, rightMM-leftMM-pr.text.widthMM(what)-8, 1)[0]
	return piece{mm: 18, draw: func(p *pen, y float64) {
		p.write(pr.text, leftMM, y+4, name)
		p.right(pr.text, rightMM, y+4, what)
		p.mounds(y + 9.5)
	}}
}

func (d *document) drawFoot(p *pen, page, pages int) {
	style := d.press.soft
	count := fmt.Sprintf("page %d of %d", page, pages)
	left := style.clipped(d.foot, rightMM-leftMM-style.widthMM(count)-8, 1)[0]
	p.write(style, leftMM, footMM, left)
	p.right(style, rightMM, footMM, count)
}

// mounds draws the ground in section under a head: belts of two mounds, each with its
// trough and the placement in it, and the flat of the alleys between.
func (p *pen) mounds(y float64) {
	const belts, apartMM, pitchMM = 4, 8.2, (rightMM - leftMM) / 4
	var rows []float64
	for belt := range belts {
		middle := leftMM + (float64(belt)+0.5)*pitchMM
		rows = append(rows, middle-apartMM/2, middle+apartMM/2)
	}
	p.ruled(bush, 0.26)
	p.pdf.MoveTo(leftMM, y)
	for _, x := range rows {
		p.mound(x, y)
	}
	p.pdf.LineTo(rightMM, y)
	p.pdf.DrawPath("D")
	for _, x := range rows {
		p.dot(x, y-1.05, 0.38, ink)
	}
}

// mound carries the path over one mound: up the shoulder, down into the trough, out again.
func (p *pen) mound(x, y float64) {
	p.pdf.LineTo(x-4.0, y)
	p.pdf.CurveBezierCubicTo(x-2.6, y, x-2.5, y-1.7, x-1.6, y-1.8)
	p.pdf.CurveBezierCubicTo(x-0.9, y-1.9, x-0.8, y-0.6, x, y-0.6)
	p.pdf.CurveBezierCubicTo(x+0.8, y-0.6, x+0.9, y-1.9, x+1.6, y-1.8)
	p.pdf.CurveBezierCubicTo(x+2.5, y-1.7, x+2.6, y, x+4.0, y)
}

// section is the heading of a part of the paper, with its placement on the spine: filled
// for what is told, a ring for what is to be done.
func (pr *Press) section(heading string, toDo bool) piece {
	return piece{mm: sectionMM, glued: true, draw: func(p *pen, y float64) {
		if toDo {
			p.ring(spineMM, y+3.2, 1.7, ink)
			p.dot(spineMM, y+3.2, 0.75, ink)
		} else {
			p.dot(spineMM, y+3.2, 1.15, bush)
		}
		p.write(pr.heading, leftMM, y+4.5, heading)
	}}
}

// gap is empty room between sections.
func gap(mm float64) piece { return piece{mm: mm} }
