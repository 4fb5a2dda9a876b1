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
	lotsPerLabel = 2
)

// Labels prints the labels of a mixing sheet's tubs, on plain paper to be cut: what is in the
// tub, by lot, each with a code that a phone reads, so that a row can be traced back to its
// seed. A tub of more than two lots takes more than one label. Without tubs it fails.
func (pr *Press) Labels(s job.MixingSheet) ([]byte, error) {
	if len(s.Tubs) == 0 {
		return nil, fmt.Errorf("print tub labels: job %s has no tubs, work out its mix first", s.Code)
	}
	p := newPen("Tub labels "+s.Code, s.Business, s.Day.Time())
	for i, one := range labelsOf(s) {
		place := i % (labelsAcross * labelsDown)
		if place == 0 {
			p.pdf.AddPage()
			p.cuts()
		}
		x, y := float64(place%labelsAcross)*labelWMM, float64(place/labelsAcross)*labelHMM
		if err := pr.label(p, s, one, x+labelEdgeMM, y+labelEdgeMM); err != nil {
			return nil, fmt.Errorf("print tub labels of %s: %w", s.Code, err)
		}
	}
	return p.bytes()
}

// tubLabel is one label: a tub with one or two of its lots.
type tubLabel struct {
	tub  job.SheetTub
	lots []labelLot
	last bool // of its tub: medium and litres stand on it
}

type labelLot struct {
	job.SheetLot
	grams float64
}

// labelsOf cuts the tubs into labels.
func labelsOf(s job.MixingSheet) (labels []tubLabel) {
	for _, tub := range s.Tubs {
		var lots []labelLot
		for i, grams := range tub.Grams {
			if grams > 0 && i < len(s.Lots) {
				lots = append(lots, labelLot{s.Lots[i], grams})
			}
		}
		for len(lots) > lotsPerLabel {
			labels = append(labels, tubLabel{tub, lots[:lotsPerLabel], false})
			lots = lots[lotsPerLabel:]
		}
		labels = append(labels, tubLabel{tub, lots, true})
	}
	return labels
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

func (pr *Press) label(p *pen, s job.MixingSheet, l tubLabel, x, y float64) error {
	const mm, footMM, codeMM = labelWMM - 2*labelEdgeMM, labelHMM - 2*labelEdgeMM, 21.0
	p.write(pr.title.at(17), x, y+4, fmt.Sprintf("Tub %d of %d", l.tub.Number, s.Mixed+len(s.Tubs)))
	p.right(pr.strong.at(12), x+mm, y+4, s.Code)
	body := pr.labelBody(s, l, mm-codeMM-2)
	body.draw(p, x, y+7)
	for i, lot := range l.lots {
		top := y + 5.5 + float64(i)*(codeMM+1)
		text := job.TubLabel{Lot: lot.Code, Job: s.Code, Tub: l.tub.Number}.Text()
		if err := p.qrCode(text, x+mm-codeMM+2.5, top, codeMM); err != nil {
			return err
		}
		p.middle(pr.strong.at(7).fit(lot.Code, codeMM-4), x+mm-codeMM/2+2.5, top+codeMM+0.4, lot.Code)
	}
	p.ruled(soft, 0.25)
	for i, word := range []string{"mixed at", "by"} {
		start := x + float64(i)*(mm-codeMM)/2
		p.line(start, y+footMM-2, start+(mm-codeMM)/2-4, y+footMM-2)
		p.write(pr.soft.at(7.5), start, y+footMM+1.2, word)
	}
	return nil
}

// labelBody is the text of a label.
func (pr *Press) labelBody(s job.MixingSheet, l tubLabel, mm float64) column {
	var c column
	c.few(pr.text, joined(" · ", jobTitle(s), joined("", seasonOf(s)...)), mm, 1)
	for _, lot := range l.lots {
		c.put(pr.strong.at(10.5), fmt.Sprintf("%s  %s%cg", lot.Code, plain(lot.grams, 1), nbsp), mm, 1)
		c.few(pr.soft, joined(", ", lot.Species, lot.Name), mm, 1)
		if lot.Treated != "" {
			c.few(pr.soft, "treated: "+lot.Treated, mm, 1)
		}
	}
	if l.last {
		c.put(pr.text, fmt.Sprintf("%s L medium, to the %s L line; lasts %s row-km", unit.Grouped(l.tub.MediumL, 1), plain(l.tub.MixL, 1), unit.Grouped(l.tub.RowM/1000, 2)), mm, 1)
	} else {
		c.put(pr.text, "More lots of this tub on its next label.", mm, 1)
	}
	c.put(pr.soft, "Seed, never feed. Dust: outdoors, P2 mask.", mm, 0.5)
	return c
}

// few puts a text of which so many lines are enough.
func (c *column) few(s style, text string, mm float64, most int) {
	c.blocks = append(c.blocks, block{s, s.clipped(text, mm, most), 0})
}
