package sown

import (
	"math"
	"slices"

	"rowtally/internal/ground"
	"rowtally/internal/rows"
)

// lap is one unbroken run of a headland row, as logs are matched to it: a way beside the
// fence, straight or curved, closed where it leads all the way round. The paddock's inside
// lies to its left.
type lap struct {
	pass, row int // of the headland: the pass from 1, from the outside in, and its row from 1
	inM       float64
	corners   []ground.Point // of the way, in the plane
	path      []point        // the same, along and across the rows
	at        []float64      // how far along the way each corner of the path lies
	closed    bool
	cells     map[[2]int][]int // corners whose side passes near a cell
	farM      float64          // how near is near
	tally     rowTally
	last      *following // the one before, in the order of the log
}

// lapsOf are the runs of the headland passes that count in a plan; none where they do not.
func lapsOf(plan rows.Plan) (laps []*lap) {
	if !plan.CountsHeadland() {
		return nil
	}
	row := 0
	for i, one := range plan.Headland {
		if row++; i > 0 && plan.Headland[i-1].Pass != one.Pass {
			row = 1
		}
		for _, run := range joinedRuns(one.Runs) {
			l := &lap{pass: one.Pass, row: row, inM: one.InM}
			for _, corner := range run.Path {
				l.add(plan, corner)
			}
			l.closed = len(l.path) > 2 && l.path[0].to(l.path[len(l.path)-1]) < sameEndM
			l.tally = rowTally{planned: extents{{0, l.wayM()}}, plannedM: run.LengthM, groundPerPlane: run.LengthM / l.wayM()}
			laps = append(laps, l)
		}
	}
	return laps
}

// sameEndM is how far apart the end of one run and the beginning of the next may lie and be
// one way, in metres: sides that bend by a hair part a run for less.
const sameEndM = 0.05

// joinedRuns puts runs end to end where they touch.
func joinedRuns(runs []rows.Run) (out []rows.Run) {
	rest := slices.Clone(runs)
	for len(rest) > 0 {
		one := rest[0]
		rest = rest[1:]
		for i := 0; i < len(rest); i++ {
			switch next := rest[i]; {
			case one.Path[len(one.Path)-1].To(next.Path[0]) < sameEndM:
				one.Path = slices.Concat(one.Path, next.Path)
			case next.Path[len(next.Path)-1].To(one.Path[0]) < sameEndM:
				one.Path = slices.Concat(next.Path, one.Path)
			default:
				continue
			}
			one.LengthM += rest[i].LengthM
			rest, i = slices.Delete(rest, i, i+1), -1
		}
		out = append(out, one)
	}
	return out
}

// add goes on to a corner, unless it is there.
func (l *lap) add(plan rows.Plan, corner ground.Point) {
	along, across := plan.Along(corner)
	at, far := point{along: along, across: across}, 0.0
	if last := len(l.path) - 1; last >= 0 {
		side := l.path[last].to(at)
		if side == 0 {
			return
		}
		far = l.at[last] + side
	}
	l.corners, l.path, l.at = append(l.corners, corner), append(l.path, at), append(l.at, far)
}

// sides are the straight pieces of the way within some extents, as they are drawn.
func (l *lap) sides(within extents) (out [][2]ground.Point) {
	for i := 1; i < len(l.at); i++ {
		for _, e := range within {
			part := e.and(Extent{l.at[i-1], l.at[i]})
			if part.lengthM() <= 0 {
				continue
			}
			p, q, long := l.corners[i-1], l.corners[i], l.at[i]-l.at[i-1]
			place := func(far float64) ground.Point {
				share := (far - l.at[i-1]) / long
				return ground.Point{E: p.E + share*(q.E-p.E), N: p.N + share*(q.N-p.N)}
			}
			out = append(out, [2]ground.Point{place(part.FromM), place(part.ToM)})
		}
	}
	return out
}

// wayM is the length of the way.
func (l *lap) wayM() float64 { return l.at[len(l.at)-1] }

func (l *lap) cellOf(along, across float64) [2]int {
	return [2]int{int(math.Floor(along / l.farM)), int(math.Floor(across / l.farM))}
}

