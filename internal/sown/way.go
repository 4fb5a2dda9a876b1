package sown

import "math"

// wayM is the length of a way that follows no row: thinned, so that scatter does not
// lengthen it, and bent, so that thinning does not shorten it. A chord under an arc that
// turns by θ is short of it by θ²/24.
func (g guide) wayM(points []point, from, to int) float64 {
	if to <= from {
		return 0
	}
	way, sum := points[from:to+1], 0.0
	at := nodes(way, g.baseM)
	for i := 1; i < len(at); i++ {
		chord := way[at[i-1]].to(way[at[i]])
		turn := (turnAt(way, at, i-1) + turnAt(way, at, i)) / 2
		sum += chord * (1 + turn*turn/24)
	}
	return sum
}

// sharpest is the turn between two chords, in radians, beyond which a way is a corner and
// no arc.
const sharpest = math.Pi / 3

// turnAt is the turn of a way at a node, in radians; 0 at its ends and at corners.
func turnAt(way []point, at []int, node int) float64 {
	if node == 0 || node == len(at)-1 {
		return 0
	}
	p, q, r := way[at[node-1]], way[at[node]], way[at[node+1]]
	if p.to(q) == 0 || q.to(r) == 0 {
		return 0
	}
	turn := math.Acos(max(-1, min(1, cosBetween(p, q, q, r))))
	if turn > sharpest {
		return 0
	}
	return turn
}
