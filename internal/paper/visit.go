package paper

import (
	"fmt"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

const visitLineMM = 7.0 // a line to write on, by hand

// Visit prints the sheet of a farm visit: who and what came in and left clean, the owner's
// conditions, what to look at and measure, and the hold-points before the float leaves.
func (pr *Press) Visit(s job.VisitSheet) ([]byte, error) {
	h := letterhead{name: s.Business, title: "Visit sheet", number: s.Code}
	if s.Day != "" {
		h.marks = []string{"printed " + s.Day.String()}
	}
	d := document{press: pr, title: "Visit sheet " + s.Code, author: s.Business, made: s.Day.Time(),
		top: pr.topOf(h), running: pr.runningOf(h), foot: joined(" · ", s.Code, s.Name, s.Farm)}
	d.add(pr.visited(s)...)
	d.add(pr.visitPlant(s)...)
	d.add(pr.visitTerms(s)...)
	d.add(pr.lookedAt(s)...)
	d.add(pr.holdPoints(s))
	d.add(pr.care(s.Cautions)...)
	d.add(pr.signed())
	return d.print()
}

// visited names the job, and has the lines of who came and when.
func (pr *Press) visited(s job.VisitSheet) []piece {
	out := []piece{pr.section(joined(", ", s.Name, paddockBeside(s), s.Farm), true)}
	if known := visitKnown(s); known != "" {
		out = append(out, pr.sentence(pr.text, known))
	}
	for _, line := range [][2]string{{"date", "property identification code"}, {"time in", "time out"}, {"people", "check-in with, by when"}} {
		out = append(out, pr.blanks(visitLineMM, line))
	}
	return append(out, gap(1.6))
}

// paddockBeside is the paddock where the job has another name.
func paddockBeside(s job.VisitSheet) string {
	if s.Paddock == s.Name {
		return ""
	}
	return s.Paddock
}

func visitKnown(s job.VisitSheet) string {
	var season, area string
	if s.Season != 0 {
		season = fmt.Sprintf("season %d", s.Season)
	}
	if s.GrossM2 > 0 {
		area = unit.Grouped(s.GrossM2/1e4, 1) + " ha gross"
	}
	return joined(" · ", season, area, s.Window)
}

// sentence is a text over the width of the page, with the piece below it.
func (pr *Press) sentence(st style, text string) piece {
	lines := st.wrap(text, rightMM-leftMM)
	return piece{mm: float64(len(lines))*st.leadMM() + 0.6, glued: true, draw: func(p *pen, y float64) {
		p.lines(st, leftMM, y+3.4, lines)
	}}
}

// The columns of what drives in, from the left margin.
var plantColumns = []struct {
	name string
	atMM float64
	mm   float64
}{{"machine or vehicle", 0, 41}, {"last property before", 41, 30}, {"before coming: where, how, by", 71, 48}, {"before leaving: where, how, by", 119, 48}}

// visitPlant lists the machines with boxes for where they were and how they were cleaned.
func (pr *Press) visitPlant(s job.VisitSheet) []piece {
	heads := piece{mm: 4.6, glued: true, draw: func(p *pen, y float64) {
		for _, c := range plantColumns {
			p.write(pr.soft, leftMM+c.atMM+1, y+3.2, c.name)
		}
	}}
	out := []piece{pr.section("What drives in, and its clean-down", true), heads}
	for _, name := range s.Plant {
		row := pr.plantRow(name)
		row.heads = &heads
		out = append(out, row)
	}
	return append(out, gap(1.6))
}

func (pr *Press) plantRow(name string) piece {
	lines := pr.text.clipped(name, plantColumns[0].mm-3, 2)
	highMM := max(visitLineMM, float64(len(lines))*pr.text.leadMM()+2)
	return piece{mm: highMM, draw: func(p *pen, y float64) {
		p.ruled(soft, 0.25)
		for _, c := range plantColumns {
			p.box(leftMM+c.atMM, y, c.mm, highMM)
		}
		p.lines(pr.text, leftMM+1.5, y+(highMM-float64(len(lines))*pr.text.leadMM())/2+3.3, lines)
	}}
}

// visitTerms states what was asked of the farm, with a line for what the owner asks.
func (pr *Press) visitTerms(s job.VisitSheet) []piece {
	out := []piece{pr.section("What is asked of the farm, and what the owner asks", false)}
	if len(s.Terms) > 0 {
		out = append(out, pr.particulars(s.Terms)...)
		out = append(out, pr.sentence(pr.soft, "Terms "+s.TermsOf+"."))
	}
	out = append(out, pr.wholeBlank(visitLineMM, "owner's conditions: gates, tracks, stock, sprays"))
	return append(out, gap(1.6))
}

// lookedAt has the lines of what is measured and looked at.
func (pr *Press) lookedAt(s job.VisitSheet) []piece {
	out := []piece{pr.section("Look and measure", true)}
	if s.Known != "" {
		out = append(out, pr.sentence(pr.soft, "Known so far: "+s.Known+"."))
	}
	for _, line := range [][2]string{
		{"salt, with its unit and how read", "from–to cm, month"}, {"watertable, m below the surface", "month, place"},
		{"texture of the surface, of the subsoil", "weeds, declared ones"}, {"mites", "drains, where water goes"}, {"fences", "gates and access"},
	} {
		out = append(out, pr.blanks(visitLineMM, line))
	}
	return append(out, gap(1.6))
}

// holdPoints are boxes to tick, each with room for who looked and when.
func (pr *Press) holdPoints(s job.VisitSheet) piece {
	head := pr.section("Before the float leaves the yard", true)
	return piece{mm: sectionMM + 11.5, draw: func(p *pen, y float64) {
		head.draw(p, y)
		wideMM := (rightMM - leftMM) / float64(max(1, len(s.Holds)))
		for i, point := range s.Holds {
			x := leftMM + float64(i)*wideMM
			p.ruled(ink, 0.3)
			p.box(x, y+sectionMM, 3.4, 3.4)
			p.write(pr.text.fit(point, wideMM-8), x+5, y+sectionMM+2.9, point)
			pr.ruledAfter(p, x+5, y+sectionMM+9.6, wideMM-9, "seen by, on")
		}
	}}
}

// signed is the room for both signatures.
func (pr *Press) signed() piece {
	line := pr.blanks(10, [2]string{"contractor, date", "for the farm, date"})
	line.glued = false
	return line
}
