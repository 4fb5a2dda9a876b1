package ground

import "math"

// Line is the shortest line between two places on an ellipsoid.
type Line struct {
	DistanceM      float64
	AzimuthDeg     float64 // direction at the first place, 0..360 clockwise from true north
	BackAzimuthDeg float64 // direction at the second place back to the first, 0..360
}

// Between finds the shortest line between two places. It answers for every pair, the
// nearly opposite ones too, to about 15 nanometres. Two equal places are 0 m apart, by
// azimuth 0.
// Source: Karney, Algorithms for geodesics, J. Geodesy 87 (2013).
func (e Ellipsoid) Between(from, to LatLon) Line {
	s := newSolver(e).inverse(from, to)
	return Line{s.distanceM, compass(s.atFrom.deg()), compass(s.atTo.deg() + 180)}
}

// Reach is where a line of a length ends that leaves a place by an azimuth, and the
// azimuth by which it goes on from there.
func (e Ellipsoid) Reach(from LatLon, azimuthDeg, distanceM float64) (to LatLon, onwardDeg float64) {
	return newSolver(e).direct(from, azimuthDeg, distanceM)
}

// compass brings an angle in degrees to 0..360.
func compass(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	if deg >= 360 {
		return 0
	}
	return deg + 0 // turns a negative zero round
}

// solver holds what is worked out once for an ellipsoid.
type solver struct {
	Ellipsoid
	polar       float64 // half axis at the pole, metres
	second2     float64 // second eccentricity squared
	authalic2M2 float64 // square of the radius of the sphere with the same area
	third       [6]float64
	longitude   [5][5]float64 // C3: row l-1, by power of epsilon from l
	area        [6][6]float64 // C4: row l, by power of epsilon from l
}

func newSolver(e Ellipsoid) *solver {
	e2, b, n := e.eccentricity2(), e.polarM(), e.thirdFlattening()
	ecc := math.Sqrt(e2)
	return &solver{
		Ellipsoid: e, polar: b, second2: e2 / (1 - e2),
		authalic2M2: (square(e.EquatorialM) + square(b)*math.Atanh(ecc)/ecc) / 2,
		third:       seriesA3(n), longitude: seriesC3(n), area: seriesC4(n),
	}
}

// epsilon is the series' small number for a geodesic that crosses the equator with
// cosine cosA0 of its azimuth. Karney 2013, equations 9 and 16.
func (g *solver) epsilon(cosA0 float64) float64 {
	k2 := square(cosA0) * g.second2
	return k2 / (2*(1+math.Sqrt(1+k2)) + k2)
}

// direction is an angle by its sine and cosine.
type direction struct{ sin, cos float64 }

// ofDeg is the angle of degrees, exact at multiples of 90.
func ofDeg(deg float64) direction {
	quarter := math.RoundToEven(deg / 90)
	sin, cos := math.Sincos((deg - 90*quarter) * degree)
	switch int(math.Mod(quarter, 4)) & 3 {
	case 1:
		return direction{cos, -sin}
	case 2:
		return direction{-sin, -cos}
	case 3:
		return direction{-cos, sin}
	}
	return direction{sin, cos}
}

func (d direction) rad() float64 { return math.Atan2(d.sin, d.cos) }
func (d direction) deg() float64 { return math.Atan2(d.sin, d.cos) / degree }

// unit brings sine and cosine onto the circle.
func (d direction) unit() direction {
	h := math.Hypot(d.sin, d.cos)
	return direction{d.sin / h, d.cos / h}
}

// less is the angle from other to d.
func (d direction) less(other direction) direction {
	return direction{d.sin*other.cos - d.cos*other.sin, d.cos*other.cos + d.sin*other.sin}
}

// forward is less, taken as 0..180 degrees where rounding would make it negative.
func (d direction) forward(other direction) direction {
	turn := d.less(other)
	turn.sin = math.Max(0, turn.sin)
	return turn
}

// reduced is a latitude on the auxiliary sphere, with w = √(1 + e'² sin²).
type reduced struct {
	direction
	w float64
}

// tiny keeps a pole's cosine from being nothing.
const tiny = 1e-150

// notTiny rounds an angle near 0 to the grain of angles near 1/16, far below a nanometre,
// so that products of two such sines do not vanish.
func notTiny(deg float64) float64 {
	const near = 1. / 16
	if size := math.Abs(deg); size < near {
		return math.Copysign(near-(near-size), deg)
	}
	return deg
}

func (g *solver) reduce(latDeg float64) reduced {
	lat := ofDeg(notTiny(latDeg))
	beta := direction{(1 - g.Flattening) * lat.sin, lat.cos}.unit()
	beta.cos = math.Max(tiny, beta.cos)
	return reduced{beta, math.Sqrt(1 + g.second2*square(beta.sin))}
}
