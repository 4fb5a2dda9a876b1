package paper

import (
	"fmt"
	"strconv"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// A tub's part of the sheet: what it is, what goes in, what is written down.
const (
	stepMM      = 8.1 // height of one weighing, where there is room
	leastStepMM = 4.6 // at which its digits are still set in more than 11 pt
	tickXMM     = leftMM + 34
	weighEndMM  = leftMM + 73 // where grams and litres end
	weighWMM    = 31.0
	whatXMM     = leftMM + 81
	whatWMM     = 56.0
	blankXMM    = leftMM + 139
	blankWMM    = rightMM - blankXMM
	weighPt     = 21.0 // digits read at arm's length, at the full height
)

// tubs lays out the tubs still to be mixed, a weighing so high; a page ends between two of
// them, never within one. The last one stays with the piece that follows.
func (pr *Press) tubs(s job.MixingSheet, stepMM float64) []piece {
	out := []piece{pr.section("The tubs: weigh each lot, then medium up to the line", false)}
	for i, tub := range s.Tubs {
		one := pr.tub(tub, s.Mixed+len(s.Tubs), stepsOf(tub, s), s.HopperL(tub), stepMM)
		one.glued = i == len(s.Tubs)-1
		out = append(out, one)
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

func (pr *Press) tub(tub job.SheetTub, of int, steps []step, hopperL, highMM float64) piece {
	blanks := []string{"mixed at", "row-km reached", "by"}
	const aboveMM = 1.8
	mm := max(float64(len(steps))*highMM, float64(len(blanks))*stepMM) + aboveMM + 0.6
	if len(steps) <= len(blanks) {
		highMM = stepMM
	}
	return piece{mm: mm, draw: func(p *pen, y float64) {
		p.ruled(faint, 0.2)
		p.line(leftMM, y, rightMM, y)
		pr.tubHead(p, tub, of, y+aboveMM, hopperL)
		for i, one := range steps {
			pr.step(p, one, y+aboveMM+float64(i)*highMM, highMM)
		}
		for i, blank := range blanks {
			pr.blank(p, blank, y+aboveMM+float64(i)*stepMM)
		}
	}}
}

// tubHead puts the tub's number on the spine, and how full it is and how far it lasts
// beside it; where there are several hoppers, what goes into each.
func (pr *Press) tubHead(p *pen, tub job.SheetTub, of int, y, hopperL float64) {
	p.ring(spineMM, y+4.6, 4.6, ink)
	number := strconv.Itoa(tub.Number)
	p.middle(pr.strong.at(15).fit(number, 6.6), spineMM, y+6.5, number)
	p.write(pr.heading, leftMM, y+3.6, fmt.Sprintf("Tub %d of %d", tub.Number, of))
	pr.figure(p, leftMM, y+10.6, 16, plain(tub.MixL, 1), "L to the line")
	if hopperL > 0 {
		p.write(pr.soft, leftMM, y+14.4, plain(hopperL, 1)+" L in each hopper")
	}
	pr.figure(p, leftMM, y+20.2, 13, unit.Grouped(tub.RowM/1000, 2), "row-km")
	p.write(pr.soft, leftMM, y+23.8, "how far it should last")
}

// figure writes a large figure with its small unit behind it.
func (pr *Press) figure(p *pen, x, y, pt float64, figure, unitName string) {
	large := pr.strong.at(pt)
	p.write(large, x, y, figure)
	p.write(pr.soft, x+large.widthMM(figure)+1.2, y, unitName)
}

// step draws one weighing: a box to tick, the amount, and what is weighed. Its name stands
// below, or beside where the step is low.
func (pr *Press) step(p *pen, one step, y, highMM float64) {
	tick := highMM - 1.3
	base := y + tick
	p.ruled(ink, 0.4)
	p.box(tickXMM+(stepMM-1.3-tick)/2, y+0.3, tick, tick)
	digits := pr.strong.at(weighPt * highMM / stepMM)
	p.right(digits.fit(one.amount, weighWMM), weighEndMM, base, one.amount)
	p.write(pr.strong.at(13*highMM/stepMM), weighEndMM+1.6, base, one.unit)
	small, what := pr.soft.at(7.8), pr.strong.clipped(one.what, whatWMM, 1)[0]
	if highMM < stepMM {
		p.write(pr.strong, whatXMM, base, what)
		if atMM := pr.strong.widthMM(what) + 2; atMM < whatWMM-8 {
			p.write(small, whatXMM+atMM, base, small.clipped(one.name, whatWMM-atMM, 1)[0])
		}
		return
	}
	names := small.clipped(one.name, whatWMM, 2)
	top := y + 4.9 - 1.3*float64(len(names))
	p.write(pr.strong, whatXMM, top, what)
	for i, line := range names {
		p.write(small, whatXMM, top+3.2+2.7*float64(i), line)
	}
}

// blank is a box to write in, its label in the corner.
func (pr *Press) blank(p *pen, label string, y float64) {
	p.ruled(soft, 0.25)
	p.box(blankXMM, y, blankWMM, stepMM-1.0)
	p.write(pr.soft.at(7.5), blankXMM+1.2, y+3, label)
}
