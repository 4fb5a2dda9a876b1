package ground

import "encoding/json"

// Each lists the parts of a geometry one by one: areas, then lines, then points.
func (g Geometry) Each() (parts []Geometry) {
	for _, polygon := range g.Polygons {
		parts = append(parts, Geometry{Polygons: Shape{polygon}})
	}
	for _, line := range g.Lines {
		parts = append(parts, Geometry{Lines: [][]LatLon{line}})
	}
	for _, point := range g.Points {
		parts = append(parts, Geometry{Points: []LatLon{point}})
	}
	return parts
}

// First is the first corner of the first part; the zero place of an empty geometry.
func (g Geometry) First() LatLon {
	switch {
	case len(g.Polygons) > 0:
		return g.Polygons[0].Outer[0]
	case len(g.Lines) > 0:
		return g.Lines[0][0]
	case len(g.Points) > 0:
		return g.Points[0]
	}
	return LatLon{}
}

// MarshalJSON writes a shape where the geometry is areas alone, and a GeoJSON
// GeometryCollection otherwise.
func (g Geometry) MarshalJSON() ([]byte, error) {
	if len(g.Lines)+len(g.Points) == 0 {
		return json.Marshal(g.Polygons)
	}
	all := []any{}
	for _, part := range g.Each() {
		switch {
		case len(part.Polygons) > 0:
			all = append(all, part.Polygons)
		case len(part.Lines) > 0:
			all = append(all, geoOut{"LineString", positionsOf(part.Lines[0])})
		default:
			all = append(all, geoOut{"Point", positionsOf(part.Points)[0]})
		}
	}
	return json.Marshal(struct {
		Type       string `json:"type"`
		Geometries []any  `json:"geometries"`
	}{"GeometryCollection", all})
}

func positionsOf(line []LatLon) [][2]float64 {
	out := make([][2]float64, len(line))
	for i, place := range line {
		out[i] = [2]float64{place.Lon, place.Lat}
	}
	return out
}
