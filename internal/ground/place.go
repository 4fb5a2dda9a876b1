// Package ground holds places on the earth and in a local plane, the geometry between
// them, and the readers of boundary files. It refuses to know rows, machines and money,
// and it opens no file: a reader is handed the bytes.
package ground

import (
	"fmt"
	"math"

	"rowtally/internal/fault"
)

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

// flat is the ring in a plane of degrees, longitudes going on past 180: the plane in
// which GeoJSON's edges are straight.
func (r GeoRing) flat() Ring {
	out := make(Ring, len(r))
	lon := 0.0
	for i, corner := range r {
		if i == 0 {
			lon = corner.Lon
		} else {
			lon += eastward(r[i-1].Lon, corner.Lon)
		}
		out[i] = Point{lon, corner.Lat}
	}
	return out
}

// String writes a place for a sentence, to about a metre.
func (p LatLon) String() string { return fmt.Sprintf("lat %.5f, lon %.5f", p.Lat, p.Lon) }

// Check refuses a place that is not on the earth.
func (p LatLon) Check() error {
	finite := !math.IsNaN(p.Lat+p.Lon) && !math.IsInf(p.Lat+p.Lon, 0)
	latFits, lonFits := math.Abs(p.Lat) <= 90, p.Lon >= -180 && p.Lon <= 360
	switch {
	case finite && latFits && lonFits:
		return nil
	case !finite:
		return fault.Refuse("", "a latitude or longitude is not a number, enter both in degrees")
	case math.Abs(p.Lat) > 360 || math.Abs(p.Lon) > 360:
		return fault.Refuse("", "%v cannot be degrees and looks like metres of a map grid, export the boundary as WGS84 latitude and longitude", p)
	case math.Abs(p.Lon) <= 90 && math.Abs(p.Lat) <= 180:
		return fault.Refuse("", "the latitude is %.5f, beyond 90: latitude and longitude look swapped, give the longitude of %.5f first", p.Lat, p.Lat)
	case !latFits:
		return fault.Refuse("", "the latitude is %.5f, enter -90 to 90 degrees", p.Lat)
	}
	return fault.Refuse("", "the longitude is %.5f, enter -180 to 180 degrees", p.Lon)
}
