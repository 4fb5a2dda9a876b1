package paper

import (
	"fmt"

	"rowtally/internal/bill"
)

// The three columns below the head: whom the paper is for, the job, the plan picture.
const (
	forWMM    = 48.0
	jobXMM    = leftMM + 53
	jobWMM    = 52.0
	planXMM   = rightMM - 58
	mostLines = 12 // of one name or address; a longer one is cut with a mark
)

// column is wrapped text of a narrow column: blocks of lines, each in its style.
type column struct {
	blocks []block
}

type block struct {
	style   style
	lines   []string
	aboveMM float64
}

func (c *column) put(s style, text string, mm, aboveMM float64) {
	if text != "" {
		c.blocks = append(c.blocks, block{s, s.clipped(text, mm, mostLines), aboveMM})
	}
}

func (c column) mm() float64 {
	total := 0.0
	for _, b := range c.blocks {
		total += b.aboveMM + float64(len(b.lines))*b.style.leadMM()
	}
	return total
}

func (c column) draw(p *pen, x, y float64) {
	for _, b := range c.blocks {
		y += b.aboveMM
		p.lines(b.style, x, y+b.style.leadMM()*0.75, b.lines)
		y += float64(len(b.lines)) * b.style.leadMM()
	}
}

// parties is the block of the three columns.
func (b *billing) parties() piece {
	buyer, job := b.buyer(), b.job()
	mm := sectionMM + max(buyer.mm(), job.mm())
	if b.drawn {
		mm = max(mm, mapMM(b.plan)+1)
	}
	heading := b.section("For", false)
	return piece{mm: mm, draw: func(p *pen, y float64) {
		heading.draw(p, y)
		p.write(b.heading, jobXMM, y+4.5, "The job")
		buyer.draw(p, leftMM, y+sectionMM)
		job.draw(p, jobXMM, y+sectionMM)
		if b.drawn {
			b.drawMap(p, b.plan, planXMM, y+1)
		}
	}}
}

func (b *billing) buyer() column {
	var c column
	buyer := b.paper.Buyer
	c.put(b.strong, buyer.Name, forWMM, 0)
	c.put(b.text, buyer.Address, forWMM, 0)
	c.put(b.text, joined("\n", buyer.Phone, buyer.Email), forWMM, 0)
	if buyer.ABN != "" {
		c.put(b.text, "ABN "+bill.FormatABN(buyer.ABN), forWMM, 0)
	}
	return c
}

func (b *billing) job() column {
	var c column
	mm := jobWMM
	if !b.drawn {
		mm = rightMM - jobXMM
	}
	c.put(b.strong, b.paper.Paddock, mm, 0)
	if b.paper.Farm != b.paper.Buyer.Name {
		c.put(b.text, b.paper.Farm, mm, 0)
	}
	if b.paper.Season > 0 {
		c.put(b.text, fmt.Sprintf("season %d", b.paper.Season), mm, 0)
	}
	c.put(b.text, b.rowKm(), mm, 0)
	for _, fact := range b.dates() {
		c.put(b.soft, fact.Heading, mm, 2)
		c.put(b.text, fact.Text, mm, 0)
	}
	return c
}
