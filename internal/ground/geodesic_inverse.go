package ground

import "math"

// solution is a geodesic found between two places.
type solution struct {
	distanceM    float64
	atFrom, atTo direction // azimuths, both in the direction of travel
	underM2      float64   // area between the line and the equator, signed
}

// problem is the inverse problem turned so that the first latitude is south, at least as
// far from the equator as the second, and the second place lies east of the first.
type problem struct {
	*solver
	from, to       reduced
	lonDeg, lonRad float64   // 0..180 and 0..π
	lon            direction // the same angle
	lonToOpposite  float64   // 180 - lonDeg
}

// found is a solution of the turned problem. sphereLon is the longitude difference on
// the auxiliary sphere, and known only where isKnown.
type found struct {
	distanceM float64
	from, to  direction
	sphereLon direction
	isKnown   bool
}

// inverse solves the inverse problem: Karney 2013, section 4.
func (g *solver) inverse(from, to LatLon) solution {
	lon := eastward(from.Lon, to.Lon)
	lonSign := math.Copysign(1, lon)
	lat1, lat2, swapped := from.Lat, to.Lat, 1.0
	if math.Abs(lat1) < math.Abs(lat2) {
		lat1, lat2, swapped, lonSign = lat2, lat1, -1, -lonSign
	}
	latSign := -math.Copysign(1, lat1)
	p := g.pose(lat1*latSign, lat2*latSign, math.Abs(lon))
	f := p.solve()
	area := p.areaUnder(f) * swapped * lonSign * latSign
	if swapped < 0 {
		f.from, f.to = f.to, f.from
	}
	back := func(d direction) direction {
		return direction{d.sin * swapped * lonSign, d.cos * swapped * latSign}
	}
	return solution{f.distanceM, back(f.from), back(f.to), area}
}

// pose sets the turned problem up; equal and opposite latitudes are made exactly so.
func (g *solver) pose(lat1, lat2, lonDeg float64) problem {
	p := problem{
		solver: g, from: g.reduce(lat1), to: g.reduce(lat2), lonDeg: lonDeg,
		lonRad: lonDeg * degree, lon: ofDeg(lonDeg), lonToOpposite: 180 - lonDeg,
	}
	if p.from.cos < -p.from.sin {
		if p.to.cos == p.from.cos {
			p.to.sin = math.Copysign(p.from.sin, p.to.sin)
		}
	} else if math.Abs(p.to.sin) == -p.from.sin {
		p.to.cos = p.from.cos
	}
	return p
}

// solve takes the line along a meridian or the equator where that is shortest, and
// searches for its azimuth elsewhere.
func (p problem) solve() found {
	if p.from.cos <= tiny || p.lon.sin == 0 {
		if f, shortest := p.alongMeridian(); shortest {
			return f
		}
	}
	if p.from.sin == 0 && p.lonToOpposite >= p.Flattening*180 {
		return p.alongEquator()
	}
	start := p.start()
	if start.isKnown {
		return start
	}
	return p.search(start.from)
}

func (p problem) alongMeridian() (found, bool) {
	f := found{from: p.lon, to: direction{0, 1}}
	sigma1 := direction{p.from.sin, f.from.cos * p.from.cos}
	sigma2 := direction{p.to.sin, p.to.cos}
	arc := sigma2.forward(sigma1).rad()
	length, reducedLength := p.lengths(p.thirdFlattening(), arc, sigma1, sigma2)
	f.distanceM = length * p.polar
	return f, arc < 1 || reducedLength >= 0
}

func (p problem) alongEquator() found {
	east := direction{1, 0}
	sin, cos := math.Sincos(p.lonRad / (1 - p.Flattening))
	return found{p.EquatorialM * p.lonRad, east, east, direction{sin, cos}, true}
}

// lengths gives distance and reduced length between two arc positions, both divided by
// the polar half axis: equations 7, 38 and 40.
func (p problem) lengths(eps, arc float64, sigma1, sigma2 direction) (distance, reducedLength float64) {
	a1, a2 := seriesA1m1(eps), seriesA2m1(eps)
	c1, c2 := seriesC1(eps), seriesC2(eps)
	along := sigma2.sineSum(c1) - sigma1.sineSum(c1)
	across := sigma2.sineSum(c2) - sigma1.sineSum(c2)
	j := (a1-a2)*arc + (1+a1)*along - (1+a2)*across
	return (1 + a1) * (arc + along),
		p.to.w*sigma1.cos*sigma2.sin - p.from.w*sigma1.sin*sigma2.cos - sigma1.cos*sigma2.cos*j
}