// spread notes for every cell of the plane the sides that come within so many metres of it.
func (l *lap) spread(farM float64) {
	l.farM, l.last = farM, nil
	l.cells = map[[2]int][]int{}
	for i := 1; i < len(l.path); i++ {
		p, q := l.path[i-1], l.path[i]
		steps := math.Ceil(2 * p.to(q) / l.farM)
		for k := 0.0; k <= steps; k++ {
			at := p.between(q, k/steps)
			middle := l.cellOf(at.along, at.across)
			for a := -1; a <= 1; a++ {
				for c := -1; c <= 1; c++ {
					cell := [2]int{middle[0] + a, middle[1] + c}
					if list := l.cells[cell]; len(list) == 0 || list[len(list)-1] != i {
						l.cells[cell] = append(list, i)
					}
				}
			}
		}
	}
}

// project is how far along the way a point lies, and how far to its right; false where it
// is not near.
func (l *lap) project(p point) (alongM, rightM float64, near bool) {
	best := l.farM
	for _, i := range l.cells[l.cellOf(p.along, p.across)] {
		from, to := l.path[i-1], l.path[i]
		long := l.at[i] - l.at[i-1]
		ua, uc := (to.along-from.along)/long, (to.across-from.across)/long
		da, dc := p.along-from.along, p.across-from.across
		share := max(0, min(long, da*ua+dc*uc))
		off := math.Hypot(da-share*ua, dc-share*uc)
		if off <= best {
			best, near = off, true
			alongM, rightM = l.at[i-1]+share, math.Copysign(off, ua*dc-uc*da)
		}
	}
	return alongM, rightM, near
}

// following is a part of a stretch that follows a lap.
type following struct {
	from, to   int     // points of the stretch
	begin, end float64 // along the lap, on beyond its end or beginning where it leads round
	rightM     float64 // mean distance to the right of the lap
	sense      float64 // +1 along the lap, -1 against it
	stretch    stretch
}

// follow gathers a following point by point.
type follow struct {
	following
	on          bool
	place       float64 // along the lap, at the last point near it
	weight, sum float64
	best        float64 // farthest from the beginning
}

// followings are the parts of a stretch that go along the lap.
func (l *lap) followings(s stretch, g guide) (list []following) {
	var f follow
	done := func() {
		if f.on && f.weight > 0 {
			f.rightM, f.stretch, f.sense = f.sum/f.weight, s, math.Copysign(1, f.end-f.begin)
			list = append(list, f.following)
		}
		f = follow{}
	}
	for i, p := range s.points {
		place, right, near := l.project(p)
		switch {
		case near && f.on:
			step := l.onward(f.place, place)
			if driven := s.points[f.to].to(p); math.Abs(step) > driven+2*l.farM || f.turnsBack(step, g.retreatM) {
				done()
				f = follow{following: following{from: i, to: i, begin: place, end: place}, on: true, place: place}
				continue
			}
			f.step(i, step, place, right)
		case near:
			f = follow{following: following{from: i, to: i, begin: place, end: place}, on: true, place: place}
		case f.on && s.points[f.to].to(p) > g.holdM && i-f.to >= g.holdFixes:
			done()
		}
	}
	done()
	return list
}

// onward is the way along the lap from one place to another, the shorter way round.
func (l *lap) onward(from, to float64) float64 {
	step := to - from
	if half := l.wayM() / 2; l.closed && step > half {
		step -= 2 * half
	} else if l.closed && step < -half {
		step += 2 * half
	}
	return step
}

func (f *follow) step(i int, step, place, right float64) {
	f.to, f.end, f.place = i, f.end+step, place
	f.weight, f.sum = f.weight+math.Abs(step), f.sum+math.Abs(step)*right
	if math.Abs(f.end-f.begin) > math.Abs(f.best-f.begin) || f.best == 0 {
		f.best = f.end
	}
}

// turnsBack tells whether a step leads back along the lap farther than scatter does.
func (f *follow) turnsBack(step, retreatM float64) bool {
	return f.weight > 0 && math.Abs(f.end+step-f.best) > retreatM && math.Abs(f.end+step-f.begin) < math.Abs(f.best-f.begin)
}

// lay counts the lap as sown from one place to another, as often as it leads round.
func (l *lap) lay(from, to float64) (laid extents) {
	from, to = min(from, to), max(from, to)
	if !l.closed {
		return extents{{max(0, from), max(0, from, min(l.wayM(), to))}}
	}
	for ; to-from >= l.wayM(); from += l.wayM() {
		laid = append(laid, Extent{0, l.wayM()})
	}
	turns := math.Floor(from/l.wayM()) * l.wayM()
	from, to = from-turns, to-turns
	laid = append(laid, Extent{from, min(to, l.wayM())})
	if to > l.wayM() {
		laid = append(laid, Extent{0, to - l.wayM()})
	}
	return laid
}
