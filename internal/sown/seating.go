package sown

import (
	"cmp"
	"math"
	"slices"
)

// What tells on which rows the passes of a log lay, where the receiver's error is as wide as
// the rows are apart: our choice, not published. Costs are negative logs of likelihood.
const (
	sureTimes    = 4.2  // standard deviations within which a pass still lies on a row: 1 in 40 000 lies beyond
	slowestTimes = 2.5  // how many times its slow scatter within a pass a log may lie aside from pass to pass
	wideShare    = 0.75 // the share of the way to half way between two places of the machine…
	wideSlowM    = 0.15 // …that a log with so much slow scatter may lie aside

	rowLostCost  = 6.0  // of each row of the machine that has none below it
	passLostCost = 12.0 // of a pass within the tolerance of rows that is said to lie on none

	stepsCounted = 5.0  // ways to go on that are thought seen before any was…
	oddStep      = 0.1  // …and how often an odd one…
	orderCounted = 20.0 // …and where belts are thought to be sown in order, the next belt

	mostCarried  = 6 // ways that are followed on over passes on no row
	seatingTurns = 4 // how often drift and order are learned anew
)

// seating brings the passes of one log onto rows all together. The receiver's error and the
// driver's set a pass aside, from pass to pass by a drift that fades with time: a first-order
// autoregression with the standard deviation sigmaM and the correlation rho from one pass to
// the next. How the machine goes on from pass to pass, by how many rows, is learned from the
// log itself. The seats of all passes are the likeliest chain; drift and order are learned
// from it, and it is sought again.
type seating struct {
	passes []pass
	seats  [][]berth // of each pass
	quietM float64   // a standard deviation that a log without drift has too
	mostM  float64   // the largest standard deviation that the log may have
	sigmaM float64
	rho    float64
	restM  []float64 // of each pass: what of the slow scatter it is too short to even out
	stepS  float64   // the middle time from pass to pass; 0 where it is not known
	steps  map[step]float64
}

// step is how the machine goes on: by how many rows, after a turn or straight on.
type step struct {
	rows int
	on   bool
}

// state is a way to seat the passes so far.
type state struct {
	cost   float64
	before *state
	pass   int    // the last pass on rows, -1 for none
	berth  *berth // of that pass
	none   bool   // the pass at hand lies on no row
}

// seat gives every pass its berth. Slow scatter is what the log strays from straight lines
// beyond what is new at every fix.
func (l lanes) seat(passes []pass, slowM float64) {
	s := seating{passes: passes, quietM: min(l.reachM, l.halfSeatM) / sureTimes, stepS: middleStepS(passes)}
	s.mostM = max(s.quietM, slowestTimes*slowM)
	if slowM >= wideSlowM {
		s.mostM = max(s.mostM, wideShare*l.halfSeatM/sureTimes)
	}
	for _, p := range passes {
		var seats []berth
		if !p.astray {
			seats = l.berths(p.acrossM(), p.backward(), s.farthestM())
		}
		s.seats = append(s.seats, seats)
	}
	s.restM = restsM(passes, slowM)
	best, least := []berth(nil), math.Inf(1)
	for _, begin := range s.beginnings(slowM, l.implement.Rows) {
		s.sigmaM, s.rho, s.steps = begin.sigmaM, begin.rho, begin.steps
		last := math.Inf(1)
		for range seatingTurns {
			found, cost := s.likeliest(l.none())
			if cost < least {
				best, least = found, cost
			}
			if cost >= last {
				break
			}
			last = cost
			s.learn(found)
		}
	}
	for i := range passes {
		passes[i].berth = best[i]
	}
}

// beginnings are what the search begins from: little drift, some, and much that is slow,
// with belt upon belt sown in order; and little drift in any order.
func (s *seating) beginnings(slowM float64, rows int) (list []seating) {
	sense := 1
	if n := len(s.passes); n > 0 && s.passes[n-1].acrossM() < s.passes[0].acrossM() {
		sense = -1
	}
	inOrder := map[step]float64{{sense * rows, false}: orderCounted, {everyStep, false}: orderCounted}
	for _, one := range []seating{
		{sigmaM: s.quietM, steps: map[step]float64{}}, {sigmaM: s.quietM, steps: inOrder},
		{sigmaM: 1.3 * slowM, rho: 0.3, steps: inOrder}, {sigmaM: s.mostM, rho: 0.9, steps: inOrder},
	} {
		one.sigmaM = max(s.quietM, min(one.sigmaM, s.mostM))
		if !slices.ContainsFunc(list, func(o seating) bool { return o.sigmaM == one.sigmaM && len(o.steps) == len(one.steps) }) {
			list = append(list, one)
		}
	}
	return list
}

// farthestM is how far aside a pass is looked for on rows.
func (s *seating) farthestM() float64 {
	return 2 * sureTimes * s.mostM
}

// likeliest is the likeliest chain of berths and its cost, the negative log likelihood.
func (s *seating) likeliest(none berth) ([]berth, float64) {
	states := []*state{{pass: -1}}
	for i := range s.passes {
		states = s.onward(i, states)
	}
	last := slices.MinFunc(states, func(a, b *state) int { return cmp.Compare(a.cost, b.cost) })
	found := make([]berth, len(s.passes))
	for at, i := last, len(s.passes)-1; i >= 0; at, i = at.before, i-1 {
		if found[i] = none; !at.none {
			found[i] = *at.berth
		}
	}
	return found, last.cost
}

