package paper

import (
	"fmt"

	"rowtally/internal/unit"
)

// catchTest is the metering check: what should be caught, and rows to write down what was.
func (pr *Press) catchTest(s Sheet) piece {
	const tries, tryMM, headMM = 3, 8.6, 5.0
	columns := []struct {
		name string
		mm   float64
	}{{"run, m", 24}, {"outlet", 20}, {"caught, mL", 34}, {"placements", 28}, {"mL a placement = caught ÷ placements", 61}}
	head := pr.section("Catch test, with the first tub and after any change", true)
	words := pr.text.wrap(catchWords(s), rightMM-leftMM)
	wordsMM := float64(len(words))*pr.text.leadMM() + 1
	return piece{mm: sectionMM + wordsMM + headMM + tries*tryMM, draw: func(p *pen, y float64) {
		head.draw(p, y)
		p.lines(pr.text, leftMM, y+sectionMM+3.4, words)
		top := y + sectionMM + wordsMM + headMM
		x := leftMM
		for _, c := range columns {
			p.write(pr.soft, x+1.2, top-1.4, c.name)
			p.ruled(soft, 0.25)
			for i := range tries {
				p.box(x, top+float64(i)*tryMM, c.mm, tryMM)
			}
			x += c.mm
		}
	}}
}

// catchWords says what one outlet should drop, and what to do when it does not.
func catchWords(s Sheet) string {
	c := s.Catch
	if c.RunM == 0 {
		return fmt.Sprintf("Planned: %s mL a placement.", plain(s.PlacementML, 1))
	}
	return fmt.Sprintf("One outlet over %s m, %s placements, should drop %s mL; %s to %s mL is within %s %%. Outside that, put the meter right or have the mix worked out again before more is mixed.",
		plain(c.RunM, 1), plain(c.Placements, 1), unit.Grouped(c.ExpectedML, 0), unit.Grouped(c.LeastML, 0), unit.Grouped(c.MostML, 0), plain(c.TolerancePercent, 1))
}
