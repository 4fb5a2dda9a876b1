package walk

import "math"

// flat is a plane that touches the earth at a place: good to a centimetre over a paddock,
// and no part of the program.
type flat struct {
	at                     place
	perDegLatM, perDegLonM float64
}

// flatAt takes the lengths of a degree from the radii of curvature of WGS 84.
func flatAt(at place) flat {
	const a, f = 6378137.0, 1 / 298.257223563
	e2 := f * (2 - f)
	sin, cos := math.Sincos(at.Lat * math.Pi / 180)
	w := math.Sqrt(1 - e2*sin*sin)
	return flat{at, math.Pi / 180 * a * (1 - e2) / (w * w * w), math.Pi / 180 * a / w * cos}
}

// to gives metres east and north of the plane's place.
func (f flat) to(p place) (e, n float64) {
	return (p.Lon - f.at.Lon) * f.perDegLonM, (p.Lat - f.at.Lat) * f.perDegLatM
}

// from is the place so many metres east and north.
func (f flat) from(e, n float64) place {
	return place{f.at.Lat + n/f.perDegLatM, f.at.Lon + e/f.perDegLonM}
}

func (f flat) distance(p, q place) float64 {
	pe, pn := f.to(p)
	qe, qn := f.to(q)
	return math.Hypot(qe-pe, qn-pn)
}
