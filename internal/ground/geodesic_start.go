package ground

import "math"

// shortArc is the arc below which the auxiliary sphere alone is exact: about 0.2 m.
const shortArc = 3.6e-8

// start guesses the azimuth for the search; a very short line is solved outright.
// Karney 2013, equations 47 to 57.
func (p problem) start() found {
	middle2 := square(p.from.sin + p.to.sin)
	middle2 /= middle2 + square(p.from.cos+p.to.cos)
	w := (1 - p.Flattening) * math.Sqrt(1+p.second2*middle2)
	near := p.to.less(p.from.direction)
	isShort := near.cos >= 0 && near.sin < 0.5 && p.to.cos*p.lonRad < 0.5
	lon := p.lon
	if isShort {
		lon.sin, lon.cos = math.Sincos(p.lonRad / w)
	}
	f := found{sphereLon: lon}
	f.from = p.spherical(lon)
	arc := direction{math.Hypot(f.from.sin, f.from.cos), p.from.sin*p.to.sin + p.from.cos*p.to.cos*lon.cos}
	switch {
	case isShort && arc.sin < shortArc:
		f.isKnown, f.from = true, f.from.orNorth()
		f.distanceM = arc.rad() * p.polar * w / (1 - p.Flattening)
		f.to = direction{p.from.cos * lon.sin, near.sin - p.from.cos*p.to.sin*versine(lon)}.orNorth()
		return f
	case arc.cos < 0 && arc.sin < 6*p.thirdFlattening()*math.Pi*square(p.from.cos):
		f.from = p.nearlyOpposite()
	}
	if f.from = f.from.orNorth(); f.from.sin <= 0 {
		f.from = direction{1, 0}
	}
	return f
}

// spherical is the azimuth on a sphere, times the sine of the arc: equation 49.
func (p problem) spherical(lon direction) direction {
	east := p.to.cos * lon.sin
	if lon.cos >= 0 {
		return direction{east, p.to.less(p.from.direction).sin + p.to.cos*p.from.sin*versine(lon)}
	}
	return p.sphericalFar(lon)
}

// sphericalFar is the same azimuth, kept exact where the longitudes are nearly opposite.
func (p problem) sphericalFar(lon direction) direction {
	sum := p.to.sin*p.from.cos + p.to.cos*p.from.sin
	return direction{p.to.cos * lon.sin, sum - p.to.cos*p.from.sin*square(lon.sin)/(1-lon.cos)}
}

// versine is 1 - cos without loss where the angle is small; for cos >= 0.
func versine(d direction) float64 { return square(d.sin) / (1 + d.cos) }

// orNorth is the unit direction; where there is none, north.
func (d direction) orNorth() direction {
	if d.sin == 0 && d.cos == 0 {
		return direction{0, 1}
	}
	return d.unit()
}

// nearlyOpposite guesses the azimuth towards a place near the far side of the earth,
// where the geodesics' envelope is an astroid: equations 53 to 57.
func (p problem) nearlyOpposite() direction {
	across := p.Flattening * p.from.cos * p.a3(p.epsilon(p.from.sin)) * math.Pi
	betaSum := p.to.sin*p.from.cos + p.to.cos*p.from.sin
	x := -p.lonToOpposite * degree / across
	y := betaSum / (across * p.from.cos)
	if y > -200*precision && x > -1-1000*math.Sqrt(precision) {
		sin := math.Min(1, -x)
		return direction{sin, -math.Sqrt(1 - sin*sin)}
	}
	k := astroid(x, y)
	sin, cos := math.Sincos(-x * k / (1 + k) * across)
	return p.sphericalFar(direction{sin, -cos})
}

// astroid is the positive root of k⁴ + 2k³ - (x²+y²-1)k² - 2y²k - y² = 0: appendix B.
func astroid(x, y float64) float64 {
	p, q := x*x, y*y
	r := (p + q - 1) / 6
	if q == 0 && r <= 0 {
		return 0
	}
	s := p * q / 4
	disc := s * (s + 2*r*r*r)
	u := r
	if disc >= 0 {
		t3 := s + r*r*r
		t := math.Cbrt(t3 + math.Copysign(math.Sqrt(disc), t3))
		u += t
		if t != 0 {
			u += r * r / t
		}
	} else {
		u += 2 * r * math.Cos(math.Atan2(math.Sqrt(-disc), -(s+r*r*r))/3)
	}
	v := math.Sqrt(u*u + q)
	sum := u + v
	if u < 0 {
		sum = q / (v - u)
	}
	w := (sum - q) / (2 * v)
	return sum / (math.Sqrt(sum+w*w) + w)
}
