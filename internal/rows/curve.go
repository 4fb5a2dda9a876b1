package rows

import (
	"math"
	"slices"
	"sort"

	"rowtally/internal/ground"
)

// wall is an edge that a headland row keeps clear of.
type wall struct {
	a, b    ground.Point
	outside bool    // of the paddock; else of a hole or a no-go area
	clearM  float64 // its headland or margin
	keepM   float64 // what the row being laid keeps
}

// leastKeepM parts a curve where it crosses an edge that asks for no clearance.
const leastKeepM = 1e-7

// offM is how far a point lies from the wall.
func (w wall) offM(p ground.Point) float64 {
	de, dn := w.b.E-w.a.E, w.b.N-w.a.N
	long2 := de*de + dn*dn
	share := 0.0
	if long2 > 0 {
		share = max(0, min(1, ((p.E-w.a.E)*de+(p.N-w.a.N)*dn)/long2))
	}
	return math.Hypot(p.E-w.a.E-share*de, p.N-w.a.N-share*dn)
}

// walls lists every edge of the ground with its clearance.
func (s scene) walls() (walls []wall) {
	ring := func(r ground.Ring, outside bool, clearM func(i int) float64) {
		for i := range r {
			walls = append(walls, wall{a: r[i], b: r[(i+1)%len(r)], outside: outside, clearM: max(leastKeepM, clearM(i))})
		}
	}
	for k, polygon := range s.paddock {
		ring(polygon.Outer, true, func(i int) float64 { return s.headlands[k][i] })
		for _, hole := range polygon.Holes {
			ring(hole, false, func(int) float64 { return s.marginM })
		}
	}
	for _, o := range s.obstacles {
		margin := func(int) float64 { return o.marginM }
		for _, polygon := range o.polygons {
			for _, r := range polygon.Rings() {
				ring(r, false, margin)
			}
		}
		for _, line := range o.lines {
			for i := range max(1, len(line)-1) {
				walls = append(walls, wall{a: line[i], b: line[min(i+1, len(line)-1)], clearM: max(leastKeepM, o.marginM)})
			}
		}
	}
	return walls
}

// nearby finds the walls near a curve: they stand in the order of their western ends.
type nearby struct {
	walls         []wall
	longM, widest float64 // the longest from west to east, and the widest clearance
}

func nearOf(walls []wall) nearby {
	n := nearby{walls: slices.Clone(walls)}
	for _, w := range walls {
		n.longM, n.widest = max(n.longM, math.Abs(w.b.E-w.a.E)), max(n.widest, w.keepM)
	}
	sort.Slice(n.walls, func(i, k int) bool { return n.walls[i].west() < n.walls[k].west() })
	return n
}

func (w wall) west() float64 { return min(w.a.E, w.b.E) }

// to lists the walls whose clearance may reach a curve.
func (n nearby) to(c curve) (walls []wall) {
	low, high := c.bounds()
	first := sort.Search(len(n.walls), func(i int) bool { return n.walls[i].west() >= low.E-n.widest-n.longM })
	for _, w := range n.walls[first:] {
		if w.west() > high.E+w.keepM && w.west() > high.E+n.widest {
			break
		}
		if max(w.a.E, w.b.E)+w.keepM >= low.E && w.west()-w.keepM <= high.E &&
			max(w.a.N, w.b.N)+w.keepM >= low.N && min(w.a.N, w.b.N)-w.keepM <= high.N {
			walls = append(walls, w)
		}
	}
	return walls
}

// curve is a straight line, or a circle run clockwise from where it faces away from the
// paddock; shares of it run from 0 to 1.
type curve struct {
	from, to ground.Point    // of a line; the circle's centre and its beginning
	radiusM  float64         // 0 for a line
	touches  [2]ground.Point // ways from the centre to where the circle touches the lines beside its corner's edges
}

