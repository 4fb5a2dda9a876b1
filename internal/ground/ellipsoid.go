package ground

import "math"

// Ellipsoid is an ellipsoid of revolution: the half axis at the equator in metres and
// the flattening.
type Ellipsoid struct {
	Name        string
	EquatorialM float64
	Flattening  float64
}

// The ellipsoids of satellite positions (WGS84) and of Australia's GDA94 and GDA2020
// (GRS80). They differ by a tenth of a millimetre at the pole.
// Source: NIMA TR8350.2 (WGS84); Moritz, Geodetic Reference System 1980, J. Geodesy 2000.
var (
	WGS84 = Ellipsoid{"WGS84", 6378137, 1 / 298.257223563}
	GRS80 = Ellipsoid{"GRS80", 6378137, 1 / 298.257222101}
)

// polarM is the half axis at the pole, in metres.
func (e Ellipsoid) polarM() float64 { return e.EquatorialM * (1 - e.Flattening) }

// thirdFlattening is n = (a-b)/(a+b), the small number of the series.
func (e Ellipsoid) thirdFlattening() float64 { return e.Flattening / (2 - e.Flattening) }

// eccentricity2 is the first eccentricity squared.
func (e Ellipsoid) eccentricity2() float64 { return e.Flattening * (2 - e.Flattening) }

// secondEccentricity2 is the second eccentricity squared, e'² = e² / (1 - e²).
func (e Ellipsoid) secondEccentricity2() float64 {
	return e.eccentricity2() / (1 - e.eccentricity2())
}

// gaussianRadius2M2 is the product of the radii of curvature along and across the
// meridian at a latitude, in square metres.
func (e Ellipsoid) gaussianRadius2M2(latDeg float64) float64 {
	s := math.Sin(latDeg * degree)
	w := 1 - e.eccentricity2()*s*s
	b := e.polarM() / w
	return b * b
}

// degree is one degree in radians.
const degree = math.Pi / 180
