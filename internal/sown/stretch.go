package sown

import (
	"math"
	"sort"
)

// end is what bounds a stretch or a pass.
type end uint8

const (
	trackEnd end = iota // the track itself begins or ends there
	gapEnd              // reception was lost
	flagEnd             // the implement was lowered or lifted
	turnEnd             // the machine turned off the line
)

// stretch is a piece of a run on which the implement may have been sowing.
type stretch struct {
	points        []point
	opens, closes end
	run           int     // of the log
	flagStepM     float64 // metres driven between the two fixes of a change of state, the longer one
}

// stretchesByPlace takes every run as a stretch: where it was sowing, place and heading
// will tell.
func stretchesByPlace(runs []run) []stretch {
	list := make([]stretch, len(runs))
	for i, r := range runs {
		list[i] = stretch{points: r.points, run: i, opens: opening(runs, i), closes: closing(runs, i)}
	}
	return list
}

func opening(runs []run, i int) end {
	if runs[i].afterGap {
		return gapEnd
	}
	return trackEnd
}

func closing(runs []run, i int) end {
	if i+1 < len(runs) && runs[i+1].afterGap {
		return gapEnd
	}
	return trackEnd
}

// stretchesByFlag takes the pieces on which the log says that the implement was sowing.
func stretchesByFlag(runs []run, lagS float64) []stretch {
	var list []stretch
	for i, r := range runs {
		for from := 0; from < len(r.points); from++ {
			if r.points[from].flag != Sowing {
				continue
			}
			to := from
			for to+1 < len(r.points) && r.points[to+1].flag == Sowing {
				to++
			}
			s := r.flagged(from, to, lagS)
			s.run = i
			if s.opens != flagEnd {
				s.opens = opening(runs, i)
			}
			if s.closes != flagEnd {
				s.closes = closing(runs, i)
			}
			if len(s.points) > 1 {
				list = append(list, s)
			}
			from = to
		}
	}
	return list
}

// flagged is the stretch of the points from..to, all sowing, out to where the state
// changed between fixes.
func (r run) flagged(from, to int, lagS float64) stretch {
	start, stop := mark{from, 0}, mark{to, 0}
	var s stretch
	if from > 0 {
		start, s.opens = r.change(from-1, lagS), flagEnd
		s.flagStepM = r.points[from-1].to(r.points[from])
	}
	if to+1 < len(r.points) {
		stop, s.closes = r.change(to, lagS), flagEnd
		s.flagStepM = max(s.flagStepM, r.points[to].to(r.points[to+1]))
	}
	if stop.before(start) {
		return stretch{}
	}
	s.points = append(make([]point, 0, stop.index-start.index+2), r.at(start))
	for i := start.index + 1; i <= stop.index; i++ {
		s.points = append(s.points, r.points[i])
	}
	if stop.fraction > 0 {
		s.points = append(s.points, r.at(stop))
	}
	return s
}

// mark is a place on a run: a fraction of the way from one point to the next.
type mark struct {
	index    int
	fraction float64
}

func (m mark) before(n mark) bool {
	return m.index < n.index || m.index == n.index && m.fraction < n.fraction
}

func (r run) at(m mark) point {
	if m.fraction == 0 {
		return r.points[m.index]
	}
	return r.points[m.index].between(r.points[m.index+1], m.fraction)
}

// change is where the state changed between point i and the next. Half the time between
// them is the best guess; logged speeds tell how far the machine came in it. A lag moves
// the change back along the track.
func (r run) change(i int, lagS float64) mark {
	if lagS == 0 {
		return mark{i, halfTimeFraction(float64(r.points[i].speedMS), float64(r.points[i+1].speedMS))}
	}
	when := (r.points[i].atS+r.points[i+1].atS)/2 - lagS
	next := sort.Search(len(r.points), func(k int) bool { return r.points[k].atS > when })
	switch {
	case next == 0:
		return mark{0, 0}
	case next == len(r.points):
		return mark{next - 1, 0}
	}
	before, after := r.points[next-1].atS, r.points[next].atS
	return mark{next - 1, (when - before) / (after - before)}
}

// halfTimeFraction is the share of the way that is done in half the time when speed
// changes evenly from one value to the other: (3v₀ + v₁) / 4(v₀ + v₁).
func halfTimeFraction(v0, v1 float64) float64 {
	if !(v0+v1 > 0) || math.IsInf(v0+v1, 0) {
		return 0.5
	}
	return (3*v0 + v1) / (4 * (v0 + v1))
}
