package paper

import "rowtally/internal/bill"

const (
	termXMM = leftMM + 34 // where the sentences of the particulars stand
	termWMM = rightMM - termXMM
)

// particulars sets headings at the left and their sentences beside them.
func (pr *Press) particulars(all []bill.Particular) []piece {
	var out []piece
	for _, one := range all {
		headings := pr.strong.wrap(one.Heading, termXMM-leftMM-4)
		words := pr.text.wrap(one.Text, termWMM)
		count := max(len(headings), len(words))
		for i := range count {
			out = append(out, piece{mm: pr.text.leadMM(), glued: i < count-1, draw: func(p *pen, y float64) {
				if i < len(headings) {
					p.write(pr.strong, leftMM, y+3.6, headings[i])
				}
				if i < len(words) {
					p.write(pr.text, termXMM, y+3.6, words[i])
				}
			}})
		}
		out[len(out)-1].mm += 1.4
	}
	return out
}

// keptMM is how high a section may be to stay on one page.
const keptMM = 45.0

// told is a section of particulars, a short one kept on one page; nothing when there are none.
func (pr *Press) told(heading string, all []bill.Particular) []piece {
	if len(all) == 0 {
		return nil
	}
	out := append([]piece{pr.section(heading, false)}, pr.particulars(all)...)
	if height(out) <= keptMM {
		out = together(out)
	}
	return append(out, gap(3))
}

// together glues pieces to one another, the last one left free.
func together(pieces []piece) []piece {
	for i := range len(pieces) - 1 {
		pieces[i].glued = true
	}
	return pieces
}
