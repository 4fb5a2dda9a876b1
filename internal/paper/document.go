package paper

import (
	"slices"
	"time"
)

// The page: A4, with room for a binder's holes at the left of the spine.
const (
	pageWMM   = 210.0
	pageHMM   = 297.0
	spineMM   = 17.0 // the line along which the sections stand, like placements in a row
	leftMM    = 25.0
	rightMM   = 192.0
	bottomMM  = 280.0
	footMM    = 287.0
	topMM     = 14.0
	sectionMM = 8.0 // from a section's top to the first thing below its heading
)

// document is what a paper says. Its pages follow from its pieces, so the count of pages
// is known before the first is drawn.
type document struct {
	press   *Press
	title   string // for the file's properties and the head of the pages after the first
	author  string
	made    time.Time
	top     piece // the head of the first page
	running piece // the head of the others
	foot    string
	body    []piece
}

// add puts pieces at the end.
func (d *document) add(pieces ...piece) { d.body = append(d.body, pieces...) }

// pages sets pieces on the document's pages; room at the end needs none.
func (d *document) pages(body []piece) [][]placed {
	for len(body) > 0 && body[len(body)-1].draw == nil {
		body = body[:len(body)-1]
	}
	return flow(body, room{topMM + d.top.mm, topMM + d.running.mm, bottomMM})
}

// tightest lays the next pieces out as roomy as they may be, unless a tighter one saves a
// page.
func (d *document) tightest(heights []float64, lay func(mm float64) []piece) []piece {
	var best []piece
	pages := 0
	for _, mm := range heights {
		pieces := lay(mm)
		if n := len(d.pages(slices.Concat(d.body, pieces))); best == nil || n < pages {
			best, pages = pieces, n
		}
	}
	return best
}

// print draws the pages.
func (d *document) print() ([]byte, error) {
	p := newPen(d.title, d.author, d.made)
	pages := d.pages(d.body)
	for i, page := range pages {
		p.pdf.AddPage()
		head := d.running
		if i == 0 {
			head = d.top
		}
		head.draw(p, topMM)
		d.drawSpine(p, page, topMM+head.mm)
		for _, one := range page {
			if one.draw != nil {
				one.draw(p, one.topMM)
			}
		}
		d.drawFoot(p, i+1, len(pages))
	}
	return p.bytes()
}

func (d *document) drawSpine(p *pen, page []placed, fromMM float64) {
	if len(page) == 0 {
		return
	}
	last := page[len(page)-1]
	p.ruled(faint, 0.3)
	p.line(spineMM, fromMM-2, spineMM, last.topMM+last.mm)
}
