package paper

import (
	"fmt"
	"math"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// The map's greatest size, the room round it for numbers and letters, and below it.
const (
	rowMapHMM    = 150.0
	rowMapEdgeMM = 11.0
	rowMapFootMM = 14.0
	rowNumberPt  = 7.5
	mostCorners  = 60 // as many as are listed; the files hold them all
)

// RowMap prints the planned rows of a job to be taken to the paddock: the ground with what
// is not sown, every row, belts by their rows' numbers, corners by letter with their
// places, north and scale.
func (pr *Press) RowMap(m job.RowMap) ([]byte, error) {
	h := letterhead{name: m.Business, title: "Row map", number: m.Code, marks: []string{"as laid on " + m.Day.String()}}
	d := document{press: pr, title: "Row map " + m.Code, author: m.Business, made: m.Day.Time(),
		top: pr.topOf(h), running: pr.runningOf(h), foot: joined(" · ", m.Code, m.Name, m.Farm)}
	d.add(pr.section(joined(", ", m.Name, m.Farm), false), pr.rowPicture(m))
	d.add(pr.paragraph(m.Layout), pr.paragraph(m.Totals), gap(3))
	d.add(pr.cornerList(m)...)
	return d.print()
}

// paragraph sets a sentence over the page's width.
func (pr *Press) paragraph(text string) piece {
	lines := pr.text.wrap(text, rightMM-leftMM)
	return piece{mm: float64(len(lines))*pr.text.leadMM() + 1, draw: func(p *pen, y float64) { p.lines(pr.text, leftMM, y+3.6, lines) }}
}

// rowPicture is the map itself.
func (pr *Press) rowPicture(m job.RowMap) piece {
	fit := fitted(m.Map, rightMM-leftMM-2*rowMapEdgeMM, rowMapHMM)
	return piece{mm: fit.mmHigh + 2*rowMapEdgeMM + rowMapFootMM, draw: func(p *pen, y float64) {
		f := fit
		f.xMM, f.yMM = leftMM+rowMapEdgeMM, y+rowMapEdgeMM
		pr.drawGround(p, f, m.Map)
		n := numbering{pr: pr, pen: p, frame: f, outline: m.Map.Outline}
		if len(m.Corners) > 0 {
			n.corners(m.Map)
		}
		n.belts(m.Rows)
		foot := f.yMM + f.mmHigh + rowMapEdgeMM
		pr.north(p, rightMM-3, y+1)
		pr.scaleBar(p, f, leftMM, foot+2)
		p.write(pr.soft, leftMM+70, foot+2.9, fmt.Sprintf("1 : %s on A4", unit.Grouped(math.Round(1000/f.mmPerM), 0)))
		pr.legend(p, m.Map, leftMM, foot+8)
		p.right(pr.soft.at(rowNumberPt), rightMM, foot+8, n.says(len(m.Rows)))
	}}
}

// numbering sets what names the rows and corners, each only where it can be read.
type numbering struct {
	pr      *Press
	pen     *pen
	frame   frame
	outline []job.Ring
	taken   []area
	named   int // belts that got their numbers
}

// area is a box on the page.
type area struct{ left, top, right, bottom float64 }

func (a area) meets(b area) bool {
	return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom
}

// place sets a word centred on a point, unless it would lie over one set before.
func (n *numbering) place(s style, x, y float64, word string) bool {
	const airMM = 0.5
	half, high := s.widthMM(word)/2, s.pt*mmPerPt*0.72
	box := area{x - half - airMM, y - high/2 - airMM, x + half + airMM, y + high/2 + airMM}
	for _, other := range n.taken {
		if box.meets(other) {
			return false
		}
	}
	n.taken = append(n.taken, box)
	n.pen.pdf.SetFillColor(white[0], white[1], white[2])
	n.pen.pdf.Rect(box.left, box.top, box.right-box.left, box.bottom-box.top, "F")
	n.pen.middle(s, x, y+high/2, word)
	return true
}

// corners letters the outsides' corners, a little outside.
func (n *numbering) corners(m job.Map) {
	at := 0
	for _, ring := range m.Outline {
		middle := middleOf(ring)
		for _, corner := range ring {
			x, y := n.frame.x(corner[0]), n.frame.y(corner[1])
			dx, dy := x-n.frame.x(middle[0]), y-n.frame.y(middle[1])
			away := 3.4 / max(math.Hypot(dx, dy), 1e-9)
			if at < mostCorners {
				n.pen.dot(x, y, 0.6, ink)
				n.place(n.pr.strong.at(8.5), x+dx*away, y+dy*away, job.CornerName(at))
			}
			at++
		}
	}
}

func middleOf(ring job.Ring) (middle [2]job.Metres) {
	for _, corner := range ring {
		middle[0] += corner[0] / job.Metres(len(ring))
		middle[1] += corner[1] / job.Metres(len(ring))
	}
	return middle
}

// belts numbers as many belts as can be read, at both of their ends.
func (n *numbering) belts(rows []job.NumberedRow) {
	s := n.pr.soft.at(rowNumberPt)
	s.ink = ink
	for _, row := range rows {
		word := fmt.Sprint(row.First)
		if row.Last > row.First {
			word = fmt.Sprintf("%d–%d", row.First, row.Last)
		}
		x1, y1, x2, y2 := n.frame.x(row.From[0]), n.frame.y(row.From[1]), n.frame.x(row.To[0]), n.frame.y(row.To[1])
		long := max(math.Hypot(x2-x1, y2-y1), 1e-9)
		ux, uy := (x2-x1)/long, (y2-y1)/long
		out := 1 + math.Abs(ux)*s.widthMM(word)/2 + math.Abs(uy)*1.4
		before, beyond := out+n.toFenceMM(x1, y1, -ux, -uy), out+n.toFenceMM(x2, y2, ux, uy)
		first := n.place(s, x1-ux*before, y1-uy*before, word)
		second := n.place(s, x2+ux*beyond, y2+uy*beyond, word)
		if first || second {
			n.named++
		}
	}
}

// toFenceMM is how far the fence lies from a row's end along the row, so that the number
// stands outside; 0 where the row runs beside the fence.
func (n *numbering) toFenceMM(x, y, ux, uy float64) float64 {
	const farMM = 9.0
	nearest := farMM
	for _, ring := range n.outline {
		for i, corner := range ring {
			next := ring[(i+1)%len(ring)]
			ax, ay := n.frame.x(corner[0])-x, n.frame.y(corner[1])-y
			bx, by := n.frame.x(next[0])-x, n.frame.y(next[1])-y
			left, right := ux*ay-uy*ax, ux*by-uy*bx // on which side of the row the corners lie
			if left*right >= 0 {
				continue
			}
			share := left / (left - right)
			if along := ux*(ax+share*(bx-ax)) + uy*(ay+share*(by-ay)); along >= 0 {
				nearest = min(nearest, along)
			}
		}
	}
	if nearest == farMM {
		return 0
	}
	return nearest
}

// says tells what the numbers are, and that some are left out.
func (n *numbering) says(belts int) string {
	if n.named < belts {
		return fmt.Sprintf("numbers are of rows; %d of %d belts are named, those between count on", n.named, belts)
	}
	return "numbers are of rows"
}

// cornerList gives the corners' places in two columns.
func (pr *Press) cornerList(m job.RowMap) []piece {
	out := []piece{pr.section("Corners, WGS 84", false)}
	listed := m.Corners[:min(len(m.Corners), mostCorners)]
	const columnMM = (rightMM - leftMM) / 2
	half := (len(listed) + 1) / 2
	for i := range half {
		out = append(out, piece{mm: pr.text.leadMM(), draw: func(p *pen, y float64) {
			for column, k := range []int{i, i + half} {
				if k < len(listed) {
					x := leftMM + float64(column)*columnMM
					p.write(pr.strong, x, y+3.6, job.CornerName(k))
					p.write(pr.text, x+10, y+3.6, fmt.Sprintf("%.6f, %.6f", listed[k].Lat, listed[k].Lon))
				}
			}
		}})
	}
	if more := len(m.Corners) - len(listed); more > 0 {
		out = append(out, pr.paragraph(fmt.Sprintf("%d more corners are in the files of the rows' paddock.", more)))
	}
	return out
}