// curves lists what may be part of a row so much farther in: the line beside each edge of the
// outsides, and a circle round each corner that stands in or has edges of two headlands.
func (s scene) curves(inM float64) (curves []curve) {
	for k, polygon := range s.paddock {
		ring, keeps := anticlockwise(polygon.Outer, s.headlands[k])
		for i := range ring {
			before, at, after := ring[(i+len(ring)-1)%len(ring)], ring[i], ring[(i+1)%len(ring)]
			keepBefore, keep := keeps[(i+len(ring)-1)%len(ring)]+inM, keeps[i]+inM
			n := inward(at, after)
			curves = append(curves, curve{from: moved(at, n, keep), to: moved(after, n, keep)})
			m := inward(before, at)
			if m.E*n.N-m.N*n.E < 0 || keep != keepBefore {
				radius := max(keep, keepBefore)
				curves = append(curves, curve{at, moved(at, outward(m, n), radius), radius, [2]ground.Point{m, n}})
			}
		}
	}
	return curves
}

// anticlockwise turns a ring, and what its sides keep, so that the paddock lies to the left.
func anticlockwise(ring ground.Ring, keeps []float64) (ground.Ring, []float64) {
	if ring.Anticlockwise() {
		return ring, keeps
	}
	n := len(ring)
	turned, of := make(ground.Ring, n), make([]float64, n)
	for i := range ring {
		turned[i] = ring[n-1-i]
		of[i] = keeps[(2*n-2-i)%n] // the side between corners n-1-i and n-2-i
	}
	return turned, of
}

// inward is the unit vector to the left of an edge.
func inward(a, b ground.Point) ground.Point {
	long := a.To(b)
	return ground.Point{E: -(b.N - a.N) / long, N: (b.E - a.E) / long}
}

// outward is the unit vector away from the paddock at a corner.
func outward(m, n ground.Point) ground.Point {
	e, no := -(m.E + n.E), -(m.N + n.N)
	long := math.Hypot(e, no)
	if long < 1e-9 {
		return ground.Point{E: -m.E, N: -m.N}
	}
	return ground.Point{E: e / long, N: no / long}
}

func moved(p, way ground.Point, byM float64) ground.Point {
	return ground.Point{E: p.E + byM*way.E, N: p.N + byM*way.N}
}

func (c curve) lengthM() float64 {
	if c.radiusM > 0 {
		return 2 * math.Pi * c.radiusM
	}
	return c.from.To(c.to)
}

func (c curve) at(share float64) ground.Point {
	if c.radiusM == 0 {
		return ground.Point{E: c.from.E + share*(c.to.E-c.from.E), N: c.from.N + share*(c.to.N-c.from.N)}
	}
	sin, cos := math.Sincos(math.Atan2(c.to.N-c.from.N, c.to.E-c.from.E) - 2*math.Pi*share)
	return ground.Point{E: c.from.E + c.radiusM*cos, N: c.from.N + c.radiusM*sin}
}

func (c curve) bounds() (low, high ground.Point) {
	if c.radiusM > 0 {
		return ground.Point{E: c.from.E - c.radiusM, N: c.from.N - c.radiusM}, ground.Point{E: c.from.E + c.radiusM, N: c.from.N + c.radiusM}
	}
	return ground.Point{E: min(c.from.E, c.to.E), N: min(c.from.N, c.to.N)}, ground.Point{E: max(c.from.E, c.to.E), N: max(c.from.N, c.to.N)}
}

// meets adds the shares at which the curve comes to what a wall keeps clear: to the circles
// round its ends, and to the lines beside it.
func (c curve) meets(w wall, shares []float64) []float64 {
	shares = c.meetsCircle(w.a, w.keepM, shares)
	if w.a == w.b {
		return shares
	}
	shares = c.meetsCircle(w.b, w.keepM, shares)
	n := inward(w.a, w.b)
	for _, side := range []float64{w.keepM, -w.keepM} {
		shares = c.meetsLine(moved(w.a, n, side), n, shares)
	}
	return shares
}

