package rows

import "math"

// PassSlackM is how much a pass may overlap its neighbour, or leave beside it, and still
// count as whole: 0.1 m, common practice, no source.
const PassSlackM = 0.1

// hairM keeps the last pass edge off the right side of what may be sown, which is no part of it.
const hairM = 1e-4

// alleyPass is one pass of a machine through an alley, between two neighbouring pass edges.
type alleyPass struct {
	left   int     // index of its left edge; its right edge is the next
	widthM float64 // less than the machine's for a part pass
	part   bool
}

// alleyPasses are the passes over every alley of a plan from the left, and over what lies
// beyond its outermost rows.
type alleyPasses struct {
	edges  []line
	passes []alleyPass
}

// fill lays passes from one row to the next: as many as fit, and a part pass where more
// ground than the slack is left.
func (a *alleyPasses) fill(fromM, toM, machineM float64) {
	whole := math.Floor((toM - fromM + PassSlackM) / machineM)
	restM := toM - fromM - whole*machineM
	part := restM > PassSlackM
	if !part && whole == 0 {
		return
	}
	eachM := machineM
	if !part {
		eachM = (toM - fromM) / whole
	}
	a.edge(fromM)
	for range int(whole) {
		a.pass(eachM, false)
	}
	if part {
		a.pass(restM, true)
	}
}

func (a *alleyPasses) edge(offsetM float64) {
	if last := len(a.edges) - 1; last < 0 || offsetM > a.edges[last].offsetM+hairM {
		a.edges = append(a.edges, line{offsetM: offsetM})
	}
}

func (a *alleyPasses) pass(widthM float64, part bool) {
	left := len(a.edges) - 1
	a.passes = append(a.passes, alleyPass{left, widthM, part})
	a.edges = append(a.edges, line{offsetM: a.edges[left].offsetM + widthM})
}

// lay lays passes in the alleys of row lines between two places across the paddock.
func (a *alleyPasses) lay(in Input, rows []line, fromM, toM, machineM float64) {
	a.edges, a.passes = a.edges[:0], a.passes[:0]
	at, belt := fromM, math.MinInt
	for _, row := range rows {
		if row.offsetM < fromM || row.offsetM > toM {
			continue
		}
		if of := row.index / in.RowsPerBelt; of != belt {
			a.fill(at, row.offsetM, machineM)
			belt = of
		}
		at = row.offsetM
	}
	a.fill(at, toM, machineM)
}

// rowsAndAlleys lays the rows, and works out the share of the alley ground that a machine so
// wide does not cover with whole passes along them: what a part pass or an overlap covers.
// Alley ground is what may be sown outside the belts, from one edge of the paddock to the
// other. A pass is whole as far as both its edges lie on such ground; between them the ground
// is taken to run straight, so that a corner within a pass is rounded off. 0 without alley
// ground.
func (w *work) rowsAndAlleys(in Input, machineM float64) (Plan, float64, error) {
	if err := w.face(in); err != nil {
		return Plan{}, 0, err
	}
	roomM := w.leastHeadlandM() + in.passRoomM()
	w.alleys.lay(in, w.lines, roomM, w.widthM-roomM-hairM, machineM)
	plan, err := w.clipped(in, w.alleys.edges)
	return plan, w.alleys.part(w.on), err
}

// part is the part share of passes whose edges lie on ground that may be sown in some
// stretches.
func (a alleyPasses) part(on [][]stretch) float64 {
	all, whole := 0.0, 0.0
	for _, pass := range a.passes {
		left, right := on[a.edges[pass.left].at], on[a.edges[pass.left+1].at]
		all += pass.widthM * (together(left) + together(right)) / 2
		if !pass.part {
			whole += pass.widthM * common(left, right)
		}
	}
	if all == 0 {
		return 0
	}
	return max(0, 1-whole/all)
}

func together(stretches []stretch) (sum float64) {
	for _, s := range stretches {
		sum += s.to - s.from
	}
	return sum
}

// common is how long two lists of stretches, each in order, run beside each other.
func common(a, b []stretch) (sum float64) {
	for len(a) > 0 && len(b) > 0 {
		sum += max(0, min(a[0].to, b[0].to)-max(a[0].from, b[0].from))
		if a[0].to < b[0].to {
			a = a[1:]
		} else {
			b = b[1:]
		}
	}
	return sum
}