// precision is the spacing of numbers near 1.
const precision = 0x1p-52

// mostRounds bounds the search. Newton's method takes three or four; where it would
// leave the bracket the bracket is halved, which cannot take more than about 70.
const mostRounds = 100

// search finds the azimuth at the first place for which the line arrives at the second
// place's longitude: Newton's method inside a shrinking bracket (equations 45 and 46).
func (p problem) search(azimuth direction) found {
	north, south := direction{tiny, 1}, direction{tiny, -1}
	var try trial
	near := false
	for range mostRounds {
		try = p.try(azimuth)
		size := math.Abs(try.overshoot)
		if size <= precision || near && size <= 8*precision {
			break
		}
		near = size <= 16*precision
		if try.overshoot > 0 {
			south = azimuth
		} else {
			north = azimuth
		}
		next, good := try.improved(north, south)
		if !good {
			next = direction{(north.sin + south.sin) / 2, (north.cos + south.cos) / 2}.unit()
		}
		if next == azimuth {
			break
		}
		azimuth = next
	}
	length, _ := p.lengths(try.eps, try.arc, try.sigma1, try.sigma2)
	// The sphere's longitude comes from the given one, not from the trial's two places,
	// whose difference loses what the area of a small paddock needs.
	return found{length * p.polar, try.azimuth, try.arrival, p.lon.plus(try.shorter), true}
}

// trial is the line that leaves the first place by a guessed azimuth, followed to the
// second place's latitude.
type trial struct {
	overshoot, slope float64 // longitude reached less that wanted, radians, and its derivative
	azimuth, arrival direction
	arc, eps         float64
	shorter          float64 // longitude on the ellipsoid less than on the sphere, radians
	sigma1, sigma2   direction
}

// try follows a line: equations 5, 8, 12 and 46.
func (p problem) try(azimuth direction) trial {
	if p.from.sin == 0 && azimuth.cos == 0 {
		azimuth.cos = -tiny
	}
	sinA0, cosA0 := azimuth.sin*p.from.cos, math.Hypot(azimuth.cos, azimuth.sin*p.from.sin)
	t := trial{azimuth: azimuth, arrival: p.arrival(azimuth, sinA0), eps: p.epsilon(cosA0)}
	side1, side2 := azimuth.cos*p.from.cos, t.arrival.cos*p.to.cos
	t.sigma1, t.sigma2 = direction{p.from.sin, side1}.unit(), direction{p.to.sin, side2}.unit()
	omega1, omega2 := direction{sinA0 * p.from.sin, side1}.unit(), direction{sinA0 * p.to.sin, side2}.unit()
	t.arc = t.sigma2.forward(t.sigma1).rad()
	c3 := p.c3(t.eps)
	t.shorter = p.Flattening * p.a3(t.eps) * sinA0 * (t.arc + t.sigma2.sineSum(c3) - t.sigma1.sineSum(c3))
	t.overshoot = omega2.forward(omega1).less(p.lon).rad() - t.shorter
	if t.arrival.cos == 0 {
		t.slope = -2 * (1 - p.Flattening) * p.from.w / p.from.sin
	} else {
		_, reducedLength := p.lengths(t.eps, t.arc, t.sigma1, t.sigma2)
		t.slope = reducedLength * (1 - p.Flattening) / (t.arrival.cos * p.to.cos)
	}
	return t
}

// arrival is the azimuth at the second latitude, always northward there: equation 45.
func (p problem) arrival(azimuth direction, sinA0 float64) direction {
	mirrored := p.to.cos == p.from.cos
	if mirrored && math.Abs(p.to.sin) == -p.from.sin {
		return direction{azimuth.sin, math.Abs(azimuth.cos)}
	}
	gap := (p.from.sin - p.to.sin) * (p.from.sin + p.to.sin)
	if p.from.cos < -p.from.sin {
		gap = (p.to.cos - p.from.cos) * (p.from.cos + p.to.cos)
	}
	return direction{
		sinA0 / p.to.cos,
		math.Sqrt(math.Max(0, square(azimuth.cos*p.from.cos)+gap)) / p.to.cos,
	}
}

// improved takes Newton's step; it is no good when it leaves the bracket.
func (t trial) improved(north, south direction) (direction, bool) {
	step := -t.overshoot / t.slope
	if !(t.slope > 0 && math.Abs(step) < math.Pi) {
		return t.azimuth, false
	}
	next := t.azimuth.plus(step).unit()
	inside := next.sin > 0 && next.cos*north.sin <= north.cos*next.sin && next.cos*south.sin >= south.cos*next.sin
	return next, inside
}
