package paper

// piece is a part of a paper that is never broken by a page's end.
type piece struct {
	mm    float64                     // its height
	draw  func(p *pen, topMM float64) // nil for empty room
	glued bool                        // stays on one page with the piece after it
	heads *piece                      // drawn again above this piece when it opens a page
}

// placed is a piece and where on its page it stands.
type placed struct {
	piece
	topMM float64
}

// room is what pages offer: the body's top on the first page and on the others, and its
// bottom, in millimetres from the page's top.
type room struct {
	firstMM, otherMM, bottomMM float64
}

// flow sets pieces on pages. Glued pieces go to one page together; only a group that is
// higher than a whole page is broken.
func flow(pieces []piece, r room) [][]placed {
	pages, y := [][]placed{nil}, r.firstMM
	for len(pieces) > 0 {
		group := pieces[:glued(pieces)]
		last := len(pages) - 1
		if y+height(group) > r.bottomMM && len(pages[last]) > 0 {
			pages, y, last = append(pages, nil), r.otherMM, last+1
		}
		if heads := group[0].heads; heads != nil && len(pages[last]) == 0 {
			pages[last], y = append(pages[last], placed{*heads, y}), y+heads.mm
		}
		if y+height(group) > r.bottomMM {
			group = group[:whatFits(group, r.bottomMM-y)]
		}
		for _, one := range group {
			pages[last], y = append(pages[last], placed{one, y}), y+one.mm
		}
		pieces = pieces[len(group):]
	}
	return pages
}

// glued counts the pieces at the start that must stay together.
func glued(pieces []piece) int {
	n := 1
	for n < len(pieces) && pieces[n-1].glued {
		n++
	}
	return n
}

// whatFits counts the pieces at the start of a group that a page has room for, at least
// one: a piece higher than a page runs over its end.
func whatFits(group []piece, mm float64) int {
	n := 1
	for n < len(group) && height(group[:n+1]) <= mm {
		n++
	}
	return n
}

func height(pieces []piece) float64 {
	mm := 0.0
	for _, one := range pieces {
		mm += one.mm
	}
	return mm
}
