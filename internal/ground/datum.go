package ground

import "math"

// The transformation of GDA94 into GDA2020: seven parameters in the sense of a coordinate
// frame rotation, in metres, arc seconds and parts per million.
// Source: ICSM, GDA2020 Technical Manual v1.8, section 3.1.
const (
	gdaShiftXM, gdaShiftYM, gdaShiftZM    = 0.06155, -0.01087, -0.04019
	gdaTurnXSec, gdaTurnYSec, gdaTurnZSec = -0.0394924, -0.0327221, -0.0328979
	gdaScalePPM                           = -0.009994
)

// FromGDA94 shifts a place of GDA94, taken on the ellipsoid, into GDA2020, with which WGS84
// agrees to decimetres: about 1.8 m to the north-east in Australia, good to centimetres.
func FromGDA94(p LatLon) LatLon { return GRS80.onSurface(gda94To2020(GRS80.inSpace(p))) }

// ToGDA94 is the way back, to a tenth of a micrometre.
func ToGDA94(p LatLon) LatLon {
	guess := p
	for range 4 {
		there := FromGDA94(guess)
		guess.Lat, guess.Lon = guess.Lat+p.Lat-there.Lat, guess.Lon+p.Lon-there.Lon
	}
	return guess
}

// space is a point in metres from the earth's middle.
type space struct{ x, y, z float64 }

func gda94To2020(p space) space {
	const second = degree / 3600
	rx, ry, rz, scale := gdaTurnXSec*second, gdaTurnYSec*second, gdaTurnZSec*second, 1+gdaScalePPM*1e-6
	return space{
		gdaShiftXM + scale*(p.x+rz*p.y-ry*p.z),
		gdaShiftYM + scale*(-rz*p.x+p.y+rx*p.z),
		gdaShiftZM + scale*(ry*p.x-rx*p.y+p.z),
	}
}

// inSpace is the point of a place on the ellipsoid.
func (e Ellipsoid) inSpace(p LatLon) space {
	sinLat, cosLat := math.Sincos(p.Lat * degree)
	sinLon, cosLon := math.Sincos(p.Lon * degree)
	across := e.EquatorialM / math.Sqrt(1-e.eccentricity2()*sinLat*sinLat)
	return space{across * cosLat * cosLon, across * cosLat * sinLon, across * (1 - e.eccentricity2()) * sinLat}
}

// onSurface is the latitude and longitude of a point near the ellipsoid's surface.
func (e Ellipsoid) onSurface(p space) LatLon {
	out := math.Hypot(p.x, p.y)
	lat := math.Atan2(p.z, out*(1-e.eccentricity2()))
	for range 6 {
		s := math.Sin(lat)
		across := e.EquatorialM / math.Sqrt(1-e.eccentricity2()*s*s)
		lat = math.Atan2(p.z+e.eccentricity2()*across*s, out)
	}
	return LatLon{lat / degree, math.Atan2(p.y, p.x) / degree}
}
