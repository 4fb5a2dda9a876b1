package rows

import (
	"bytes"
	"encoding/json"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// NoGo is ground that is not sown, and kept clear of by the margin: areas, lines such as
// drains and pipes, and points such as a trough; or, beside a boundary in metres, an area
// in the same metres.
type NoGo struct {
	Geometry *ground.Geometry
	PolygonM *ground.Polygon
	MarginM  *float64 // 0..10 000, from this one alone; Input.NoGoMarginM when nil
}

// UnmarshalJSON reads any GeoJSON object with a member "margin_m" or without, a list of
// rings in metres, or {"rings": …, "margin_m": …} with such a list.
func (n *NoGo) UnmarshalJSON(raw []byte) error {
	*n = NoGo{}
	if bytes.HasPrefix(bytes.TrimSpace(raw), []byte("[")) {
		n.PolygonM = new(ground.Polygon)
		return n.PolygonM.UnmarshalJSON(raw)
	}
	var own struct {
		Rings   json.RawMessage `json:"rings"`
		MarginM *float64        `json:"margin_m"`
	}
	if err := json.Unmarshal(raw, &own); err != nil {
		return fault.Refuse("", "give a GeoJSON object, or rings in metres; margin_m beside it is a number of metres")
	}
	n.MarginM = own.MarginM
	if own.Rings != nil {
		n.PolygonM = new(ground.Polygon)
		return n.PolygonM.UnmarshalJSON(own.Rings)
	}
	n.Geometry = new(ground.Geometry)
	return n.Geometry.UnmarshalJSON(raw)
}

// obstacle is a no-go in the plane: rings that hold ground, lines and points.
type obstacle struct {
	polygons []ground.Polygon
	lines    [][]ground.Point // a point is a line of one corner
	marginM  float64
}

// inMetres takes a no-go beside a boundary in metres.
func (n NoGo) inMetres() (obstacle, error) {
	if n.PolygonM == nil {
		return obstacle{}, fault.Refuse("", "the boundary is in metres, give the no-go area as rings of [east, north] in metres too")
	}
	return obstacle{polygons: []ground.Polygon{*n.PolygonM}}, n.PolygonM.Check()
}

// in projects a no-go into the paddock's frame.
func (n NoGo) in(frame ground.Frame) (obstacle, error) {
	if n.Geometry == nil {
		return obstacle{}, fault.Refuse("", "the boundary is in latitude and longitude, give the no-go area as GeoJSON too")
	}
	if err := checkNear(*n.Geometry, frame.Centre()); err != nil {
		return obstacle{}, err
	}
	var o obstacle
	for _, polygon := range n.Geometry.Polygons {
		alone := ground.Shape{polygon}
		if err := alone.Check(); err != nil {
			return obstacle{}, err
		}
		o.polygons = append(o.polygons, project(frame, alone.Dense())...)
	}
	for _, line := range n.Geometry.Lines {
		o.lines = append(o.lines, frame.Line(ground.DenseLine(line)))
	}
	for _, point := range n.Geometry.Points {
		o.lines = append(o.lines, []ground.Point{frame.ToPlane(point)})
	}
	return o, nil
}

// checkNear refuses a no-go so far off that it must be a mistake.
func checkNear(g ground.Geometry, centre ground.LatLon) error {
	places := append([]ground.LatLon{}, g.Points...)
	for _, line := range g.Lines {
		places = append(places, line...)
	}
	for _, polygon := range g.Polygons {
		places = append(places, polygon.Outer...)
	}
	if len(places) == 0 {
		return fault.Refuse("", "the no-go area holds no point, line or area, give its corners or leave it out")
	}
	for _, place := range places {
		if err := place.Check(); err != nil {
			return err
		}
		if off := ground.WGS84.Between(centre, place).DistanceM; off > WidestM {
			return fault.Refuse("", "the no-go area lies %.0f km from the paddock, check its latitude and longitude", off/1000)
		}
	}
	return nil
}

// project brings a shape into a frame's plane.
func project(frame ground.Frame, shape ground.Shape) []ground.Polygon {
	out := make([]ground.Polygon, len(shape))
	for i, polygon := range shape {
		out[i].Outer = frame.Line(polygon.Outer)
		for _, hole := range polygon.Holes {
			out[i].Holes = append(out[i].Holes, frame.Line(hole))
		}
	}
	return out
}