func (c curve) meetsCircle(centre ground.Point, radiusM float64, shares []float64) []float64 {
	if c.radiusM == 0 {
		de, dn, long := c.to.E-c.from.E, c.to.N-c.from.N, c.from.To(c.to)
		fe, fn := centre.E-c.from.E, centre.N-c.from.N
		along, off := (fe*de+fn*dn)/long, (fe*dn-fn*de)/long
		half2 := radiusM*radiusM - off*off
		if half2 < 0 {
			return shares
		}
		half := math.Sqrt(half2)
		return between(shares, (along-half)/long, (along+half)/long)
	}
	apart := c.from.To(centre)
	if apart == 0 {
		return shares
	}
	along := (c.radiusM*c.radiusM - radiusM*radiusM + apart*apart) / (2 * apart)
	if math.Abs(along) > c.radiusM {
		return shares
	}
	return c.facing(ground.Point{E: (centre.E - c.from.E) / apart, N: (centre.N - c.from.N) / apart}, along, shares)
}

// meetsLine takes a line by a point of it and its unit normal.
func (c curve) meetsLine(on, normal ground.Point, shares []float64) []float64 {
	off := func(p ground.Point) float64 { return (p.E-on.E)*normal.E + (p.N-on.N)*normal.N }
	if c.radiusM == 0 {
		from, to := off(c.from), off(c.to)
		if from == to {
			return shares
		}
		return between(shares, from/(from-to))
	}
	along := -off(c.from)
	if math.Abs(along) > c.radiusM {
		return shares
	}
	return c.facing(normal, along, shares)
}

// facing adds the two places of the circle that lie so far along a direction from its centre.
func (c curve) facing(way ground.Point, alongM float64, shares []float64) []float64 {
	middle, half := math.Atan2(way.N, way.E), math.Acos(alongM/c.radiusM)
	return between(shares, c.shareAt(middle-half), c.shareAt(middle+half))
}

// shareAt is the share of the circle at an angle from the east.
func (c curve) shareAt(angle float64) float64 {
	begin := math.Atan2(c.to.N-c.from.N, c.to.E-c.from.E)
	share := math.Mod((begin-angle)/(2*math.Pi), 1)
	if share < 0 {
		share++
	}
	return share
}

// parted lists the shares, in order, at which a curve is parted: its ends, where it meets the
// walls, and where a circle touches the lines of its own corner. Of shares within a micrometre
// one is enough.
func (c curve) parted(walls []wall) []float64 {
	shares := []float64{0, 1}
	if c.radiusM > 0 {
		for _, way := range c.touches {
			shares = between(shares, c.shareAt(math.Atan2(way.N, way.E)), c.shareAt(math.Atan2(-way.N, -way.E)))
		}
	}
	exact := len(shares)
	for _, w := range walls {
		shares = c.meets(w, shares)
	}
	least := 1e-6 / c.lengthM()
	kept := slices.Clone(shares[:exact])
	slices.Sort(kept)
	own := slices.Clone(kept)
	for _, share := range shares[exact:] {
		if i, _ := slices.BinarySearch(own, share); own[i]-share > least && share-own[i-1] > least {
			kept = append(kept, share)
		}
	}
	slices.Sort(kept)
	return slices.CompactFunc(kept, func(later, earlier float64) bool { return later-earlier < least && later != 1 })
}

func between(shares []float64, more ...float64) []float64 {
	for _, share := range more {
		if share > 0 && share < 1 {
			shares = append(shares, share)
		}
	}
	return shares
}

// drawn follows a piece by points, an arc in steps of at most ten degrees.
func (p piece) drawn() []ground.Point {
	steps := 1.0
	if p.radiusM > 0 {
		steps = math.Ceil((p.to - p.from) * 36)
	}
	var path []ground.Point
	for i := 0.0; i <= steps; i++ {
		path = append(path, p.at(p.from+(p.to-p.from)*i/steps))
	}
	return path
}
