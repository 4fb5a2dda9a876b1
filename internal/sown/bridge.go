package sown

import (
	"math"
	"slices"
)

// bridger joins passes across dropouts of reception.
type bridger struct {
	runs    []run
	strayM  float64
	limits  limits
	behindM float64
}

// joined joins every pass to the one before it where only a dropout parts them and both
// lie on one line and the same rows.
func (b bridger) joined(passes []pass) []pass {
	var out []pass
	for _, p := range passes {
		if last := len(out) - 1; last >= 0 && b.bridges(out[last], p) {
			out[last] = b.join(out[last], p)
		} else {
			out = append(out, p)
		}
	}
	return out
}

func (b bridger) bridges(p, q pass) bool {
	gapM := p.line.sense * (q.first().along - p.last().along)
	return p.closes == gapEnd && q.opens == gapEnd && b.blank(p.lastRun, q.run) &&
		p.line.sense == q.line.sense && slices.Equal(p.berth.rows, q.berth.rows) &&
		gapM > -headingBaseM && gapM <= b.limits.bridgeM && (p.berth.count > 0 || b.onOneLine(p, q))
}

// onOneLine tells whether passes on no row lie on one line: on the same rows they do.
func (b bridger) onOneLine(p, q pass) bool {
	return max(math.Abs(p.line.beside(q.first())), math.Abs(q.line.beside(p.last()))) <= b.strayM
}

// blank tells whether between two runs there are but scattered fixes, none of them with
// the implement lifted.
func (b bridger) blank(from, to int) bool {
	for _, r := range b.runs[from+1 : to] {
		if len(r.points) >= b.limits.holdFixes || !r.afterGap {
			return false
		}
		for _, p := range r.points {
			if p.flag == Lifted {
				return false
			}
		}
	}
	return to > from && b.runs[to].afterGap
}

func (b bridger) join(p, q pass) pass {
	p.bridges = append(p.bridges, Extent{
		min(p.last().along, q.first().along) - p.line.sense*b.behindM,
		max(p.last().along, q.first().along) - p.line.sense*b.behindM,
	})
	p.bridges = append(p.bridges, q.bridges...)
	if p.curvedM > 0 && q.curvedM > 0 {
		p.curvedM += p.last().to(q.first()) + q.curvedM
	} else {
		p.curvedM = 0 // one of them is straight: so is the whole
	}
	p.points = append(slices.Clip(p.points), q.points...)
	p.flagStepM = max(p.flagStepM, q.flagStepM)
	p.closes, p.lastRun = q.closes, q.lastRun
	return p
}
