package ground

import (
	"fmt"
	"math"

	"rowtally/internal/fault"
)

// addRing turns a line whose last corner repeats the first into a ring of the polygon:
// the outside first, then holes. Every format of boundary files writes its rings so.
func (p *GeoPolygon) addRing(line []LatLon) error {
	last := len(line) - 1
	switch {
	case last < 1:
		return fault.Refuse("", "the ring has %d corners, a ring needs at least 3", len(line))
	case line[0] != line[last]:
		return fault.Refuse("", "the ring is open: the last corner must repeat the first (it starts at %v and ends at %v)", line[0], line[last])
	case last < 3:
		return fault.Refuse("", "the ring has %d corners, a ring needs at least 3", last)
	}
	ring := GeoRing(line[:last:last])
	if len(p.Outer) == 0 {
		p.Outer = ring
	} else {
		p.Holes = append(p.Holes, ring)
	}
	return nil
}

// inPart tells in which part of a file a refusal arose; parts are counted from 1.
func inPart(what string, index int, err error) error {
	return fault.Refuse("", "%s %d: %v", what, index+1, err)
}

// Check refuses a place that is not on the earth.
func (p LatLon) Check() error {
	lat, lon := math.Abs(p.Lat), math.Abs(p.Lon)
	switch {
	case lat <= 90 && p.Lon >= -180 && p.Lon <= 360:
		return nil
	case math.IsNaN(lat+lon) || math.IsInf(lat+lon, 0):
		return fault.Refuse("", "a latitude or longitude is not a number, enter both in degrees")
	case lat > 360 || lon > 360:
		return fault.Refuse("", "%v cannot be degrees and looks like metres of a map grid, export the boundary as WGS84 latitude and longitude", p)
	case lon <= 90 && lat > 90 && lat <= 180:
		return fault.Refuse("", "the latitude is %.5f, beyond 90, and the longitude %.5f: the two look swapped, put the longitude first", p.Lat, p.Lon)
	case lat > 90:
		return fault.Refuse("", "the latitude is %.5f, enter -90 to 90 degrees", p.Lat)
	}
	return fault.Refuse("", "the longitude is %.5f, enter -180 to 180 degrees", p.Lon)
}

// String writes a place for a sentence, to about a metre.
func (p LatLon) String() string { return fmt.Sprintf("lat %.5f, lon %.5f", p.Lat, p.Lon) }

// String writes a point for a sentence, to a decimetre.
func (p Point) String() string { return fmt.Sprintf("%.1f m east, %.1f m north", p.E, p.N) }
