package paper

import "rowtally/internal/bill"

// Cautions are on every mixing sheet and tub label. They say what to do, briefly; product
// labels and local codes go before them.
var Cautions = []bill.Particular{
	{Heading: "Dust", Text: "Open and mix vermiculite outdoors, back to the wind, in a P2 mask. Hold the supplier's asbestos-free statement."},
	{Heading: "Treated seed", Text: "Gloves on, read the label. Never feed it to stock."},
	{Heading: "Lifting", Text: "Half a bag, or two people."},
	{Heading: "Unblocking", Text: "Isolate the machine and wait until all is still. Only then does a guard come off."},
	{Heading: "Alone", Text: "Nobody works alone without a set time to check in."},
	{Heading: "Above all", Text: "Product labels and local codes rule over this sheet."},
}

// care sets the cautions in two columns, and below them those of this job alone.
func (pr *Press) care(notes []string) []piece {
	const rightXMM = leftMM + 87
	out := []piece{pr.section("Take care", false)}
	half := (len(Cautions) + 1) / 2
	for i := range half {
		left := pr.caution(Cautions[i])
		right := beside{at: func(*pen, float64, float64) {}}
		if half+i < len(Cautions) {
			right = pr.caution(Cautions[half+i])
		}
		out = append(out, piece{mm: max(left.mm, right.mm) + 1, glued: i < half-1, draw: func(p *pen, y float64) {
			left.at(p, leftMM, y)
			right.at(p, rightXMM, y)
		}})
	}
	for _, note := range notes {
		var c column
		c.put(pr.strong, note, rightMM-leftMM, 0)
		out = append(out, piece{mm: c.mm() + 1, draw: func(p *pen, y float64) { c.draw(p, leftMM, y) }})
	}
	return append(out, gap(3))
}

// beside is a heading and its words beside it, set where there is room for them.
type beside struct {
	mm float64
	at func(p *pen, x, y float64)
}

func (pr *Press) caution(one bill.Particular) beside {
	const headingMM, wordsMM = 22.0, 58.0
	var heading, words column
	heading.put(pr.strong.at(9), one.Heading, headingMM, 0)
	words.put(pr.text.at(9), one.Text, wordsMM, 0)
	return beside{max(heading.mm(), words.mm()), func(p *pen, x, y float64) {
		heading.draw(p, x, y)
		words.draw(p, x+headingMM, y)
	}}
}
