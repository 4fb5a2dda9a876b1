package sown

import (
	"math"
	"slices"
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
	halfSeatM float64 // half way from one place for the whole machine to the next
}

// berth says which planned rows a pass lay on.
type berth struct {
	rows   []int   // by row of the implement, left to right: the index in lanes.rows, -1 for none
	asideM float64 // mean distance from the rows, positive to their right
	count  int     // rows that were found

	tolerated bool // it lies within the tolerance, whatever the other passes say
}

// left is the index of the row below the leftmost row of the implement, found or not.
func (b berth) left() int {
	for k, row := range b.rows {
		if row >= 0 {
			return row - k
		}
	}
	return 0
}

func lanesFor(planned []rows.Row, machine Implement, reachM, scatterM float64) lanes {
	l := lanes{rows: planned, implement: machine, reachM: reachM, scatterM: scatterM}
	l.halfSeatM = l.halfSeatOf()
	return l
}

// berths are the ways in which the machine, moved aside as one body by no more than so many
// metres, lies on planned rows: single rows of a wide machine have no scatter of their own.
func (l lanes) berths(acrossM float64, backward bool, withinM float64) (list []berth) {
	at := l.implement.places(acrossM, backward)
	for _, place := range at {
		first := sort.Search(len(l.rows), func(i int) bool { return l.rows[i].OffsetM >= place-withinM })
		for i := first; i < len(l.rows) && l.rows[i].OffsetM <= place+withinM; i++ {
			b := l.moved(at, l.rows[i].OffsetM-place)
			b.tolerated = math.Abs(l.rows[i].OffsetM-place) <= l.mayMoveM(i, b)
			known := slices.IndexFunc(list, func(o berth) bool { return slices.Equal(o.rows, b.rows) })
			if known < 0 && b.count > 0 {
				list = append(list, b)
			} else if known >= 0 {
				list[known].tolerated = list[known].tolerated || b.tolerated
			}
		}
	}
	return list
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

// mayMoveM is how far the machine may be moved onto row i: half way to the next row, or where
// all of it lies on rows half way to the next place of that kind; or what the log's scatter
// makes likely, and never beyond the reach.
func (l lanes) mayMoveM(i int, b berth) float64 {
	half := l.halfSeatM
	if b.count < l.implement.Rows {
		half = min(l.halfGapM(i), l.implement.RowGapM/2)
	}
	return min(l.reachM, max(half, scatterReach*l.scatterM))
}

// halfSeatOf is half the least distance between two places where every row of the machine
// lies on a planned row; without bound where there are not two.
func (l lanes) halfSeatOf() float64 {
	least, before := math.Inf(1), math.Inf(-1)
	for i := range l.rows {
		at := l.implement.places(l.rows[i].OffsetM, false)
		shift := l.rows[i].OffsetM - at[0]
		if l.moved(at, shift).count == l.implement.Rows {
			least = min(least, l.rows[i].OffsetM-before)
			before = l.rows[i].OffsetM
		}
	}
	return least / 2
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
	taken, most := -1, l.reachM
	if len(at) > 1 {
		most = min(most, l.implement.RowGapM/2)
	}
	for k, place := range at {
		b.rows[k] = -1
		i := l.nearest(place + shift)
		if off := l.rows[i].OffsetM - place; i > taken && math.Abs(off-shift) <= min(l.halfGapM(i), most) {
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
