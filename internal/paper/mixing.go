package paper

import (
	"fmt"
	"strconv"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// Mixing prints the operator's sheet: what to weigh into each tub still to be mixed, and
// the blanks to fill by hand. It is read at arm's length, in gloves.
func (pr *Press) Mixing(s job.MixingSheet) ([]byte, error) {
	h := letterhead{name: s.Business, address: seasonOf(s), title: "Mixing sheet", number: s.Code}
	if s.Day != "" {
		h.marks = []string{"printed " + s.Day.String()}
	}
	d := document{press: pr, title: "Mixing sheet " + s.Code, author: s.Business, made: s.Day.Time(),
		top: pr.topOf(h), running: pr.runningOf(h), foot: joined(" · ", s.Code, s.Name, s.Farm)}
	d.add(pr.mixFigures(s))
	d.add(pr.takes(s)...)
	d.add(pr.ends(s)...)
	d.add(pr.care(s.Cautions)...)
	d.add(d.tightest([]float64{stepMM, 6.2, 5.2, leastStepMM}, func(mm float64) []piece {
		return append(pr.tubs(s, mm), piece{mm: 1, glued: true}, pr.catchTest(s))
	})...)
	return d.print()
}

func seasonOf(s job.MixingSheet) []string {
	if s.Season == 0 {
		return nil
	}
	return []string{fmt.Sprintf("season %d", s.Season)}
}

// plain writes a measure with as many decimals as it needs, up to a most.
func plain(v float64, most int) string {
	fine := strconv.FormatFloat(v, 'f', most, 64)
	for decimals := range most {
		short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
		if err == nil && strconv.FormatFloat(short, 'f', most, 64) == fine {
			return unit.Grouped(v, decimals)
		}
	}
	return unit.Grouped(v, most)
}

// mixFigures is the job in large figures, and its layout.
func (pr *Press) mixFigures(s job.MixingSheet) piece {
	head := pr.section(jobTitle(s), false)
	figures := largeFigures(s)
	var words column
	words.put(pr.text, s.Layout, rightMM-leftMM, 0)
	return piece{mm: sectionMM + 13 + words.mm() + 1, draw: func(p *pen, y float64) {
		head.draw(p, y)
		for i, figure := range figures {
			x := leftMM + float64(i)*42
			p.write(pr.strong.at(19), x, y+sectionMM+6.5, figure[0])
			p.write(pr.soft, x, y+sectionMM+10.5, figure[1])
		}
		words.draw(p, leftMM, y+sectionMM+13)
	}}
}

// largeFigures are figures with their units. Row-km already mixed for, and a placement
// that a catch test changed, are told where there are any.
func largeFigures(s job.MixingSheet) [][2]string {
	rowKm, placement := "row-km", "mL a placement"
	if s.Mixed > 0 {
		rowKm = "row-km left, of " + unit.Grouped(s.RowM/1000, 2)
	}
	if s.IntendedML > 0 && s.IntendedML != s.PlacementML {
		placement = "mL a placement, not " + plain(s.IntendedML, 1)
	}
	return [][2]string{
		{unit.Grouped(s.LeftM/1000, 2), rowKm},
		{unit.Grouped(s.PerKm, 1), "placements a row-km"},
		{plain(s.PlacementML, 1), placement},
		{unit.Grouped(s.LPerKm, 2), "L of mix a row-km"},
	}
}

// jobTitle names the job by its own name, and by its paddock where that is another.
func jobTitle(s job.MixingSheet) string {
	if s.Paddock != s.Name {
		return joined(", ", s.Name, s.Paddock, s.Farm)
	}
	return joined(", ", s.Name, s.Farm)
}

// takes lists what the tubs take from the shed, amounts aligned on the point.
func (pr *Press) takes(s job.MixingSheet) []piece {
	var out []piece
	for _, lot := range s.Lots {
		out = append(out, pr.take(lot.Code, unit.Grouped(lot.Grams/1000, 2), "kg", described(lot)))
	}
	return append(out, pr.take("medium", unit.Grouped(s.MediumL(), 0), "L", s.Medium), gap(1))
}

// ends says why the tubs end before the rows do; nothing when they reach all.
func (pr *Press) ends(s job.MixingSheet) []piece {
	if s.Short == "" {
		return nil
	}
	lines := pr.strong.wrap(s.Short, rightMM-leftMM)
	return []piece{{mm: float64(len(lines))*pr.strong.leadMM() + 2, draw: func(p *pen, y float64) {
		p.lines(pr.strong, leftMM, y+3.6, lines)
	}}}
}

// described names a lot in words, with its botanical name, its treatment and the live seed it
// is mixed by.
func described(lot job.SheetLot) string {
	words := joined(" · ", lot.Name, lot.Species)
	if lot.Treated != "" {
		words = joined(", ", words, "treated: "+lot.Treated)
	}
	return joined("; ", words, lot.Live)
}

func (pr *Press) take(what, amount, unitName, words string) piece {
	const pointMM, unitMM, wordsMM = leftMM + 34, leftMM + 41, leftMM + 48
	small := pr.soft.at(8.4)
	lines := small.wrap(words, rightMM-wordsMM)
	name := pr.strong.fit(what, 28)
	return piece{mm: max(float64(len(lines))*small.leadMM(), pr.text.leadMM()), draw: func(p *pen, y float64) {
		p.write(name, leftMM, y+3.6, what)
		p.atPoint(pr.text, pointMM, y+3.6, amount)
		p.write(pr.text, unitMM, y+3.6, unitName)
		p.lines(small, wordsMM, y+3.6, lines)
	}}
}

// care sets the cautions in two columns, as even as they come.
func (pr *Press) care(cautions []string) []piece {
	if len(cautions) == 0 {
		return nil
	}
	const apartMM, indentMM = 5.0, 3.2
	const columnMM = (rightMM - leftMM - apartMM) / 2
	words := style{pr.text.face, 8.4, ink}
	var columns [2][][]string
	var lines [2]int
	for i, caution := range cautions {
		into := 0
		if i > 0 && lines[0] > lines[1] && i*2 >= len(cautions) {
			into = 1
		}
		wrapped := words.wrap(caution, columnMM-indentMM)
		columns[into], lines[into] = append(columns[into], wrapped), lines[into]+len(wrapped)
	}
	head := pr.section("Take care", false)
	return []piece{{mm: sectionMM + float64(max(lines[0], lines[1]))*words.leadMM() + 1, draw: func(p *pen, y float64) {
		head.draw(p, y)
		for k, column := range columns {
			x, base := leftMM+float64(k)*(columnMM+apartMM), y+sectionMM+2.6
			for _, caution := range column {
				p.dot(x+0.9, base-1.1, 0.5, ink)
				p.lines(words, x+indentMM, base, caution)
				base += float64(len(caution)) * words.leadMM()
			}
		}
	}}}
}
