package paper

import (
	"fmt"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// catchTest is the metering check: what an outlet should drop, and rows to write down what
// it did.
func (pr *Press) catchTest(s job.MixingSheet) piece {
	const tries, tryMM, headMM = 3, 8.6, 5.0
	columns := []struct {
		name string
		mm   float64
	}{{"run, m", 22}, {"outlets", 18}, {"caught, mL", 30}, {"spacing, m", 24}, {"mL a placement = caught × spacing ÷ (run × outlets)", 73}}
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
func catchWords(s job.MixingSheet) string {
	return fmt.Sprintf("This sheet rests on %s mL a placement, a placement every %s m. If the meter drops otherwise, put it right or have the mix worked out again before more is mixed.",
		plain(s.PlacementML, 1), unit.Grouped(s.SpacingM, 2))
}
