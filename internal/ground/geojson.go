package ground

import (
	"encoding/json"
	"slices"
	"strconv"

	"rowtally/internal/fault"
)

// Geometry is what one GeoJSON object holds: polygons, lines and points, each with its
// corners in the order given.
type Geometry struct {
	Polygons Shape
	Lines    [][]LatLon
	Points   []LatLon
}

// deepestNesting bounds collections within collections.
const deepestNesting = 8

// geoObject is any GeoJSON object (RFC 7946); what its type does not use stays empty.
type geoObject struct {
	Type        string            `json:"type"`
	Coordinates json.RawMessage   `json:"coordinates"`
	Geometry    json.RawMessage   `json:"geometry"`
	Geometries  []json.RawMessage `json:"geometries"`
	Features    []json.RawMessage `json:"features"`
}

// UnmarshalJSON reads any GeoJSON object. A refusal names what is wrong in a sentence.
func (g *Geometry) UnmarshalJSON(raw []byte) error {
	*g = Geometry{}
	return g.gather(raw, 0)
}

// gather adds what one GeoJSON object holds.
func (g *Geometry) gather(raw []byte, depth int) error {
	var object geoObject
	if err := json.Unmarshal(raw, &object); err != nil {
		return fault.Refuse("", "this is not a GeoJSON object: %v", err)
	}
	if depth > deepestNesting {
		return fault.Refuse("", "the GeoJSON holds collections more than %d deep, take the inner ones out", deepestNesting)
	}
	switch object.Type {
	case "Feature":
		if len(object.Geometry) == 0 || string(object.Geometry) == "null" {
			return nil
		}
		return g.gather(object.Geometry, depth+1)
	case "FeatureCollection":
		return g.gatherAll("features", object.Features, depth)
	case "GeometryCollection":
		return g.gatherAll("geometries", object.Geometries, depth)
	}
	return g.gatherCoordinates(object.Type, object.Coordinates)
}

func (g *Geometry) gatherAll(name string, members []json.RawMessage, depth int) error {
	for i, member := range members {
		if err := g.gather(member, depth+1); err != nil {
			return fault.Under(indexed(name, i), err)
		}
	}
	return nil
}

// gatherCoordinates adds the geometry that coordinates of a type describe.
func (g *Geometry) gatherCoordinates(kind string, raw json.RawMessage) error {
	var err error
	switch kind {
	case "Point":
		err = gatherOne(&g.Points, raw, readPosition)
	case "MultiPoint":
		err = gatherEach(&g.Points, raw, readPosition)
	case "LineString":
		err = gatherOne(&g.Lines, raw, readLine)
	case "MultiLineString":
		err = gatherEach(&g.Lines, raw, readLine)
	case "Polygon":
		err = gatherOne((*[]GeoPolygon)(&g.Polygons), raw, readPolygon)
	case "MultiPolygon":
		err = gatherEach((*[]GeoPolygon)(&g.Polygons), raw, readPolygon)
	case "":
		return fault.Refuse("type", "the GeoJSON object has no type, give a Polygon or a MultiPolygon")
	default:
		return fault.Refuse("type", "%q is not a GeoJSON type, give a Polygon or a MultiPolygon", kind)
	}
	return fault.Under("coordinates", err)
}

// gatherOne reads the coordinates of one part and adds it to a list.
func gatherOne[From, To any](list *[]To, raw json.RawMessage, read func(From) (To, error)) error {
	var from From
	if err := json.Unmarshal(raw, &from); err != nil {
		return fault.Refuse("", "the coordinates are not nested the way GeoJSON has them, export the file again")
	}
	to, err := read(from)
	*list = append(*list, to)
	return err
}

// gatherEach reads the coordinates of several parts and adds them to a list.
func gatherEach[From, To any](list *[]To, raw json.RawMessage, read func(From) (To, error)) error {
	var parts []json.RawMessage
	if err := json.Unmarshal(raw, &parts); err != nil {
		return fault.Refuse("", "the coordinates are not nested the way GeoJSON has them, export the file again")
	}
	for i, part := range parts {
		if err := gatherOne(list, part, read); err != nil {
			return fault.Under(indexed("", i), err)
		}
	}
	return nil
}

