package paper

import (
	"fmt"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// Sown prints a sown record: the map planned against sown, the sums, how it was measured,
// the logs with their hashes, and every row. It has no number; the same sheet gives the
// same bytes.
func (pr *Press) Sown(s job.SownSheet) ([]byte, error) {
	h := letterhead{name: s.Issuer.Name, address: issuerLines(s.Issuer), title: "Sown record", number: s.Code,
		marks: []string{fmt.Sprintf("season %d, matched on %s", s.Season, s.MatchedOn)}}
	if s.For != "" {
		h.marks = append(h.marks, "as it stood for "+s.For)
	}
	d := document{press: pr, title: "Sown record " + s.Code, author: s.Issuer.Name, made: s.MatchedOn.Time(),
		top: pr.topOf(h), running: pr.runningOf(h), foot: joined(" · ", "sown record "+s.Code, s.Name, s.Farm, s.For)}
	d.add(pr.section(joined(", ", s.Name, s.Farm), false))
	d.add(pr.rowPicture(job.RowMap{Map: s.Map, Rows: s.Belts}), pr.paragraph(s.Layout), gap(2))
	d.add(pr.sownSums(s.Sums)...)
	d.add(pr.told("How it was measured", s.How)...)
	d.add(pr.sownFiles(s.Files)...)
	d.add(d.tightest(pr.sownRowsMM(), func(mm float64) []piece { return pr.sownRows(s.Rows, mm) })...)
	d.add(pr.sownLaps(s.Headland)...)
	return d.print()
}

// sownSums sets the sums below one another, figures on their points.
func (pr *Press) sownSums(sums []job.SheetSum) []piece {
	out := []piece{pr.section("What was sown", false)}
	for i, sum := range sums {
		out = append(out, piece{mm: pr.text.leadMM() + 0.6, glued: i < len(sums)-1, draw: func(p *pen, y float64) {
			p.write(pr.text, leftMM, y+3.6, sum.What)
			p.atPoint(pr.strong, leftMM+62, y+3.6, sum.Amount)
			p.write(pr.text, leftMM+72, y+3.6, sum.Unit)
		}})
	}
	return append(out, gap(3))
}

// sownFiles names each log with its machine and its hash, which anybody can work out anew.
func (pr *Press) sownFiles(files []job.SownFile) []piece {
	if len(files) == 0 {
		return nil
	}
	out := []piece{pr.section("Logs of the machine, each with its SHA-256", false)}
	for _, file := range files {
		words := fmt.Sprintf("%s bytes, %s fixes used; %s", unit.Grouped(float64(file.Bytes), 0), unit.Grouped(float64(file.Fixes), 0), file.MachineSays())
		if !file.From.IsZero() {
			words = fmt.Sprintf("%s to %s UTC; %s", file.From.UTC().Format("2 Jan 2006 15:04"), file.To.UTC().Format("2 Jan 2006 15:04"), words)
		}
		name, lines := pr.strong.clipped(file.Name, rightMM-leftMM, 2), pr.text.wrap(words, rightMM-leftMM)
		out = append(out, piece{mm: float64(len(name)+len(lines)+1)*pr.text.leadMM() + 2, draw: func(p *pen, y float64) {
			p.lines(pr.strong, leftMM, y+3.6, name)
			y += float64(len(name)) * pr.text.leadMM()
			p.lines(pr.text, leftMM, y+3.6, lines)
			p.write(pr.soft, leftMM, y+3.6+float64(len(lines))*pr.text.leadMM(), file.SHA256)
		}})
	}
	return append(out, gap(3))
}

// The columns of the rows: where each figure's decimal point stands.
const sownColumnMM = 28.0

const keptRows = 6 // the last ones, which stay on one page

// sownRowsMM are the heights that a row may have, the roomiest first.
func (pr *Press) sownRowsMM() []float64 {
	lead := pr.text.leadMM()
	return []float64{lead + 0.8, lead + 0.5, lead + 0.2, lead - 0.1}
}

// sownRows lists every row, so high each, its heads again on each page. The last rows stay
// together, so that no page holds one alone.
func (pr *Press) sownRows(rows []job.SownRow, mm float64) []piece {
	out := pr.sownHeads("Row by row", "planned m", "covered m", "missed m", "doubled m", "past ends m")
	heads := out[1]
	for i, row := range rows {
		line := pr.sownLine(heads, mm, fmt.Sprint(row.Row), row.PlannedM, row.CoveredM, row.MissedM, row.DoubledM, row.OverrunM)
		line.glued = i >= len(rows)-keptRows && i < len(rows)-1
		out = append(out, line)
	}
	return out
}

// sownLaps lists every row of the headland passes, where they count.
func (pr *Press) sownLaps(laps []job.SownLap) []piece {
	if len(laps) == 0 {
		return nil
	}
	out := append([]piece{gap(3)}, pr.sownHeads("Headland, by pass and row", "planned m", "covered m", "missed m", "doubled m")...)
	heads := out[2]
	for i, lap := range laps {
		line := pr.sownLine(heads, pr.sownRowsMM()[0], fmt.Sprintf("%d, %d", lap.Pass, lap.Row), lap.PlannedM, lap.CoveredM, lap.MissedM, lap.DoubledM)
		line.glued = i >= len(laps)-keptRows && i < len(laps)-1
		out = append(out, line)
	}
	return out
}

// sownHeads are the section's name and the heads of its columns.
func (pr *Press) sownHeads(section string, words ...string) []piece {
	return []piece{pr.section(section, false), {mm: 8, glued: true, draw: func(p *pen, y float64) {
		p.right(pr.soft, leftMM+9, y+4, "row")
		for i, word := range words {
			p.right(pr.soft, leftMM+9+float64(i+1)*sownColumnMM, y+4, word)
		}
		p.ruled(ink, 0.3)
		p.line(leftMM, y+6, rightMM, y+6)
	}}}
}

// sownLine is one row, so high, with its lengths.
func (pr *Press) sownLine(heads piece, mm float64, name string, metres ...float64) piece {
	return piece{mm: mm, heads: &heads, draw: func(p *pen, y float64) {
		p.right(pr.text, leftMM+9, y+mm-1.42, name)
		for i, m := range metres {
			p.right(pr.text, leftMM+9+float64(i+1)*sownColumnMM, y+mm-1.42, unit.Grouped(m, 1))
		}
		p.ruled(faint, 0.15)
		p.line(leftMM, y+mm-0.2, rightMM, y+mm-0.2)
	}}
}
