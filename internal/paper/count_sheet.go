package paper

import (
	"fmt"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

const countMapHMM = 92.0

// CountSheet prints the sheet of an emergence count: where the stretches lie, on the map and
// in figures, boxes to fill in, how to count, and what to take care of.
func (pr *Press) CountSheet(s job.CountSheet) ([]byte, error) {
	h := letterhead{name: s.Business, title: "Count sheet", number: s.Code, marks: []string{s.Made}}
	d := document{press: pr, title: "Count sheet " + s.Code, author: s.Business, made: s.Plan.MadeAt,
		top: pr.topOf(h), running: pr.runningOf(h), foot: joined(" · ", s.Code, s.Name, s.Farm)}
	d.add(pr.section(joined(", ", s.Name, s.Farm), false), pr.countPicture(s))
	d.add(pr.section("How to count", false))
	for i, sentence := range s.How {
		d.add(pr.numbered(i+1, sentence))
	}
	d.add(gap(2))
	d.add(pr.care(s.Cautions)...)
	d.add(pr.countBlanks(s)...)
	d.add(pr.countTable(s)...)
	return d.print()
}

// numbered sets a sentence with its number.
func (pr *Press) numbered(n int, sentence string) piece {
	const indentMM = 6.0
	lines := pr.text.wrap(sentence, rightMM-leftMM-indentMM)
	return piece{mm: float64(len(lines))*pr.text.leadMM() + 0.6, draw: func(p *pen, y float64) {
		p.write(pr.strong, leftMM, y+3.6, fmt.Sprint(n))
		p.lines(pr.text, leftMM+indentMM, y+3.6, lines)
	}}
}

// countPicture is the map with the places numbered in the order of walking.
func (pr *Press) countPicture(s job.CountSheet) piece {
	fit := fitted(s.Map, rightMM-leftMM-10, countMapHMM)
	return piece{mm: fit.mmHigh + 2 + rowMapFootMM, draw: func(p *pen, y float64) {
		f := fit
		f.xMM, f.yMM = leftMM, y+2
		pr.drawGround(p, f, s.Map)
		n := numbering{pr: pr, pen: p, frame: f, outline: s.Map.Outline}
		for _, at := range s.Map.Marks {
			x, y := f.x(at[0]), f.y(at[1])
			p.dot(x, y, 0.8, ink)
			n.taken = append(n.taken, area{x - 0.9, y - 0.9, x + 0.9, y + 0.9})
		}
		for i, at := range s.Map.Marks {
			n.beside(pr.strong.at(8.5), f.x(at[0]), f.y(at[1]), fmt.Sprint(i+1))
		}
		foot := f.yMM + f.mmHigh
		pr.north(p, rightMM-3, y+1)
		pr.scaleBar(p, f, leftMM, foot+4)
		pr.legend(p, s.Map, leftMM, foot+10)
		p.right(pr.soft.at(rowNumberPt), rightMM, foot+10, "numbers are of places, in the order of walking")
	}}
}

// beside sets a word beside a point, on the first side that is free.
func (n *numbering) beside(s style, x, y float64, word string) {
	offMM := 1.6 + s.widthMM(word)/2
	for _, at := range [][2]float64{{offMM, 0}, {-offMM, 0}, {0, -2.8}, {0, 2.8}, {offMM, -2.8}, {-offMM, 2.8}, {offMM, 2.8}, {-offMM, -2.8}, {0, -5}, {0, 5}} {
		if n.place(s, x+at[0], y+at[1], word) {
			return
		}
	}
}

// countBlanks are the lines to be filled in once for the whole count.
func (pr *Press) countBlanks(s job.CountSheet) []piece {
	lines := [][2]string{{"first count, or autumn count", "counted on"}, {"counted by", "came by itself, left out"}}
	for i := 0; i < len(s.Species); i += 2 {
		pair := [2]string{"placements with " + s.Species[i], ""}
		if i+1 < len(s.Species) {
			pair[1] = "placements with " + s.Species[i+1]
		}
		lines = append(lines, pair)
	}
	out := []piece{pr.section("What was counted", true)}
	for _, line := range lines {
		out = append(out, pr.blanks(9, line))
	}
	return append(out, gap(2))
}

// The columns of the places, from the left margin.
var countColumns = []struct {
	name string
	atMM float64
	mm   float64
}{{"place", 0, 12}, {"row", 12, 14}, {"m from first end", 26, 27}, {"latitude, longitude", 53, 44}, {"occupied", 97, 20}, {"looked at", 117, 20}, {"note", 137, 30}}

// countTable lists the places with their boxes. Where a stretch ends stands below its
// beginning.
func (pr *Press) countTable(s job.CountSheet) []piece {
	heads := piece{mm: 6, glued: true, draw: func(p *pen, y float64) {
		for _, c := range countColumns {
			p.write(pr.soft, leftMM+c.atMM+1, y+4, c.name)
		}
	}}
	out := []piece{heads}
	for i := range s.Plan.Places {
		row := pr.countRow(s, i)
		row.heads = &heads
		out = append(out, row)
	}
	return out
}

func (pr *Press) countRow(s job.CountSheet, i int) piece {
	const highMM = 10.5
	place := s.Plan.Places[i]
	where := []string{fmt.Sprintf("%.6f, %.6f", place.At.Lat, place.At.Lon)}
	if i < len(s.Ends) {
		where = append(where, fmt.Sprintf("to %.6f, %.6f", s.Ends[i].Lat, s.Ends[i].Lon))
	}
	words := []string{fmt.Sprint(i + 1), fmt.Sprint(place.Row), unit.Grouped(place.AlongM, 0)}
	return piece{mm: highMM, draw: func(p *pen, y float64) {
		p.ruled(soft, 0.25)
		for k, c := range countColumns {
			p.box(leftMM+c.atMM, y, c.mm, highMM)
			switch {
			case k == 0:
				p.write(pr.strong.at(12), leftMM+c.atMM+1.6, y+6.8, words[k])
			case k < len(words):
				p.write(pr.strong, leftMM+c.atMM+1.6, y+6.6, words[k])
			case strings.HasPrefix(c.name, "latitude"):
				p.lines(pr.text.at(8.4), leftMM+c.atMM+1.6, y+4.3, where)
			case c.name == "looked at":
				p.right(pr.soft, leftMM+c.atMM+c.mm-1.2, y+9.4, fmt.Sprintf("of %d", s.Plan.PerStretch))
			}
		}
	}}
}
