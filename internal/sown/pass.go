package sown

import (
	"math"
	"time"
)

// Pass is one straight drive of the machine, sowing.
type Pass struct {
	Log      int       `json:"log,omitempty"` // 1, 2, 3… where several logs were read together
	Start    time.Time `json:"start,omitzero"`
	End      time.Time `json:"end,omitzero"`
	Rows     []int     `json:"rows"`               // numbers of the planned rows below it, from the paddock's left; none when it lay on no row
	Headland int       `json:"headland,omitempty"` // the headland pass that it followed, from the outside in; FromM and ToM are then along its way
	Backward bool      `json:"backward"`
	FromM    float64   `json:"from_m"` // where the rows of the implement were, along the bearing
	ToM      float64   `json:"to_m"`
	AsideM   float64   `json:"aside_m"`             // mean distance from its rows, positive to their right
	TrackM   float64   `json:"track_m"`             // driven, fix to fix
	BridgedM float64   `json:"bridged_m"`           // across dropouts
	SpeedKmh float64   `json:"speed_kmh,omitempty"` // the middle one of the pass
}

// pass is a pass while it is worked out.
type pass struct {
	points        []point
	line          line
	opens, closes end
	run, lastRun  int // of the log: where it begins and, across dropouts, where it ends
	flagStepM     float64
	bridges       extents
	backM, onM    float64 // how far it began before its first point and went on past its last, unseen
	berth         berth
	astray        bool    // it crosses the rows at a flat angle, and lies on none
	curvedM       float64 // its length along the way, where it is a part of a longer one; 0 where it is straight as a whole
}

// backward tells whether it ran against the bearing.
func (p pass) backward() bool { return p.line.sense < 0 }

func (p pass) first() point { return p.points[0] }
func (p pass) last() point  { return p.points[len(p.points)-1] }

// extent is where a machine that is behindM behind the antenna was, along the rows.
func (p pass) extent(behindM float64) Extent {
	from, to := p.first().along-p.line.sense*(behindM+p.backM), p.last().along-p.line.sense*(behindM-p.onM)
	return Extent{min(from, to), max(from, to)}
}

// acrossM is where its line lies across the rows, in the middle of it.
func (p pass) acrossM() float64 {
	return p.line.acrossAt((p.first().along + p.last().along) / 2)
}

// speedPieces is into how many parts a pass is cut to find its middle speed: a stop in
// the row slows one of them.
const speedPieces = 20

// speedMS is the middle speed of the pass; NaN without times.
func (p pass) speedMS() float64 {
	least := math.Abs(p.last().along-p.first().along) / speedPieces
	var speeds []float64
	mark := p.first()
	for _, at := range p.points[1:] {
		if way := p.line.sense * (at.along - mark.along); way >= least {
			if seconds := at.atS - mark.atS; seconds > 0 {
				speeds = append(speeds, way/seconds)
			}
			mark = at
		}
	}
	if len(speeds) == 0 {
		return math.NaN()
	}
	return median(speeds)
}

// trackM is the way driven fix to fix while the implement, behindM behind, was within an
// extent.
func (p pass) trackM(within Extent, behindM float64) float64 {
	return p.summed(within, behindM, point.to)
}

// dopplerM is the same by logged speed × time; NaN where speeds or times are missing.
func (p pass) dopplerM(within Extent, behindM float64) float64 {
	return p.summed(within, behindM, func(a, b point) float64 { return meanSpeedMS(a, b) * (b.atS - a.atS) })
}

// summed adds up a measure of every step, a step at the edge in part.
func (p pass) summed(within Extent, behindM float64, measure func(a, b point) float64) float64 {
	sum, shift := 0.0, p.line.sense*behindM
	for i := 1; i < len(p.points); i++ {
		a, b := p.points[i-1], p.points[i]
		step := Extent{min(a.along, b.along) - shift, max(a.along, b.along) - shift}
		if inside := step.and(within).lengthM(); inside > 0 {
			sum += measure(a, b) * inside / step.lengthM()
		}
	}
	return sum
}

// meanSpeedMS is the logged speed between two points; interpolated ends of a pass have none
// of their own.
func meanSpeedMS(p, q point) float64 {
	switch a, b := float64(p.speedMS), float64(q.speedMS); {
	case math.IsNaN(a):
		return b
	case math.IsNaN(b):
		return a
	default:
		return (a + b) / 2
	}
}

// found is what a stretch holds: passes, and flagged metres that run along no row.
type found struct {
	passes  []pass
	acrossM float64
}

// passesOf finds the straight drives of a stretch. A flagged stretch that is straight as a
// whole is one pass with the ends that the flag gave it.
func (g guide) passesOf(s stretch, flagged bool) found {
	if flagged {
		if whole := g.pieces(s.points, leg{0, len(s.points) - 1}, deepestCut); len(whole) == 1 {
			return found{passes: []pass{g.pass(s, whole[0].leg, whole[0].line)}}
		}
	}
	var f found
	reached := 0
	for _, piece := range g.straightest(s.points) {
		// A single step from pass to pass has no fix that shows the implement off the rows.
		if between := piece.from - reached; between > 1 || len(f.passes) == 0 {
			f.acrossM += g.wayM(s.points, reached, piece.from)
		}
		p := g.pass(s, piece.leg, piece.line)
		if flagged {
			p.curvedM = g.wayM(s.points, piece.from, piece.to)
		}
		f.passes = append(f.passes, p)
		reached = max(reached, piece.to)
	}
	f.acrossM += g.wayM(s.points, reached, len(s.points)-1)
	return f
}

func (g guide) pass(s stretch, l leg, fit line) pass {
	p := pass{points: s.points[l.from : l.to+1], line: fit, opens: turnEnd, closes: turnEnd, flagStepM: s.flagStepM, run: s.run, lastRun: s.run}
	if l.from == 0 {
		p.opens = s.opens
	}
	if l.to == len(s.points)-1 {
		p.closes = s.closes
	}
	return p
}
