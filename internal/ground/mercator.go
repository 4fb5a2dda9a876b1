package ground

import "math"

// TransverseMercator is a projection that is true to scale ScaleAtMeridian along one
// meridian. Krüger's series in the third flattening, to the sixth order, is good to a
// few nanometres within 3 900 km of the meridian.
// Source: Karney, Transverse Mercator with an accuracy of a few nanometers, J. Geodesy
// 85 (2011), equations 7 to 36.
type TransverseMercator struct {
	ellipsoid       Ellipsoid
	meridianDeg     float64
	scale           float64
	falseE, falseN  float64
	rectifyingM     float64    // radius of the circle with the meridian's length
	toPlane, toGeog [6]float64 // Krüger's alpha and beta
}

// NewTransverseMercator makes a projection: the central meridian in degrees, the scale
// along it, and the coordinates of the place where it meets the equator, in metres.
func NewTransverseMercator(e Ellipsoid, meridianDeg, scaleAtMeridian, falseEastingM, falseNorthingM float64) TransverseMercator {
	n := e.thirdFlattening()
	n2 := n * n
	return TransverseMercator{
		ellipsoid: e, meridianDeg: meridianDeg, scale: scaleAtMeridian,
		falseE: falseEastingM, falseN: falseNorthingM,
		rectifyingM: e.EquatorialM / (1 + n) * (1 + n2*(1./4+n2*(1./64+n2/256))),
		toPlane:     krugerAlpha(n),
		toGeog:      krugerBeta(n),
	}
}

// Scaling is what a projection does to a short line at one place.
type Scaling struct {
	PointScale     float64 // plane length over ground length
	ConvergenceDeg float64 // add it to a true azimuth to get the grid bearing
}

// ToPlane projects a place.
func (m TransverseMercator) ToPlane(p LatLon) Point {
	point, _ := m.Project(p)
	return point
}

// Project projects a place and tells the scale and convergence there. The convergence
// has the sign of Australia's geodetic manuals: grid bearing = azimuth + convergence.
func (m TransverseMercator) Project(p LatLon) (Point, Scaling) {
	lon := eastward(m.meridianDeg, p.Lon) * degree
	sinLon, cosLon := math.Sincos(lon)
	tau := math.Tan(p.Lat * degree)
	conformal := m.conformalTangent(tau)
	hyp := math.Hypot(conformal, cosLon)
	xi, eta := math.Atan2(conformal, cosLon), math.Asinh(sinLon/hyp)
	x, y, grow := unroll(xi, eta, m.toPlane, 1)
	spherical := math.Sqrt(1-m.ellipsoid.eccentricity2()*square(math.Sin(p.Lat*degree))) * math.Hypot(1, tau) / hyp
	sphericalTurn := math.Atan2(conformal*sinLon, cosLon*math.Hypot(1, conformal))
	size := m.scale * m.rectifyingM
	return Point{m.falseE + size*y, m.falseN + size*x}, Scaling{
		PointScale:     m.scale * m.rectifyingM / m.ellipsoid.EquatorialM * spherical * math.Hypot(grow[0], grow[1]),
		ConvergenceDeg: -(sphericalTurn + math.Atan2(grow[1], grow[0])) / degree,
	}
}

// ToEarth is the place that projects to a point. Its longitude is -180..180.
func (m TransverseMercator) ToEarth(p Point) LatLon {
	size := m.scale * m.rectifyingM
	xi, eta, _ := unroll((p.N-m.falseN)/size, (p.E-m.falseE)/size, m.toGeog, -1)
	sinhEta := math.Sinh(eta)
	sinXi, cosXi := math.Sincos(xi)
	tau := m.geographicTangent(sinXi / math.Hypot(sinhEta, cosXi))
	lon := math.Atan2(sinhEta, cosXi) / degree
	return LatLon{math.Atan(tau) / degree, math.Remainder(m.meridianDeg+lon, 360)}
}

// unroll adds sign x the series of one direction to (xi, eta); grow is the derivative
// of the result, real and imaginary part.
func unroll(xi, eta float64, series [6]float64, sign float64) (x, y float64, grow [2]float64) {
	x, y, grow = xi, eta, [2]float64{1, 0}
	for j := 1; j <= len(series); j++ {
		k, c := 2*float64(j), sign*series[j-1]
		sin, cos := math.Sincos(k * xi)
		sinh, cosh := math.Sinh(k*eta), math.Cosh(k*eta)
		x += c * sin * cosh
		y += c * cos * sinh
		grow[0] += k * c * cos * cosh
		grow[1] += k * c * sin * sinh
	}
	return x, y, grow
}

// conformalTangent is the tangent of the conformal latitude, from that of the latitude.
func (m TransverseMercator) conformalTangent(tau float64) float64 {
	e := math.Sqrt(m.ellipsoid.eccentricity2())
	sigma := math.Sinh(e * math.Atanh(e*tau/math.Hypot(1, tau)))
	return tau*math.Hypot(1, sigma) - sigma*math.Hypot(1, tau)
}

// geographicTangent undoes conformalTangent by Newton's method; three rounds suffice.
func (m TransverseMercator) geographicTangent(conformal float64) float64 {
	e2 := m.ellipsoid.eccentricity2()
	tau := conformal / (1 - e2)
	for range 5 {
		got := m.conformalTangent(tau)
		slope := (1 - e2) * math.Hypot(1, tau) * math.Hypot(1, got) / (1 + (1-e2)*tau*tau)
		step := (conformal - got) / slope
		tau += step
		if !(math.Abs(step) > 1e-16*math.Max(1, math.Abs(tau))) {
			break
		}
	}
	return tau
}

func square(x float64) float64 { return x * x }
