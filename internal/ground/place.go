// Package ground holds places on the earth and in a local plane, the geometry between
// them, the readers of boundary files, and what soil and water were read to be, with
// their published classes. It refuses to know how rows are laid, machines and money, and
// it opens no file: a reader is handed the bytes.
package ground

import "math"

// LatLon is a place on the earth in degrees, WGS84 unless a datum is named beside it:
// latitude -90..90, north positive; longitude -180..360, east positive.
type LatLon struct {
	Lat float64 `json:"lat"`
	Lon float64 `json:"lon"`
}

// Point is a place in a plane, in metres: a Frame's plane, or a map grid.
type Point struct {
	E, N float64
}

// Ring is a closed line in a plane. The last corner does not repeat the first: the edge
// that closes the ring is understood.
type Ring []Point

// Polygon is an outside and the holes in it, in a plane.
type Polygon struct {
	Outer Ring
	Holes []Ring
}

// GeoRing is a closed line on the earth. The last corner does not repeat the first: the
// edge that closes the ring is understood.
type GeoRing []LatLon

// GeoPolygon is an outside and the holes in it, on the earth.
type GeoPolygon struct {
	Outer GeoRing
	Holes []GeoRing
}

// Shape is one or several polygons on the earth: a paddock, or a paddock in parts.
type Shape []GeoPolygon

// Rings lists the outside and then the holes.
func (p Polygon) Rings() []Ring { return append([]Ring{p.Outer}, p.Holes...) }

// Rings lists the outside and then the holes.
func (p GeoPolygon) Rings() []GeoRing { return append([]GeoRing{p.Outer}, p.Holes...) }

// Corners counts the corners of every ring of the shape.
func (s Shape) Corners() int {
	count := 0
	for _, polygon := range s {
		for _, ring := range polygon.Rings() {
			count += len(ring)
		}
	}
	return count
}

// Centre is the middle of the shape's outermost latitudes and longitudes: the place
// where a frame for it is centred. An empty shape has its centre at 0, 0.
func (s Shape) Centre() LatLon {
	if s.Corners() == 0 {
		return LatLon{}
	}
	start := s[0].Outer[0]
	south, north, west, east := start.Lat, start.Lat, 0.0, 0.0
	for _, polygon := range s {
		for _, corner := range polygon.Outer {
			turn := eastward(start.Lon, corner.Lon)
			south, north = math.Min(south, corner.Lat), math.Max(north, corner.Lat)
			west, east = math.Min(west, turn), math.Max(east, turn)
		}
	}
	return LatLon{(south + north) / 2, start.Lon + (west+east)/2}
}

// eastward is the difference of two longitudes by the short way round, -180..180 degrees.
func eastward(fromLon, toLon float64) float64 {
	return math.Remainder(toLon-fromLon, 360)
}

// To is the straight distance to another point of the same plane, in metres.
func (p Point) To(q Point) float64 { return math.Hypot(q.E-p.E, q.N-p.N) }

// signedArea is the plane area in square metres, positive when the ring runs
// anticlockwise. It is worked out from the first corner, so far-off origins cost nothing.
func (r Ring) signedArea() float64 {
	twice := 0.0
	for i := 2; i < len(r); i++ {
		a, b := r[i-1].minus(r[0]), r[i].minus(r[0])
		twice += a.E*b.N - b.E*a.N
	}
	return twice / 2
}

// AreaM2 is the plane area of the outside less the holes.
func (p Polygon) AreaM2() float64 {
	area := math.Abs(p.Outer.signedArea())
	for _, hole := range p.Holes {
		area -= math.Abs(hole.signedArea())
	}
	return area
}

func (p Point) minus(q Point) Point { return Point{p.E - q.E, p.N - q.N} }

// flat is the ring in a plane of degrees in which GeoJSON's edges are straight. The
// longitudes go on past 180 where the ring does, starting within 180 of a given one.
func (r GeoRing) flat(nearLonDeg float64) Ring {
	out := make(Ring, len(r))
	lon := nearLonDeg
	for i, corner := range r {
		lon += eastward(lon, corner.Lon)
		out[i] = Point{lon, corner.Lat}
	}
	return out
}

// AcrossM is the diagonal of the box round the polygon: no less than its greatest width.
func (p Polygon) AcrossM() float64 {
	if len(p.Outer) == 0 {
		return 0
	}
	return boxOf(p.Outer).diagonal()
}
