package sown

import (
	"math"
	"slices"
)

// How far from the planned end of a row a change of state still belongs to it: our choice.
const (
	farEndM  = 20.0 // metres, where it tells at which place the machine usually changes it
	nearEndM = 5.0  // metres, where a machine that is seen lifted lifted for the end
)

// speedShare is how much of the way through a silence the speed before it must account for.
const speedShare = 0.9

// silence knows what a log and a plan tell of row ends where reception was lost over them.
type silence struct {
	track   track
	planned []rowTally
	limits  limits
	liftM   float64 // how far past the planned end the machine lifts, by the middle half of the log's passes
	lowerM  float64 // …and how far before the planned beginning it lowers
}

func silenceOf(t track, planned []rowTally, l limits, passes []pass) silence {
	s := silence{track: t, planned: planned, limits: l}
	var lifts, lowers []float64
	for _, p := range passes {
		if past, ends := s.pastM(p, 1); ends && p.closes == flagEnd {
			lifts = append(lifts, past)
		}
		if past, ends := s.pastM(p, -1); ends && p.opens == flagEnd {
			lowers = append(lowers, past)
		}
	}
	s.liftM, s.lowerM = middleMean(lifts), middleMean(lowers)
	return s
}

// middleMean is the mean of the middle half of some values, 0 for none: fixes a second apart
// show a change of state in steps, which a median would keep.
func middleMean(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	slices.Sort(values)
	quarter, sum := len(values)/4, 0.0
	middle := values[quarter : len(values)-quarter]
	for _, v := range middle {
		sum += v
	}
	return sum / float64(len(middle))
}

// edge is an end of a pass: the last point (way +1) or the first (way -1), and the sense in
// which the pass would go on beyond it.
func (p pass) edge(way int) (at point, sense float64) {
	if way > 0 {
		return p.last(), p.line.sense
	}
	return p.first(), -p.line.sense
}

// toEndM is how far the implement is from the end of the planned span that it is in, on
// beyond an end of its pass; negative past it. It says false where it is in none.
func (s silence) toEndM(p pass, way int, slackM float64) (float64, bool) {
	at, sense := p.edge(way)
	place := at.along - p.line.sense*s.track.machine.BehindM
	for _, row := range p.berth.rows {
		if row < 0 {
			continue
		}
		for _, span := range s.planned[row].planned {
			if place >= span.FromM-slackM && place <= span.ToM+slackM {
				return max(sense*(span.FromM-place), sense*(span.ToM-place)), true
			}
		}
	}
	return 0, false
}

// pastM is how far beyond the planned end near it a pass ends.
func (s silence) pastM(p pass, way int) (float64, bool) {
	toEnd, in := s.toEndM(p, way, farEndM)
	return -toEnd, in && math.Abs(toEnd) <= farEndM
}

// filled are the passes with the row ends that the log is silent of.
func (s silence) filled(passes []pass) []pass {
	if s.pausing(passes) {
		return passes
	}
	for i := range passes {
		p := &passes[i]
		if p.berth.count == 0 {
			continue
		}
		runs := s.track.runs
		if p.closes == gapEnd && p.lastRun+1 < len(runs) {
			p.onM = s.silentM(*p, 1, runs[p.lastRun+1].points[0], s.liftM)
		}
		if p.opens == gapEnd && p.run > 0 {
			before := runs[p.run-1].points
			p.backM = s.silentM(*p, -1, before[len(before)-1], s.lowerM)
		}
		p.bridges = append(p.bridges, p.silent(s.track.machine.BehindM)...)
	}
	return passes
}

// pausing tells whether it is the logger's habit to be silent between passes, as one is that
// writes only while sowing: then nothing was lost.
func (s silence) pausing(passes []pass) bool {
	count, silent := 0, 0
	for _, p := range passes {
		if p.berth.count > 0 {
			if count++; p.closes == gapEnd {
				silent++
			}
		}
	}
	return 2*silent > count
}

// silentM is how far a pass went on while reception was lost, given the fix on the other side
// of the silence: to where the machine usually lifts, if at the speed of the pass it came so
// far before it turned. A machine that was lifted within the row is not thought to have sown on.
func (s silence) silentM(p pass, way int, other point, usualM float64) float64 {
	at, sense := p.edge(way)
	toEnd, in := s.toEndM(p, way, 0)
	droveM := p.speedMS() * math.Abs(other.atS-at.atS)
	if toEnd += usualM; !in || !(droveM > 0) || toEnd <= 0 {
		return 0
	}
	aheadM, asideM := sense*(other.along-at.along), math.Abs(p.line.beside(other)-p.line.beside(at))
	reachM := (droveM - asideM*math.Pi/2 + aheadM) / 2 // where a half circle begins that brings it to the other side in time
	if droveM < speedShare*at.to(other) || droveM > 2*s.limits.bridgeM+asideM*math.Pi/2 {
		return 0 // it drove faster meanwhile, or stood: nobody knows where
	}
	if asideM <= s.track.guide.strayM && aheadM > 0 {
		stateM := aheadM - float64(way)*s.limits.flagLagS*p.speedMS() // where the machine was in the state that is logged
		if other.flag == Lifted && stateM < toEnd-nearEndM || other.flag != Lifted && aheadM > s.limits.bridgeM {
			return 0 // lifted within the row, or too far to bridge
		}
		reachM = aheadM
	}
	if toEnd > reachM+nearEndM+scatterReach*s.track.scatterM || toEnd > s.limits.bridgeM {
		return 0 // it turned before the end, or the end is too far
	}
	return min(toEnd, max(0, reachM))
}

// silent are the stretches that a pass went on for unseen.
func (p pass) silent(behindM float64) (out extents) {
	whole, seen := p.extent(behindM), p
	seen.onM, seen.backM = 0, 0
	inner := seen.extent(behindM)
	for _, e := range []Extent{{whole.FromM, inner.FromM}, {inner.ToM, whole.ToM}} {
		if e.lengthM() > 0 {
			out = append(out, e)
		}
	}
	return out
}
