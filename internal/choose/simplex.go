package choose

import (
	"fmt"
	"math"
)

// simplex solves a program by the revised simplex method with bounded variables. Columns
// have two entries at most, so a step costs little beside the inverse of the basis, which
// is updated in place and worked out afresh now and then.
type simplex struct {
	p       program
	scale   aim
	costs   []aim
	inverse [][]float64 // of the basis
	basis   []int       // column of each row
	values  []float64   // of the basic columns
	inside  []bool      // column is basic
	atMost  []bool      // column stands at its upper bound
	stuck   int         // steps in a row that moved nothing
	steps   int
}

const (
	afresh   = 100     // steps after which the inverse is worked out anew
	patience = 40      // steps without a move, after which the first way out is taken (Bland's rule)
	mostStep = 100_000 // beyond any case of the trade
)

// solve finds the best shares. Nothing supplied is always feasible, so there is always an
// answer; an error is a defect.
func (p program) solve() (solution, error) {
	s := newSimplex(p)
	for s.steps < mostStep {
		column, up, found := s.entering()
		if !found {
			return s.solution(), nil
		}
		s.step(column, up)
		if s.steps++; s.steps%afresh == 0 {
			if err := s.refresh(); err != nil {
				return solution{}, err
			}
		}
	}
	return solution{}, fmt.Errorf("no allotment after %d steps over %d needs and %d lots", s.steps, len(p.needs), p.lots)
}

func newSimplex(p program) *simplex {
	m, n := p.rows(), p.columns()
	s := &simplex{p: p, scale: p.scales(), costs: make([]aim, n), inverse: make([][]float64, m), basis: make([]int, m),
		values: make([]float64, m), inside: make([]bool, n), atMost: make([]bool, n)}
	for j := range n {
		s.costs[j] = p.cost(j, s.scale)
	}
	for i := range m { // everything short, everything left
		s.inverse[i] = make([]float64, m)
		s.inverse[i][i], s.basis[i], s.values[i] = 1, len(p.ways)+i, 1
		s.inside[s.basis[i]] = true
	}
	return s
}

// prices is what each row is worth, aim by aim.
func (s *simplex) prices() []aim {
	y := make([]aim, len(s.basis))
	for i, j := range s.basis {
		for k, c := range s.costs[j] {
			if c == 0 {
				continue
			}
			for r, v := range s.inverse[i] {
				y[r][k] += c * v
			}
		}
	}
	return y
}

// entering picks the column that helps the foremost aim most; up tells which way it moves.
func (s *simplex) entering() (column int, up, found bool) {
	y := s.prices()
	bestAim, best := aims, 0.0
	for j := range s.costs {
		if s.inside[j] {
			continue
		}
		k, gain := s.gain(j, y)
		if k < bestAim || k == bestAim && k < aims && gain > best {
			column, up, found = j, !s.atMost[j], true
			bestAim, best = k, gain
			if s.stuck > patience {
				return column, up, true
			}
		}
	}
	return column, up, found
}

// gain is which aim a column helps first, and how much for a whole share; aims for none.
func (s *simplex) gain(j int, y []aim) (int, float64) {
	reduced := s.costs[j]
	for _, e := range s.p.column(j) {
		for k := range reduced {
			reduced[k] -= y[e.row][k] * e.value
		}
	}
	for k, d := range reduced {
		if s.atMost[j] {
			d = -d
		}
		if d < -tolerance {
			return k, -d
		}
		if d > tolerance {
			return aims, 0
		}
	}
	return aims, 0
}

// step moves a column until a basic one or its own bound stops it.
func (s *simplex) step(column int, up bool) {
	move := s.movement(column)
	way := 1.0
	if !up {
		way = -1
	}
	row, far := s.stops(move, way, s.p.most(column))
	if far > tolerance {
		s.stuck = 0
	} else {
		s.stuck++
	}
	for i := range s.values {
		s.values[i] -= way * far * move[i]
	}
	if row < 0 {
		s.atMost[column] = !s.atMost[column]
		return
	}
	s.swap(row, column, way*far, move)
}

// movement is how the basic columns answer a column.
func (s *simplex) movement(column int) []float64 {
	move := make([]float64, len(s.basis))
	for _, e := range s.p.column(column) {
		for i := range move {
			move[i] += s.inverse[i][e.row] * e.value
		}
	}
	return move
}

// stops finds the basic column that reaches a bound first; row -1 when the column's own
// bound comes before.
func (s *simplex) stops(move []float64, way, own float64) (row int, far float64) {
	row, far = -1, own
	pivot := 0.0
	for i, m := range move {
		m *= way
		var room float64
		switch {
		case m > tolerance:
			room = s.values[i] / m
		case m < -tolerance:
			room = (s.p.most(s.basis[i]) - s.values[i]) / -m
		default:
			continue
		}
		room = max(0, room)
		if room < far-tolerance || room <= far+tolerance && math.Abs(m) > pivot {
			row, far, pivot = i, min(far, room), math.Abs(m)
		}
	}
	return row, far
}

// swap lets a column into the basis in the place of a row's.
func (s *simplex) swap(row, column int, moved float64, move []float64) {
	leaving := s.basis[row]
	s.inside[leaving], s.atMost[leaving] = false, s.values[row] > s.p.most(leaving)/2
	start := 0.0
	if s.atMost[column] {
		start = s.p.most(column)
	}
	s.basis[row], s.inside[column], s.atMost[column] = column, true, false
	s.values[row] = start + moved
	pivot := s.inverse[row]
	for k := range pivot {
		pivot[k] /= move[row]
	}
	for i, by := range move {
		if i == row || by == 0 {
			continue
		}
		for k, v := range pivot {
			if v != 0 {
				s.inverse[i][k] -= by * v
			}
		}
	}
}

// solution reads the shares off the basis.
func (s *simplex) solution() solution {
	out := solution{share: make([]float64, len(s.p.ways)), short: make([]float64, len(s.p.needs)), steps: s.steps}
	for j := range s.p.ways {
		if s.atMost[j] {
			out.share[j] = s.p.most(j)
		}
	}
	for i, j := range s.basis {
		value := max(0, s.values[i])
		switch k := j - len(s.p.ways); {
		case k < 0:
			out.share[j] = value
		case k < len(s.p.needs):
			out.short[k] = value
		}
	}
	for _, y := range s.prices() {
		out.prices = append(out.prices, y)
	}
	return out
}
