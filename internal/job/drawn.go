package job

import (
	"encoding/json"
	"fmt"
	"slices"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/unit"
)

// Drawn is what somebody draws on a map of a paddock: rings, each with what it is. As text
// it is a GeoJSON FeatureCollection (RFC 7946) whose features are polygons of one ring with
// the property "kind".
type Drawn struct {
	Outsides, Holes, NoGo []ground.GeoRing
}

// The kinds of ring, as the property says them.
const (
	drawnOutside = "outside"
	drawnHole    = "hole"
	drawnNoGo    = "no-go"
)

type drawnFeature struct {
	Type       string            `json:"type"`
	Properties map[string]string `json:"properties"`
	Geometry   ground.Shape      `json:"geometry"`
}

type drawnCollection struct {
	Type     string         `json:"type"`
	Features []drawnFeature `json:"features"`
}

// MarshalJSON writes what is drawn.
func (d Drawn) MarshalJSON() ([]byte, error) {
	all := drawnCollection{Type: "FeatureCollection", Features: []drawnFeature{}}
	for _, part := range []struct {
		kind  string
		rings []ground.GeoRing
	}{{drawnOutside, d.Outsides}, {drawnHole, d.Holes}, {drawnNoGo, d.NoGo}} {
		for _, ring := range part.rings {
			all.Features = append(all.Features, drawnFeature{"Feature", map[string]string{"kind": part.kind}, ground.Shape{{Outer: ring}}})
		}
	}
	return json.Marshal(all)
}

// ReadDrawn reads what is drawn. It refuses a feature that is no polygon of one ring, or
// that does not say what it is.
func ReadDrawn(text string) (d Drawn, err error) {
	var all drawnCollection
	if err := json.Unmarshal([]byte(text), &all); fault.KindOf(err) == fault.Refused {
		return d, drawnFault("", err)
	} else if err != nil {
		return d, fault.Refuse("drawn", "what is drawn did not arrive whole, open the map again")
	}
	for i, f := range all.Features {
		if len(f.Geometry) != 1 || len(f.Geometry[0].Holes) > 0 {
			return d, fault.Refuse("drawn", "area %d is not one ring, draw it again", i+1)
		}
		ring := f.Geometry[0].Outer
		switch f.Properties["kind"] {
		case drawnOutside:
			d.Outsides = append(d.Outsides, ring)
		case drawnHole:
			d.Holes = append(d.Holes, ring)
		case drawnNoGo:
			d.NoGo = append(d.NoGo, ring)
		default:
			return d, fault.Refuse("drawn", "area %d is %q, and may be outside, hole or no-go", i+1, f.Properties["kind"])
		}
	}
	return d, nil
}

// DrawnOf is a paddock as the map begins with it.
func DrawnOf(p Paddock) (d Drawn, err error) {
	if p.Boundary == "" {
		return d, nil
	}
	survey, err := Survey(p)
	if err != nil {
		return d, err
	}
	for _, part := range survey.Shape {
		d.Outsides = append(d.Outsides, part.Outer)
		d.Holes = append(d.Holes, part.Holes...)
	}
	for _, part := range survey.NoGo.Polygons {
		d.NoGo = append(d.NoGo, part.Outer)
	}
	return d, nil
}

// shape puts the holes into their outsides, and checks all as a file's.
func (d Drawn) shape() (ground.Shape, error) {
	if len(d.Outsides) == 0 {
		return nil, fault.Refuse("drawn", "there is no outside yet: draw the paddock's first")
	}
	shape, err := ground.ShapeOfRings(slices.Concat(d.Outsides, d.Holes))
	if err != nil {
		return nil, drawnFault("", err)
	}
	for i, hole := range d.Holes {
		if slices.ContainsFunc(shape, func(p ground.GeoPolygon) bool { return slices.Equal(p.Outer, hole) }) {
			return nil, fault.Refuse("drawn", "hole %d does not lie within an outside: move it in, or draw it as a no-go area", i+1)
		}
	}
	if len(shape) != len(d.Outsides) {
		return nil, fault.Refuse("drawn", "one outside lies within another: draw the inner one as a hole")
	}
	if err := shape.Check(); err != nil {
		return nil, drawnFault("", err)
	}
	return shape, nil
}

// noGo is the no-go areas as a shape of their own.
func (d Drawn) noGo() (shape ground.Shape, err error) {
	for i, ring := range d.NoGo {
		one := ground.Shape{{Outer: ring}}
		if err := one.Check(); err != nil {
			return nil, drawnFault(fmt.Sprintf("no-go area %d: ", i+1), err)
		}
		shape = append(shape, one...)
	}
	return shape, nil
}

func drawnFault(where string, err error) error { return fault.Refuse("drawn", "%s%v", where, err) }

// DrawnExtent is how much ground is drawn.
type DrawnExtent struct {
	GrossM2    float64 // outsides less holes, on the ellipsoid
	PerimeterM float64 // round outsides and holes
	NoGoM2     float64 // of all no-go areas, each whole
	Corners    int     // of outsides and holes
}

// Extent measures what is drawn. It refuses what cannot be a paddock, saying what to move.
func (d Drawn) Extent() (e DrawnExtent, err error) {
	shape, err := d.shape()
	if err != nil {
		return e, err
	}
	noGo, err := d.noGo()
	if err != nil {
		return e, err
	}
	extent := ground.WGS84.Extent(shape)
	e = DrawnExtent{GrossM2: extent.AreaM2, PerimeterM: extent.PerimeterM, Corners: shape.Corners()}
	for _, one := range noGo {
		e.NoGoM2 += ground.WGS84.Extent(ground.Shape{one}).AreaM2
	}
	return e, nil
}

// ReadInto gives a paddock the boundary and the no-go areas that are drawn, each where it is
// drawn otherwise than the paddock has it: what nobody moved stays as it was read.
func (d Drawn) ReadInto(p *Paddock, on unit.Date) error {
	before, err := DrawnOf(*p)
	if err != nil {
		return err
	}
	shape, err := d.shape()
	if err != nil {
		return err
	}
	noGo, err := d.noGo()
	if err != nil {
		return err
	}
	if !sameRings(before.NoGo, d.NoGo) {
		if err := p.drawnNoGo(noGo); err != nil {
			return err
		}
	}
	if sameRings(before.Outsides, d.Outsides) && sameRings(before.Holes, d.Holes) {
		return nil
	}
	text, err := json.Marshal(shape)
	if err != nil {
		return err
	}
	read, err := ground.ReadBoundary("drawn.geojson", text)
	if err != nil {
		return drawnFault("", err)
	}
	return p.bounded("drawn on the map", read, on)
}

// drawnNoGo gives the paddock the no-go areas that are drawn. Its lines and points are not
// drawn, and stay.
func (p *Paddock) drawnNoGo(shape ground.Shape) error {
	kept, err := noGoOf(*p)
	if err != nil {
		return err
	}
	kept.Polygons, p.NoGo = shape, ""
	if len(kept.Each()) == 0 {
		return nil
	}
	text, err := json.Marshal(kept)
	p.NoGo = string(text)
	return err
}

func sameRings(a, b []ground.GeoRing) bool {
	return slices.EqualFunc(a, b, func(p, q ground.GeoRing) bool { return slices.Equal(p, q) })
}

// HaGross is the gross area in hectares.
func (e DrawnExtent) HaGross() float64 { return e.GrossM2 / 1e4 }

// HaNoGo is the no-go areas in hectares.
func (e DrawnExtent) HaNoGo() float64 { return e.NoGoM2 / 1e4 }
