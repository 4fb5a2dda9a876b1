package paper

import (
	"testing"

	"pgregory.net/rapid"
)

// Whatever the pieces: each stands once and in order, none beyond the bottom unless it is
// higher than a page, none over another, and glued ones part only where together they
// are higher than a page.
func TestFlowPlacesEveryPieceOnce(t *testing.T) {
	r := room{firstMM: 60, otherMM: 30, bottomMM: 130}
	rapid.Check(t, func(t *rapid.T) {
		heads := &piece{mm: 7}
		pieces := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) piece {
			one := piece{mm: float64(rapid.IntRange(1, 60).Draw(t, "mm")), glued: rapid.Bool().Draw(t, "glued")}
			if rapid.Bool().Draw(t, "headed") {
				one.heads = heads
			}
			return one
		}), 1, 40).Draw(t, "pieces")
		next := 0
		for n, page := range flow(pieces, r) {
			y := r.otherMM
			if n == 0 {
				y = r.firstMM
			}
			for i, one := range page {
				if one.topMM != y {
					t.Fatalf("page %d, piece %d stands at %v, not at %v", n, i, one.topMM, y)
				}
				y += one.mm
				if i == 0 && one.mm == heads.mm && one.piece.heads == nil && next < len(pieces) && pieces[next].heads != nil {
					continue // column heads drawn again
				}
				if one.mm != pieces[next].mm || one.glued != pieces[next].glued {
					t.Fatalf("page %d, piece %d is not piece %d", n, i, next)
				}
				next++
			}
			if y > r.bottomMM && len(page) > 1 {
				t.Fatalf("page %d runs to %v, beyond %v", n, y, r.bottomMM)
			}
			parted := next < len(pieces) && next > 0 && pieces[next-1].glued
			if parted && !higherThanAPage(pieces, next, n, r) {
				t.Fatalf("page %d ends between glued pieces %d and %d", n, next-1, next)
			}
		}
		if next != len(pieces) {
			t.Fatalf("%d of %d pieces placed", next, len(pieces))
		}
	})
}

// higherThanAPage tells whether the glued pieces around a place need more than page n or
// the one after it.
func higherThanAPage(pieces []piece, at, n int, r room) bool {
	from := at
	for from > 0 && pieces[from-1].glued {
		from--
	}
	to := from + glued(pieces[from:])
	top := r.otherMM
	if n == 0 {
		top = r.firstMM
	}
	return height(pieces[from:to])+7 > r.bottomMM-top
}
