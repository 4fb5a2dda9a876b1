package paper

import (
	"fmt"
	"strconv"

	"rowtally/internal/unit"
)

// Mixing prints the operator's sheet: what to weigh into each tub, and the blanks to fill
// by hand. It is read at arm's length, in gloves.
func (pr *Press) Mixing(s Sheet) ([]byte, error) {
	h := letterhead{name: s.Business, address: seasonOf(s), title: "Mixing sheet", number: s.JobCode}
	if s.PrintedOn != "" {
		h.marks = []string{"printed " + s.PrintedOn.String()}
	}
	d := document{press: pr, title: "Mixing sheet " + s.JobCode, author: s.Business, made: s.PrintedOn.Time(),
		top: pr.topOf(h), running: pr.runningOf(h), foot: joined(" · ", s.JobCode, s.JobName, s.Farm)}
	d.add(pr.mixFigures(s))
	d.add(pr.takes(s)...)
	d.add(pr.care(s.Notes)...)
	d.add(pr.tubs(s)...)
	d.add(gap(4), pr.catchTest(s))
	return d.print()
}

func seasonOf(s Sheet) []string {
	if s.Season == 0 {
		return nil
	}
	return []string{fmt.Sprintf("season %d", s.Season)}
}

// plain writes a measure with as many decimals as it needs, up to a most.
func plain(v float64, most int) string {
	for decimals := range most {
		if rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64); err == nil &&
			strconv.FormatFloat(rounded, 'f', most, 64) == strconv.FormatFloat(v, 'f', most, 64) {
			return unit.Grouped(v, decimals)
		}
	}
	return unit.Grouped(v, most)
}

// mixFigures is the job in large figures, and its layout.
func (pr *Press) mixFigures(s Sheet) piece {
	head := pr.section(jobTitle(s), false)
	figures := [][2]string{
		{unit.Grouped(s.RowKm, 1), "row-km"},
		{unit.Grouped(s.PlacementsPerRowKm, 1), "placements a row-km"},
		{plain(s.PlacementML, 1), "mL a placement"},
		{unit.Grouped(s.LPerRowKm, 2), "L of mix a row-km"},
	}
	var words column
	words.put(pr.text, s.Layout, rightMM-leftMM, 0)
	return piece{mm: sectionMM + 14 + words.mm() + 2, draw: func(p *pen, y float64) {
		head.draw(p, y)
		for i, figure := range figures {
			x := leftMM + float64(i)*42
			p.write(pr.strong.at(19), x, y+sectionMM+6.5, figure[0])
			p.write(pr.soft, x, y+sectionMM+10.5, figure[1])
		}
		words.draw(p, leftMM, y+sectionMM+14)
	}}
}

// jobTitle names the job by its own name, and by its paddock where that is another.
func jobTitle(s Sheet) string {
	if s.Paddock != s.JobName {
		return joined(", ", s.JobName, s.Paddock, s.Farm)
	}
	return joined(", ", s.JobName, s.Farm)
}

// takes lists what the whole job takes from the shed, amounts aligned on the point.
func (pr *Press) takes(s Sheet) []piece {
	var out []piece
	for _, lot := range s.Lots {
		out = append(out, pr.take(lot.Code, unit.Grouped(lot.Kg, 2), "kg", lot.described()))
	}
	return append(out, pr.take("medium", unit.Grouped(s.MediumL, 0), "L", s.Medium), gap(3))
}

func (pr *Press) take(what, amount, unitName, words string) piece {
	const pointMM, unitMM, wordsMM = leftMM + 40, leftMM + 47, leftMM + 56
	lines := pr.text.wrap(words, rightMM-wordsMM)
	name := pr.strong.fit(what, 28)
	return piece{mm: float64(len(lines)) * pr.text.leadMM(), draw: func(p *pen, y float64) {
		p.write(name, leftMM, y+3.6, what)
		p.atPoint(pr.text, pointMM, y+3.6, amount)
		p.write(pr.text, unitMM, y+3.6, unitName)
		p.lines(pr.text, wordsMM, y+3.6, lines)
	}}
}