func readPosition(at []float64) (LatLon, error) {
	if len(at) < 2 {
		return LatLon{}, fault.Refuse("", "a position has %d numbers, give the longitude and then the latitude", len(at))
	}
	place := LatLon{Lat: at[1], Lon: at[0]}
	return place, place.Check()
}

func readLine(positions [][]float64) ([]LatLon, error) {
	line := make([]LatLon, len(positions))
	for i, position := range positions {
		place, err := readPosition(position)
		if err != nil {
			return nil, fault.Under(indexed("", i), err)
		}
		line[i] = place
	}
	return line, nil
}

func readPolygon(rings [][][]float64) (GeoPolygon, error) {
	var polygon GeoPolygon
	for i, positions := range rings {
		line, err := readLine(positions)
		if err == nil {
			line, err = closedRing(line)
		}
		if err != nil {
			return polygon, fault.Under(indexed("", i), err)
		}
		if i == 0 {
			polygon.Outer = line
		} else {
			polygon.Holes = append(polygon.Holes, line)
		}
	}
	if len(polygon.Outer) == 0 {
		return polygon, fault.Refuse("", "the polygon has no outside ring, give one")
	}
	return polygon, nil
}

// closedRing turns a line whose last corner repeats the first into a ring. Every format
// of boundary files writes its rings so.
func closedRing(line []LatLon) (GeoRing, error) {
	last := len(line) - 1
	switch {
	case last < 1:
		return nil, fault.Refuse("", "the ring has %d corners, a ring needs at least 3", len(line))
	case line[0] != line[last]:
		return nil, fault.Refuse("", "the ring is open: the last corner must repeat the first (it starts at %v and ends at %v)", line[0], line[last])
	case last < 3:
		return nil, fault.Refuse("", "the ring has %d corners, a ring needs at least 3", last)
	}
	return GeoRing(line[:last:last]), nil
}

func indexed(name string, i int) string { return name + "[" + strconv.Itoa(i) + "]" }

// UnmarshalJSON reads a GeoJSON Polygon or MultiPolygon, or a Feature or collection of
// such. Anything else in it is refused.
func (s *Shape) UnmarshalJSON(raw []byte) error {
	var g Geometry
	if err := g.gather(raw, 0); err != nil {
		return err
	}
	switch {
	case len(g.Lines) > 0:
		return fault.Refuse("type", "a line is no area, give a Polygon or a MultiPolygon")
	case len(g.Points) > 0:
		return fault.Refuse("type", "a point is no area, give a Polygon or a MultiPolygon")
	case len(g.Polygons) == 0:
		return fault.Refuse("", "there is no polygon in the GeoJSON, give a Polygon or a MultiPolygon")
	}
	*s = g.Polygons
	return nil
}

// MarshalJSON writes a GeoJSON Polygon, or a MultiPolygon unless there is just one. The
// outside runs anticlockwise and holes clockwise, as RFC 7946, section 3.1.6, asks.
func (s Shape) MarshalJSON() ([]byte, error) {
	polygons := make([][][][2]float64, len(s))
	for i, polygon := range s {
		for k, ring := range polygon.Rings() {
			polygons[i] = append(polygons[i], ring.positions(k == 0))
		}
	}
	if len(polygons) == 1 {
		return json.Marshal(geoOut{"Polygon", polygons[0]})
	}
	return json.Marshal(geoOut{"MultiPolygon", polygons})
}

type geoOut struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

// positions lists the ring's corners as longitude and latitude, the first again at the
// end, anticlockwise or clockwise.
func (r GeoRing) positions(anticlockwise bool) [][2]float64 {
	turned := slices.Clone(r)
	if flat := r.flat(); flat.signedArea() > 0 != anticlockwise {
		slices.Reverse(turned)
	}
	var out [][2]float64
	for i := range len(turned) + 1 {
		if len(turned) > 0 {
			corner := turned[i%len(turned)]
			out = append(out, [2]float64{corner.Lon, corner.Lat})
		}
	}
	return out
}
