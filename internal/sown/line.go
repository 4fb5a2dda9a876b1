package sown

import (
	"iter"
	"math"
)

// point is a fix in the plan: metres along and across the rows.
type point struct {
	along, across float64
	atS           float64 // seconds since the log's first timed fix; NaN without a time
	speedMS       float32 // NaN where not logged; single, for a log holds a million of them
	flag          Flag
}

func (p point) to(q point) float64 { return math.Hypot(q.along-p.along, q.across-p.across) }

// between is the point at a fraction of the straight way from p to q.
func (p point) between(q point, fraction float64) point {
	return point{
		along:   p.along + fraction*(q.along-p.along),
		across:  p.across + fraction*(q.across-p.across),
		atS:     p.atS + fraction*(q.atS-p.atS),
		speedMS: float32(math.NaN()),
	}
}

// line is the straight line that a pass followed, by total least squares. Each metre of
// progress weighs the same, so that a stop in the row weighs nothing.
type line struct {
	along, across float64 // of the centre
	cos, sin      float64 // of its direction against the rows, cos > 0
	sense         float64 // +1 along the bearing, -1 against it
	rmsM          float64 // scatter of the fixes beside it
	worstM        float64 // the fix farthest beside it
	retreatM      float64 // the longest way back
	advances      bool    // it got on at all
}

// fitLine fits a line to at least two points.
func fitLine(points []point) line {
	l := line{sense: 1}
	if points[len(points)-1].along < points[0].along {
		l.sense = -1
	}
	l.advance(points)
	l.centre(points)
	var xx, xy, yy, sum float64
	for p, w := range l.weighed(points) {
		dx, dy := p.along-l.along, p.across-l.across
		xx, xy, yy, sum = xx+w*dx*dx, xy+w*dx*dy, yy+w*dy*dy, sum+w
	}
	l.sin, l.cos = math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
	for p, w := range l.weighed(points) {
		beside := l.beside(*p)
		l.rmsM += w * beside * beside
		l.worstM = max(l.worstM, math.Abs(beside))
	}
	l.rmsM = math.Sqrt(l.rmsM / sum)
	return l
}

// advance notes whether points get on at all, and their longest retreat.
func (l *line) advance(points []point) {
	best := l.sense * points[0].along
	for i := range points[1:] {
		if s := l.sense * points[i+1].along; s > best {
			best, l.advances = s, true
		} else {
			l.retreatM = max(l.retreatM, best-s)
		}
	}
}

// weighed gives each point with its weight: every step that leads farther along than the
// track ever was is shared between its two ends. Where there is no progress at all, all
// weigh the same.
func (l *line) weighed(points []point) iter.Seq2[*point, float64] {
	return func(yield func(*point, float64) bool) {
		best, before := l.sense*points[0].along, 0.0
		for i := range points {
			after := 0.0
			if i+1 < len(points) {
				if s := l.sense * points[i+1].along; s > best {
					best, after = s, (s-best)/2
				}
			}
			weight := before + after
			if !l.advances {
				weight = 1
			}
			if !yield(&points[i], weight) {
				return
			}
			before = after
		}
	}
}

func (l *line) centre(points []point) {
	var along, across, sum float64
	for p, w := range l.weighed(points) {
		along, across, sum = along+w*p.along, across+w*p.across, sum+w
	}
	l.along, l.across = along/sum, across/sum
}

// beside is how far from the line a point lies, in metres, negative on the other side.
func (l line) beside(p point) float64 {
	return (p.across-l.across)*l.cos - (p.along-l.along)*l.sin
}

// acrossAt is the line's place across the rows at a place along them.
func (l line) acrossAt(along float64) float64 {
	return l.across + (along-l.along)*l.sin/l.cos
}

// angleDeg is how far the line is off the rows, 0..90.
func (l line) angleDeg() float64 { return math.Atan2(math.Abs(l.sin), l.cos) * 180 / math.Pi }
