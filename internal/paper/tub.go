package paper

import (
	"fmt"
	"strconv"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// A tub's part of the sheet: what it is, what goes in, what is written down.
const (
	stepMM     = 10.9 // height of one weighing
	tickXMM    = leftMM + 36
	weighEndMM = leftMM + 77 // where grams and litres end
	weighWMM   = 31.0
	whatXMM    = leftMM + 86
	whatWMM    = 38.0
	blankXMM   = leftMM + 126
	blankWMM   = rightMM - blankXMM
	weighPt    = 24.0 // digits read at arm's length
)

// tubs lays out the tubs still to be mixed; a page ends between two of them, never within
// one.
func (pr *Press) tubs(s job.MixingSheet) []piece {
	out := []piece{pr.section("The tubs: weigh each lot, then medium up to the line", false)}
	for _, tub := range s.Tubs {
		out = append(out, pr.tub(tub, s.Mixed+len(s.Tubs), stepsOf(tub, s)))
	}
	return out
}

// step is one weighing of a tub.
type step struct {
	amount, unit, what, name string
}

// stepsOf are a tub's weighings in the order of adding: the lots of which it takes any,
// then the medium.
func stepsOf(tub job.SheetTub, s job.MixingSheet) []step {
	var out []step
	for i, grams := range tub.Grams {
		if grams > 0 && i < len(s.Lots) {
			out = append(out, step{plain(grams, 1), "g", s.Lots[i].Code, s.Lots[i].Name})
		}
	}
	return append(out, step{unit.Grouped(tub.MediumL, 1), "L", "medium", s.Medium})
}

func (pr *Press) tub(tub job.SheetTub, of int, steps []step) piece {
	blanks := []string{"mixed at", "row-km reached", "by"}
	mm := float64(max(len(steps), len(blanks)))*stepMM + 4
	return piece{mm: mm, draw: func(p *pen, y float64) {
		p.ruled(faint, 0.2)
		p.line(leftMM, y, rightMM, y)
		pr.tubHead(p, tub, of, y+2.5)
		for i, one := range steps {
			pr.step(p, one, y+2.5+float64(i)*stepMM)
		}
		for i, blank := range blanks {
			pr.blank(p, blank, y+2.5+float64(i)*stepMM)
		}
	}}
}

// tubHead puts the tub's number on the spine, and how full it is and how far it lasts
// beside it.
func (pr *Press) tubHead(p *pen, tub job.SheetTub, of int, y float64) {
	p.ring(spineMM, y+4.6, 4.6, ink)
	number := strconv.Itoa(tub.Number)
	p.middle(pr.strong.at(15).fit(number, 6.6), spineMM, y+6.5, number)
	p.write(pr.heading, leftMM, y+3.6, fmt.Sprintf("Tub %d of %d", tub.Number, of))
	line := plain(tub.MixL, 1)
	p.write(pr.strong.at(17), leftMM, y+11.5, line)
	p.write(pr.soft, leftMM+pr.strong.at(17).widthMM(line)+1.2, y+11.5, "L to the line")
	far := unit.Grouped(tub.RowM/1000, 2)
	p.write(pr.strong.at(13), leftMM, y+19.5, far)
	p.write(pr.text, leftMM+pr.strong.at(13).widthMM(far)+1.5, y+19.5, "row-km")
	p.write(pr.soft, leftMM, y+23.5, "how far it should last")
}

func (pr *Press) step(p *pen, one step, y float64) {
	p.ruled(ink, 0.4)
	p.box(tickXMM, y+0.5, 7.4, 7.4)
	digits := pr.strong.at(weighPt)
	p.right(digits.fit(one.amount, weighWMM), weighEndMM, y+7.6, one.amount)
	p.write(pr.strong.at(13), weighEndMM+1.6, y+7.6, one.unit)
	small := pr.soft.at(7.8)
	if small.widthMM(one.name) > whatWMM {
		one.name = strings.Replace(one.name, ", ", "\n", 1)
	}
	names := small.clipped(one.name, whatWMM, 2)
	base := y + 4.8 - 0.8*float64(len(names))
	p.write(pr.strong, whatXMM, base, pr.strong.clipped(one.what, whatWMM, 1)[0])
	for i, line := range names {
		p.write(small, whatXMM, base+3.4+3.0*float64(i), line)
	}
}

// blank is a box to write in, its label in the corner.
func (pr *Press) blank(p *pen, label string, y float64) {
	p.ruled(soft, 0.25)
	p.box(blankXMM, y, blankWMM, stepMM-1.4)
	p.write(pr.soft.at(7.5), blankXMM+1.2, y+3, label)
}
