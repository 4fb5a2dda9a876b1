package ground

import "math"

// Near is the line between two places that are near each other, for a person on foot: by the
// radii of curvature at the middle latitude. Within 10 km, below 70 degrees of latitude, the
// distance is right to 10 cm and the azimuth to 0.1 degrees; Between is exact at any distance
// and many times as large.
// Source: Bomford 1980, Geodesy, 2.14 (mid-latitude formula).
func (e Ellipsoid) Near(from, to LatLon) (distanceM, azimuthDeg float64) {
	sin, cos := math.Sincos((from.Lat + to.Lat) / 2 * degree)
	w2 := 1 - e.eccentricity2()*sin*sin
	prime := e.EquatorialM / math.Sqrt(w2)
	meridian := prime * (1 - e.eccentricity2()) / w2
	north, turn := meridian*(to.Lat-from.Lat)*degree, math.Mod(to.Lon-from.Lon+540, 360)-180
	east := prime * cos * turn * degree
	return math.Hypot(north, east), compass(math.Atan2(east, north)/degree - turn*sin/2)
}
