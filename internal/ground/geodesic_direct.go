package ground

import "math"

// direct follows a geodesic: Karney 2013, section 2.
func (g *solver) direct(from LatLon, azimuthDeg, distanceM float64) (LatLon, float64) {
	azimuth, beta := ofDeg(azimuthDeg), g.reduce(from.Lat)
	sinA0, cosA0 := azimuth.sin*beta.cos, math.Hypot(azimuth.cos, azimuth.sin*beta.sin)
	side := azimuth.cos * beta.cos
	sigma1, omega1 := direction{beta.sin, side}.orNorth(), direction{sinA0 * beta.sin, side}.orNorth()
	eps := g.epsilon(cosA0)
	arc := g.arcOf(distanceM, sigma1, eps)
	sigma2 := sigma1.plus(arc)
	c3 := g.c3(eps)
	shorter := g.Flattening * g.a3(eps) * sinA0 * (arc + sigma2.sineSum(c3) - sigma1.sineSum(c3))
	lon := direction{sinA0 * sigma2.sin, sigma2.cos}.less(omega1).rad() - shorter
	onEarth := direction{cosA0 * sigma2.sin, (1 - g.Flattening) * math.Hypot(sinA0, cosA0*sigma2.cos)}
	return LatLon{onEarth.deg(), math.Remainder(from.Lon+lon/degree, 360)},
		compass(direction{sinA0, cosA0 * sigma2.cos}.deg())
}

// arcOf is the arc on the auxiliary sphere for a distance: equations 7, 10 and 20.
func (g *solver) arcOf(distanceM float64, sigma1 direction, eps float64) float64 {
	spread := sigma1.sineSum(seriesC1(eps))
	tau := distanceM / (g.polar * (1 + seriesA1m1(eps)))
	return tau + spread + sigma1.plus(spread+tau).sineSum(seriesC1Back(eps))
}

// plus turns a direction on by an angle in radians.
func (d direction) plus(rad float64) direction {
	sin, cos := math.Sincos(rad)
	return direction{d.sin*cos + d.cos*sin, d.cos*cos - d.sin*sin}
}
