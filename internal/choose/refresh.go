package choose

import (
	"errors"
	"math"
)

// refresh works the inverse of the basis out afresh, and the basic values with it, so that
// the rounding of many steps does not add up.
func (s *simplex) refresh() error {
	m := len(s.basis)
	work := make([][]float64, m) // the basis beside the identity
	for i := range work {
		work[i] = make([]float64, 2*m)
		work[i][m+i] = 1
	}
	for k, j := range s.basis {
		for _, e := range s.p.column(j) {
			work[e.row][k] = e.value
		}
	}
	if !eliminate(work) {
		return errors.New("the basis of the allotment became singular")
	}
	for i := range s.inverse {
		copy(s.inverse[i], work[i][m:])
	}
	s.revalue()
	return nil
}

// eliminate turns the left half into the identity by Gauss-Jordan with row pivots.
func eliminate(work [][]float64) bool {
	for k := range work {
		best := k
		for i := k + 1; i < len(work); i++ {
			if math.Abs(work[i][k]) > math.Abs(work[best][k]) {
				best = i
			}
		}
		if math.Abs(work[best][k]) < 1e-12 {
			return false
		}
		work[k], work[best] = work[best], work[k]
		scaleRow(work[k], 1/work[k][k])
		for i := range work {
			if by := work[i][k]; i != k && by != 0 {
				for c, v := range work[k] {
					if v != 0 {
						work[i][c] -= by * v
					}
				}
			}
		}
	}
	return true
}

func scaleRow(row []float64, by float64) {
	for c := range row {
		row[c] *= by
	}
}

// revalue works the basic values out from what the rows hold beside the columns that
// stand at their upper bounds.
func (s *simplex) revalue() {
	right := make([]float64, len(s.basis))
	for i := range right {
		right[i] = 1
	}
	for j, full := range s.atMost {
		if !full {
			continue
		}
		for _, e := range s.p.column(j) {
			right[e.row] -= e.value * s.p.most(j)
		}
	}
	for i := range s.values {
		s.values[i] = 0
		for k, v := range s.inverse[i] {
			s.values[i] += v * right[k]
		}
	}
}
