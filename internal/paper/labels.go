package paper

import (
	"fmt"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// The labels: two across and four down, cut along the fine lines.
const (
	labelsAcross = 2
	labelsDown   = 4
	labelWMM     = pageWMM / labelsAcross
	labelHMM     = pageHMM / labelsDown
	labelEdgeMM  = 9.5
)

// Labels prints a label for each tub of a mixing sheet, on plain paper to be cut: what is
// in the tub, by lot, so that a row can be traced back to its seed. Without tubs it fails.
func (pr *Press) Labels(s job.MixingSheet) ([]byte, error) {
	if len(s.Tubs) == 0 {
		return nil, fmt.Errorf("print tub labels: job %s has no tubs, work out its mix first", s.Code)
	}
	p := newPen("Tub labels "+s.Code, s.Business, s.Day.Time())
	for i, tub := range s.Tubs {
		place := i % (labelsAcross * labelsDown)
		if place == 0 {
			p.pdf.AddPage()
			p.cuts()
		}
		x, y := float64(place%labelsAcross)*labelWMM, float64(place/labelsAcross)*labelHMM
		pr.label(p, s, tub, x+labelEdgeMM, y+labelEdgeMM)
	}
	return p.bytes()
}

// cuts draws where to cut.
func (p *pen) cuts() {
	p.ruled(faint, 0.2)
	for i := 1; i < labelsAcross; i++ {
		p.line(float64(i)*labelWMM, 0, float64(i)*labelWMM, pageHMM)
	}
	for i := 1; i < labelsDown; i++ {
		p.line(0, float64(i)*labelHMM, pageWMM, float64(i)*labelHMM)
	}
}

func (pr *Press) label(p *pen, s job.MixingSheet, tub job.SheetTub, x, y float64) {
	const mm, footMM = labelWMM - 2*labelEdgeMM, labelHMM - 2*labelEdgeMM
	p.write(pr.title.at(17), x, y+4, fmt.Sprintf("Tub %d of %d", tub.Number, s.Mixed+len(s.Tubs)))
	p.right(pr.strong.at(12), x+mm, y+4, s.Code)
	body := pr.labelBody(s, tub, mm, true)
	if body.mm() > footMM-17 {
		body = pr.labelBody(s, tub, mm, false)
	}
	body.draw(p, x, y+7)
	p.ruled(soft, 0.25)
	for i, word := range []string{"mixed at", "by"} {
		start := x + float64(i)*mm/2
		p.line(start, y+footMM-2, start+mm/2-4, y+footMM-2)
		p.write(pr.soft.at(7.5), start, y+footMM+1.2, word)
	}
}

// labelBody is the text of a label; where many lots leave no room for their names, the
// codes alone.
func (pr *Press) labelBody(s job.MixingSheet, tub job.SheetTub, mm float64, named bool) column {
	var c column
	c.put(pr.text, joined(" · ", jobTitle(s), joined("", seasonOf(s)...)), mm, 0)
	codes := ""
	for i, lot := range s.Lots {
		if i >= len(tub.Grams) || tub.Grams[i] == 0 {
			continue
		}
		words := fmt.Sprintf("%s  %s%cg", lot.Code, plain(tub.Grams[i], 1), nbsp)
		if !named {
			codes = joined(", ", codes, words)
			continue
		}
		c.put(pr.strong.at(10.5), words, mm, 1)
		c.put(pr.soft, described(lot), mm, 0)
	}
	c.put(pr.strong, codes, mm, 1)
	c.put(pr.text, fmt.Sprintf("%s L %s, to the %s L line", unit.Grouped(tub.MediumL, 1), s.Medium, plain(tub.MixL, 1)), mm, 1)
	c.put(pr.text, "should last "+unit.Grouped(tub.RowM/1000, 2)+" row-km", mm, 0)
	c.put(pr.soft, "Seed for sowing, never feed. Dust: outdoors, P2 mask.", mm, 0.5)
	return c
}
