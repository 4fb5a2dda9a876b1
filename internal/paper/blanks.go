package paper

// blanks is a line of the page with words and the room beside them to write in; an empty
// word leaves its half of the line out.
func (pr *Press) blanks(mm float64, line [2]string) piece {
	const apartMM = 6.0
	return piece{mm: mm, glued: true, draw: func(p *pen, y float64) {
		const half = (rightMM - leftMM - apartMM) / 2
		for i, word := range line {
			if word == "" {
				continue
			}
			x := leftMM + float64(i)*(half+apartMM)
			pr.ruledAfter(p, x, y+mm-2, half, word)
		}
	}}
}

// ruledAfter is a word and the rule beside it, together so wide, on the baseline y + 0.6 mm.
func (pr *Press) ruledAfter(p *pen, x, y, mm float64, word string) {
	p.write(pr.soft, x, y-0.6, word)
	p.ruled(ink, 0.25)
	p.line(x+pr.soft.widthMM(word)+2, y, x+mm, y)
}

// wholeBlank is a line of the page with one word and the rest of it to write on.
func (pr *Press) wholeBlank(mm float64, word string) piece {
	return piece{mm: mm, glued: true, draw: func(p *pen, y float64) {
		pr.ruledAfter(p, leftMM, y+mm-2, rightMM-leftMM, word)
	}}
}