// onward are the likeliest ways to seat pass i too: one for each of its seats, and those
// that leave it on no row.
func (s *seating) onward(i int, states []*state) (next []*state) {
	for k := range s.seats[i] {
		seat := &s.seats[i][k]
		best := state{cost: math.Inf(1)}
		for _, from := range states {
			if cost := from.cost + s.cost(from, i, seat); cost < best.cost {
				best = state{cost: cost, before: from, pass: i, berth: seat}
			}
		}
		if best.before != nil {
			next = append(next, &best)
		}
	}
	slices.SortStableFunc(states, func(a, b *state) int { return cmp.Compare(a.cost, b.cost) })
	for _, from := range states[:min(len(states), mostCarried)] {
		next = append(next, &state{cost: from.cost + s.noneCost(i), before: from, pass: from.pass, berth: from.berth, none: true})
	}
	return next
}

// noneCost is that of a pass on no row: as much as of one at the bound of what is sure, and
// more by every row of the machine that has one below it within the tolerance.
func (s *seating) noneCost(i int) float64 {
	most := 0.0
	for _, seat := range s.seats[i] {
		if seat.tolerated {
			most = max(most, float64(seat.count)/float64(len(seat.rows)))
		}
	}
	return sureTimes*sureTimes/2 + math.Log(max(s.quietM, s.sigmaM)) + passLostCost*most
}

// cost is that of seating pass i after what came before; infinite where it lies too far aside.
func (s *seating) cost(from *state, i int, seat *berth) float64 {
	rho, asideM, order := 0.0, 0.0, 0.0
	if from.pass >= 0 {
		rho, asideM = math.Pow(s.rho, s.apart(from.pass, i)), from.berth.asideM
		order = s.stepCost(s.stepOf(from, i, seat))
	}
	spreadM := max(s.quietM, math.Hypot(s.sigmaM*math.Sqrt(1-rho*rho), s.restM[i]))
	near := sureTimes * max(s.quietM, math.Hypot(s.sigmaM, s.restM[i]))
	if !seat.tolerated && math.Abs(seat.asideM) > near && (from.pass < 0 || math.Abs(seat.asideM-asideM) > near/2) {
		return math.Inf(1)
	}
	z := (seat.asideM - rho*asideM) / spreadM
	return z*z/2 + math.Log(spreadM) + order + rowLostCost*float64(len(seat.rows)-seat.count)
}

// apart is how far two passes lie apart in time, in middle steps from pass to pass.
func (s *seating) apart(i, k int) float64 {
	if seconds := s.passes[k].first().atS - s.passes[i].first().atS; seconds > 0 && s.stepS > 0 {
		return seconds / s.stepS
	}
	return 1
}

// restsM are, for each pass, the standard deviation that it has beyond one of middle length: the
// slow scatter evens out in a long pass, and in a piece of one it does not.
func restsM(passes []pass, slowM float64) []float64 {
	lengths := make([]float64, len(passes))
	for i, p := range passes {
		lengths[i] = math.Abs(p.last().along - p.first().along)
	}
	middle, rests := median(slices.Clone(lengths)), make([]float64, len(passes))
	for i, length := range lengths {
		if middle == 0 {
			continue
		}
		rests[i] = slowM * math.Sqrt(max(0, 1-length/middle))
	}
	return rests
}

// middleStepS is the median time from the beginning of a pass to that of the next.
func middleStepS(passes []pass) float64 {
	var all []float64
	for i := 1; i < len(passes); i++ {
		if seconds := passes[i].first().atS - passes[i-1].first().atS; seconds > 0 {
			all = append(all, seconds)
		}
	}
	return median(all)
}

// stepOf is how the machine came from its last pass to a seat.
func (s *seating) stepOf(from *state, i int, seat *berth) step {
	p, q := s.passes[from.pass], s.passes[i]
	on := p.line.sense == q.line.sense && p.line.sense*(q.first().along-p.last().along) > -headingBaseM
	return step{seat.left() - from.berth.left(), on}
}

// stepCost is the negative log of how often the log goes on so. A machine that goes straight
// on is thought to stay on its rows; a way to go on that was seen once tells nothing yet.
func (s *seating) stepCost(at step) float64 {
	seen, all := max(0, s.steps[at]-1)+oddStep, s.steps[step{on: at.on, rows: everyStep}]
	if at.on && at.rows == 0 {
		seen += stepsCounted
	}
	return -math.Log(seen / (all + stepsCounted))
}

// everyStep stands for the sum of all steps.
const everyStep = math.MaxInt32

// learn takes drift and order from a chain.
func (s *seating) learn(found []berth) {
	s.steps = map[step]float64{}
	var squares, products, pairs, count float64
	last := -1
	for i, b := range found {
		if b.count == 0 {
			continue
		}
		squares, count = squares+b.asideM*b.asideM, count+1
		if last >= 0 {
			at := s.stepOf(&state{pass: last, berth: &found[last]}, i, &found[i])
			s.steps[at]++
			s.steps[step{on: at.on, rows: everyStep}]++
			products, pairs = products+b.asideM*found[last].asideM, pairs+1
		}
		last = i
	}
	const weight = 2 // passes that the deviation so far stands for
	s.sigmaM = math.Sqrt((weight*s.sigmaM*s.sigmaM + squares) / (weight + count))
	s.sigmaM, s.rho = min(s.sigmaM, s.mostM), 0
	if pairs > 0 {
		s.rho = max(0, min(0.99, products/pairs/(squares/count+s.quietM*s.quietM/pairs)))
	}
}
