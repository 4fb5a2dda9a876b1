package sown

import "math"

// point is a fix in the plan: metres along and across the rows.
type point struct {
	along, across float64
	atS           float64 // seconds since the log's first timed fix; NaN without a time
	speedMS       float64 // NaN where not logged
	flag          Flag
}

func (p point) to(q point) float64 { return math.Hypot(q.along-p.along, q.across-p.across) }

// between is the point at a fraction of the straight way from p to q.
func (p point) between(q point, fraction float64) point {
	return point{
		along:   p.along + fraction*(q.along-p.along),
		across:  p.across + fraction*(q.across-p.across),
		atS:     p.atS + fraction*(q.atS-p.atS),
		speedMS: math.NaN(),
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
}

// fitLine fits a line to at least two points.
func fitLine(points []point) line {
	l := line{sense: 1}
	if points[len(points)-1].along < points[0].along {
		l.sense = -1
	}
	weights := l.progress(points)
	l.centre(points, weights)
	var xx, xy, yy, sum float64
	for i, p := range points {
		dx, dy, w := p.along-l.along, p.across-l.across, weights[i]
		xx, xy, yy, sum = xx+w*dx*dx, xy+w*dx*dy, yy+w*dy*dy, sum+w
	}
	l.sin, l.cos = math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
	for i, p := range points {
		beside := l.beside(p)
		l.rmsM += weights[i] * beside * beside
		l.worstM = max(l.worstM, math.Abs(beside))
	}
	l.rmsM = math.Sqrt(l.rmsM / sum)
	return l
}

// progress shares every step that leads farther along than the track ever was between
// its two ends, and notes the longest retreat.
func (l *line) progress(points []point) []float64 {
	weights := make([]float64, len(points))
	best := l.sense * points[0].along
	for i, p := range points[1:] {
		if s := l.sense * p.along; s > best {
			weights[i] += (s - best) / 2
			weights[i+1] += (s - best) / 2
			best = s
		} else {
			l.retreatM = max(l.retreatM, best-s)
		}
	}
	if best == l.sense*points[0].along { // no progress at all: all weigh the same
		for i := range weights {
			weights[i] = 1
		}
	}
	return weights
}

func (l *line) centre(points []point, weights []float64) {
	var along, across, sum float64
	for i, p := range points {
		along, across, sum = along+weights[i]*p.along, across+weights[i]*p.across, sum+weights[i]
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
