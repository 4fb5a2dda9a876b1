package sown

import (
	"math"
	"sort"

	"rowtally/internal/rows"
)

// scatterReach is how many times the log's scatter the middle line of a pass may be moved
// to bring a machine onto its rows.
const scatterReach = 3

// lanes finds the planned rows below a machine.
type lanes struct {
	rows      []rows.Row // by offset
	implement Implement
	reachM    float64 // how far aside a machine may be moved onto rows
	scatterM  float64 // of the log, standard deviation across the rows
}

// berth says which planned rows a pass lay on.
type berth struct {
	rows   []int   // by row of the implement, left to right: the index in lanes.rows, -1 for none
	asideM float64 // mean distance from the rows, positive to their right
	count  int     // rows that were found
}

// find moves the machine as one body to the nearest place where most of its rows lie on
// planned rows: single rows of a wide machine have no scatter of their own.
func (l lanes) find(acrossM float64, backward bool) berth {
	at, best := l.implement.places(acrossM, backward), l.none()
	for _, place := range at {
		first := sort.Search(len(l.rows), func(i int) bool { return l.rows[i].OffsetM >= place })
		for i := max(first-1, 0); i <= min(first, len(l.rows)-1); i++ {
			shift := l.rows[i].OffsetM - place
			if math.Abs(shift) > l.mayMoveM(i) {
				continue
			}
			if b := l.moved(at, shift); b.count > best.count || b.count == best.count && math.Abs(b.asideM) < math.Abs(best.asideM) {
				best = b
			}
		}
	}
	return best
}

// none is the berth of a pass on no row.
func (l lanes) none() berth {
	b := berth{rows: make([]int, l.implement.Rows)}
	for k := range b.rows {
		b.rows[k] = -1
	}
	return b
}

// places are where the implement's rows lie across the paddock, from its left.
func (i Implement) places(acrossM float64, backward bool) []float64 {
	at := make([]float64, i.Rows)
	for r := range at {
		if backward {
			at[len(at)-1-r] = acrossM - i.rightM(r)
		} else {
			at[r] = acrossM + i.rightM(r)
		}
	}
	return at
}

// mayMoveM is how far the machine may be moved onto row i: half way to the next row, or
// what the log's scatter makes likely, and never beyond the reach.
func (l lanes) mayMoveM(i int) float64 {
	half := l.halfGapM(i)
	if l.implement.Rows > 1 {
		half = min(half, l.implement.RowGapM/2)
	}
	return min(l.reachM, max(half, scatterReach*l.scatterM))
}

// halfGapM is half the distance from row i to its nearest neighbour.
func (l lanes) halfGapM(i int) float64 {
	gap := math.Inf(1)
	if i > 0 {
		gap = l.rows[i].OffsetM - l.rows[i-1].OffsetM
	}
	if i+1 < len(l.rows) {
		gap = min(gap, l.rows[i+1].OffsetM-l.rows[i].OffsetM)
	}
	return gap / 2
}

// moved is the berth of a machine moved by shift: each of its rows takes the nearest
// planned row within half the gap, no row twice.
func (l lanes) moved(at []float64, shift float64) berth {
	b := berth{rows: make([]int, len(at))}
	taken := -1
	for k, place := range at {
		b.rows[k] = -1
		i := l.nearest(place + shift)
		if off := l.rows[i].OffsetM - place; i > taken && math.Abs(off-shift) <= min(l.halfGapM(i), l.reachM) {
			b.rows[k], taken = i, i
			b.asideM -= off
			b.count++
		}
	}
	if b.count > 0 {
		b.asideM /= float64(b.count)
	}
	return b
}

func (l lanes) nearest(place float64) int {
	i := sort.Search(len(l.rows), func(i int) bool { return l.rows[i].OffsetM >= place })
	if i == len(l.rows) || i > 0 && place-l.rows[i-1].OffsetM < l.rows[i].OffsetM-place {
		return i - 1
	}
	return i
}
