package paper

import (
	"fmt"

	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
)

// catchColumn is one column of the catch test's table, with what it should hold.
type catchColumn struct {
	name string
	mm   float64
	want string // "" while the machine's wheel is not known
}

// catchTest is the metering check: what an outlet should drop, and rows to write down what
// it did.
func (pr *Press) catchTest(s job.MixingSheet) piece {
	const tries, tryMM, headMM, wantMM = 3, 5.6, 4.4, 5.0
	columns, shownMM := catchColumns(s), 0.0
	if s.Catch != nil {
		shownMM = wantMM
	}
	head := pr.section("Catch test, with the first tub and after any change", true)
	small := pr.text.at(8.6)
	words := small.wrap(catchWords(s), rightMM-leftMM)
	wordsMM := float64(len(words))*small.leadMM() + 0.6
	return piece{mm: sectionMM - 1 + wordsMM + headMM + shownMM + tries*tryMM, draw: func(p *pen, y float64) {
		head.draw(p, y)
		p.lines(small, leftMM, y+sectionMM+2, words)
		top := y + sectionMM - 1 + wordsMM + headMM
		x := leftMM
		for _, c := range columns {
			p.write(pr.soft.fit(c.name, c.mm-1.4), x+1.2, top-1.4, c.name)
			p.write(pr.strong.fit(c.want, c.mm-2), x+1.2, top+3.8, c.want)
			p.ruled(soft, 0.25)
			if shownMM > 0 {
				p.box(x, top, c.mm, shownMM)
			}
			for i := range tries {
				p.box(x, top+shownMM+float64(i)*tryMM, c.mm, tryMM)
			}
			x += c.mm
		}
	}}
}

func catchColumns(s job.MixingSheet) []catchColumn {
	columns := []catchColumn{{"run, m", 27, ""}, {"outlets", 15, ""}, {"caught, mL", 36, ""}, {"spacing, m", 19, ""},
		{"mL a placement = caught × spacing ÷ (run × outlets)", 70, ""}}
	if c := s.Catch; c != nil {
		for i, want := range []string{
			fmt.Sprintf("%s, %d turns", plain(c.RunM, 2), c.Turns), "1",
			fmt.Sprintf("%s, %s to %s", unit.Grouped(c.CatchML, 0), unit.Grouped(c.LeastML, 0), unit.Grouped(c.MostML, 0)),
			unit.Grouped(s.SpacingM, 2), fmt.Sprintf("%s, and up to %d %% either way", plain(s.PlacementML, 1), mix.TolerancePercent),
		} {
			columns[i].want = want
		}
	}
	return columns
}

// catchWords says what the sheet rests on, and what to do when the meter drops otherwise.
func catchWords(s job.MixingSheet) string {
	words := fmt.Sprintf("This sheet rests on %s mL a placement, a placement every %s m. If the meter drops otherwise, put it right or have the mix worked out again before more is mixed.",
		plain(s.PlacementML, 1), unit.Grouped(s.SpacingM, 2))
	if s.Catch != nil {
		words += " The first line is what one outlet should drop."
	}
	return words
}
