package ground

import (
	"encoding/json"

	"rowtally/internal/fault"
)

// Geometry is what one GeoJSON object holds: polygons, lines and points, each with its
// corners in the order given.
type Geometry struct {
	Polygons Shape
	Lines    [][]LatLon
	Points   []LatLon

	mend mending
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

// UnmarshalJSON reads any GeoJSON object.
func (g *Geometry) UnmarshalJSON(raw []byte) error {
	*g = Geometry{}
	return g.gather(raw, 0)
}

// gather adds what one GeoJSON object holds.
func (g *Geometry) gather(raw []byte, depth int) error {
	var object geoObject
	if err := json.Unmarshal(raw, &object); err != nil {
		return fault.Refuse("", "this is not a GeoJSON object, give one of type Polygon or MultiPolygon")
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
		return g.gatherAll("feature", object.Features, depth)
	case "GeometryCollection":
		return g.gatherAll("geometry", object.Geometries, depth)
	}
	return g.gatherCoordinates(object.Type, object.Coordinates)
}

func (g *Geometry) gatherAll(what string, members []json.RawMessage, depth int) error {
	for i, member := range members {
		if err := g.gather(member, depth+1); err != nil {
			return inPart(what, i, err)
		}
	}
	return nil
}

// gatherCoordinates adds the geometry that coordinates of a type describe.
func (g *Geometry) gatherCoordinates(kind string, raw json.RawMessage) error {
	switch kind {
	case "Point":
		return gatherOne(&g.Points, raw, g.mend.position)
	case "MultiPoint":
		return gatherEach(&g.Points, raw, g.mend.position)
	case "LineString":
		return gatherOne(&g.Lines, raw, g.mend.line)
	case "MultiLineString":
		return gatherEach(&g.Lines, raw, g.mend.line)
	case "Polygon":
		return gatherOne((*[]GeoPolygon)(&g.Polygons), raw, g.mend.polygon)
	case "MultiPolygon":
		return gatherEach((*[]GeoPolygon)(&g.Polygons), raw, g.mend.polygon)
	case "":
		return fault.Refuse("", "the GeoJSON object has no type, give a Polygon or a MultiPolygon")
	}
	return fault.Refuse("", "%q is not a type of GeoJSON, give a Polygon or a MultiPolygon", kind)
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
			return inPart("part", i, err)
		}
	}
	return nil
}

func (m *mending) position(at []float64) (LatLon, error) {
	if len(at) < 2 {
		return LatLon{}, fault.Refuse("", "a position has %d numbers, give the longitude and then the latitude", len(at))
	}
	return m.place(at[1], at[0])
}

func (m *mending) line(positions [][]float64) ([]LatLon, error) {
	line := make([]LatLon, len(positions))
	for i, position := range positions {
		place, err := m.position(position)
		if err != nil {
			return nil, inPart("corner", i, err)
		}
		line[i] = place
	}
	return line, nil
}

func (m *mending) polygon(rings [][][]float64) (GeoPolygon, error) {
	var polygon GeoPolygon
	for i, positions := range rings {
		line, err := m.line(positions)
		if err != nil {
			return polygon, inPart("ring", i, err)
		}
		if err := polygon.addRing(m.ring(line)); err != nil {
			return polygon, inPart("ring", i, err)
		}
	}
	if len(polygon.Outer) == 0 {
		return polygon, fault.Refuse("", "the polygon has no outside, give a ring of at least 3 corners")
	}
	return polygon, nil
}

// UnmarshalJSON reads a GeoJSON Polygon or MultiPolygon, or a Feature or collection of
// such. Anything else in it is refused.
func (s *Shape) UnmarshalJSON(raw []byte) error {
	var g Geometry
	if err := g.gather(raw, 0); err != nil {
		return err
	}
	switch {
	case len(g.Lines) > 0:
		return fault.Refuse("", "a line is no area, give a Polygon or a MultiPolygon")
	case len(g.Points) > 0:
		return fault.Refuse("", "a point is no area, give a Polygon or a MultiPolygon")
	case len(g.Polygons) == 0:
		return fault.Refuse("", "there is no polygon in the GeoJSON, give a Polygon or a MultiPolygon")
	}
	*s = g.Polygons
	return nil
}
