package sown

import (
	"cmp"
	"math"
	"slices"
)

// What parts a track into straight drives: our choice, not published.
const (
	headingBaseM  = 10.0 // a heading is taken over at least this displacement, never fix to fix
	baseTimes     = 20.0 // …and over this many times the jitter from fix to fix
	straightTimes = 6.0  // how many times the scatter of its log a fix of a pass may lie off the line
	slowTimes     = 9.0  // …and how many times its slow scatter, which strays farther now and then…
	slowStrayM    = 6.0  // …up to here
	deepestCut    = 12   // how often a leg is halved in search of straight pieces
)

// guide knows how straight a pass of one log must be.
type guide struct {
	headingDeg float64
	baseM      float64 // the displacement over which headings are taken
	strayM     float64 // how far beside its line a fix of a pass may lie
	retreatM   float64 // how far back along its line it may lie
	holdM      float64 // a track that stays off the line this far has left it…
	holdFixes  int     // …and for at least this many fixes
}

// leg is a piece of a stretch that runs along the rows one way, from point to point.
type leg struct{ from, to int }

// nodes are the points at which headings are taken: each at least baseM from the one
// before, and the last.
func nodes(points []point, baseM float64) []int {
	list := []int{0}
	for i := range points {
		if points[list[len(list)-1]].to(points[i]) >= baseM {
			list = append(list, i)
		}
	}
	if last := len(points) - 1; list[len(list)-1] != last {
		list = append(list, last)
	}
	return list
}

// legs are the pieces of a track that run within a heading tolerance of the rows. An edge
// between nodes runs along them by itself, or together with its neighbours: one edge
// alone is too short where the receiver scatters.
func (g guide) legs(points []point) []leg {
	at := nodes(points, g.baseM)
	way := func(i, k int) int { return g.wayOf(points[at[max(i, 0)]], points[at[min(k, len(at)-1)]]) }
	var list []leg
	before := 0
	for e := range len(at) - 1 {
		here := way(e, e+1)
		if here == 0 {
			here = way(e-1, e+2)
		}
		if here != 0 && here == before {
			list[len(list)-1].to = at[e+1]
		} else if here != 0 {
			list = append(list, leg{at[e], at[e+1]})
		}
		before = here
	}
	return list
}

// wayOf is +1 or -1 where the way from p to q runs along the rows or against them within
// the tolerance, else 0.
func (g guide) wayOf(p, q point) int {
	along, across := q.along-p.along, q.across-p.across
	switch {
	case math.Hypot(along, across) < g.baseM/2,
		math.Abs(across) > math.Abs(along)*math.Tan(g.headingDeg*math.Pi/180):
		return 0
	case along > 0:
		return 1
	}
	return -1
}

// straight tells whether points run along the rows on one line, without going back.
func (g guide) straight(points []point) (line, bool) {
	l := fitLine(points)
	return l, l.worstM <= g.strayM && l.angleDeg() <= g.headingDeg && l.retreatM <= g.retreatM
}

// piece is a straight part of a stretch and its line.
type piece struct {
	leg
	line line
}

// pieces cuts a leg where it strays from the straight, as often as need be.
func (g guide) pieces(points []point, l leg, depth int) []piece {
	if l.to-l.from < 1 {
		return nil
	}
	if fit, ok := g.straight(points[l.from : l.to+1]); ok {
		return []piece{{l, fit}}
	}
	knee := farthestFromChord(points, l)
	if depth == deepestCut || knee == l.from || knee == l.to {
		return nil
	}
	return append(g.pieces(points, leg{l.from, knee}, depth+1), g.pieces(points, leg{knee, l.to}, depth+1)...)
}

// farthestFromChord is the point of a leg farthest beside the straight from its first
// point to its last.
func farthestFromChord(points []point, l leg) int {
	first, last := points[l.from], points[l.to]
	along, across := last.along-first.along, last.across-first.across
	best, knee := 0.0, l.from
	for i := l.from + 1; i < l.to; i++ {
		beside := math.Abs((points[i].across-first.across)*along - (points[i].along-first.along)*across)
		if beside > best {
			best, knee = beside, i
		}
	}
	return knee
}

// straightest finds the straight pieces of a whole track and lets each grow out to where
// the track leaves its line or turns back on it: nodes are too coarse for the ends. The
// longest grows first, for a short one that holds a bend points astray. They come in the
// order of the track and share no more than an end.
func (g guide) straightest(points []point) []piece {
	var candidates, found []piece
	for _, l := range g.legs(points) {
		candidates = append(candidates, g.pieces(points, l, 0)...)
	}
	slices.SortStableFunc(candidates, func(a, b piece) int {
		return cmp.Compare(points[b.from].to(points[b.to]), points[a.from].to(points[a.to]))
	})
	taken := make([]bool, len(points))
	for _, c := range candidates {
		for _, rest := range g.untaken(points, c, taken) {
			grown := g.grown(points, rest, taken)
			for i := grown.from + 1; i < grown.to; i++ {
				taken[i] = true
			}
			found = append(found, piece{grown, rest.line})
		}
	}
	slices.SortFunc(found, func(a, b piece) int { return cmp.Compare(a.from, b.from) })
	return found
}

// untaken is a piece without the ends that another has grown over: none where nothing is
// left, or nothing straight.
func (g guide) untaken(points []point, p piece, taken []bool) []piece {
	rest := p.leg
	for rest.from < rest.to && taken[rest.from] {
		rest.from++
	}
	for rest.to > rest.from && taken[rest.to] {
		rest.to--
	}
	if rest == p.leg {
		return []piece{p}
	}
	return g.pieces(points, rest, deepestCut)
}

// grown is a piece out to where the track leaves its line, turns back on it, or is taken.
func (g guide) grown(points []point, p piece, taken []bool) leg {
	middle := (p.from + p.to) / 2
	return leg{g.reach(points, p.line, middle, -1, taken), g.reach(points, p.line, middle, +1, taken)}
}

// reach walks from a point on the line one way and gives the last point that is on the
// line and farther along than all before.
func (g guide) reach(points []point, l line, from, step int, taken []bool) int {
	sense := l.sense * float64(step)
	edge, best, on := from, sense*points[from].along, from
	for i := from; i >= 0 && i < len(points); i += step {
		far := sense * points[i].along
		if math.Abs(l.beside(points[i])) > g.strayM {
			if points[on].to(points[i]) > g.holdM && (i-on)*step >= g.holdFixes {
				break
			}
		} else if on = i; far >= best {
			best, edge = far, i
		} else if best-far > g.retreatM {
			break
		}
		if taken[i] {
			break
		}
	}
	return edge
}
