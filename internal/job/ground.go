package job

import (
	"encoding/json"
	"fmt"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// LargestFile is the most that a boundary or no-go file may hold, in bytes.
const LargestFile = ground.MostBytes

// ReadBoundary reads a boundary file into a paddock, with what was read. Whatever is
// wrong with it is refused with the sentence that mends it, and the paddock stays.
func ReadBoundary(p *Paddock, name string, content []byte, on unit.Date) error {
	return MendBoundary(p, name, content, ground.Repairs{}, on)
}

// MendBoundary reads a boundary file into a paddock with the repairs that were asked for.
func MendBoundary(p *Paddock, name string, content []byte, mend ground.Repairs, on unit.Date) error {
	read, err := mend.ReadBoundary(name, content)
	if err != nil {
		return err
	}
	return p.bounded(name, read, on)
}

// ReadRound reads a boundary from a start and its sides, each by bearing and distance.
func ReadRound(p *Paddock, start ground.LatLon, sides string, mend ground.Repairs, on unit.Date) error {
	read, err := mend.ReadRound(start, sides)
	if err != nil {
		return err
	}
	return p.bounded("bearings and distances", read, on)
}

// bounded gives the paddock a boundary that was read.
func (p *Paddock) bounded(source string, read ground.Boundary, on unit.Date) error {
	text, err := json.Marshal(read.Shape)
	if err != nil {
		return err
	}
	p.Boundary, p.ReadOn = string(text), on
	p.Source = source + ": " + strings.Join(read.Notes, "; ")
	return nil
}

// ReadNoGo reads a file of no-go areas, lines and points into a paddock.
func ReadNoGo(p *Paddock, name string, content []byte) error {
	return MendNoGo(p, name, content, ground.Repairs{}, ground.ListsAreAreas)
}

// MendNoGo reads a no-go file with the repairs that were asked for; lists says what lists of
// places are in it.
func MendNoGo(p *Paddock, name string, content []byte, mend ground.Repairs, lists ground.Lists) error {
	read, err := mend.ReadNoGo(name, content, lists)
	if err != nil {
		return err
	}
	text, err := json.Marshal(read)
	if err != nil {
		return err
	}
	p.NoGo = string(text)
	return nil
}

// Ground is what a paddock's boundary says.
type Ground struct {
	Shape      ground.Shape
	NoGo       ground.Geometry // areas, lines and points, numbered in that order
	GrossM2    float64         // outside less holes, on the ellipsoid
	PerimeterM float64
	Corners    int
	Holes      int
	Fall       *ground.Fall // nil while no heights are read
}

// Survey measures a paddock. A paddock without a boundary is refused.
func Survey(p Paddock) (Ground, error) {
	if p.Boundary == "" {
		return Ground{}, fault.Refuse("boundary", "%s has no boundary yet, read one in from a file, or type its corners", p.Name)
	}
	g := Ground{}
	if err := json.Unmarshal([]byte(p.Boundary), &g.Shape); err != nil {
		return g, fmt.Errorf("survey %s: %w", p.Name, err)
	}
	var err error
	if g.NoGo, err = noGoOf(p); err != nil {
		return g, err
	}
	extent := ground.WGS84.Extent(g.Shape)
	g.GrossM2, g.PerimeterM = extent.AreaM2, extent.PerimeterM
	for _, part := range g.Shape {
		g.Corners += len(part.Outer)
		g.Holes += len(part.Holes)
	}
	g.Fall, err = fallOf(p)
	return g, err
}

// noGoOf is what a paddock keeps of no-go areas, lines and points.
func noGoOf(p Paddock) (g ground.Geometry, err error) {
	if p.NoGo == "" {
		return g, nil
	}
	if err := json.Unmarshal([]byte(p.NoGo), &g); err != nil {
		return g, fmt.Errorf("no-go of %s: %w", p.Name, err)
	}
	return g, nil
}

// GrossM2 is a paddock's area in square metres, 0 while no boundary is read.
func GrossM2(p Paddock) float64 {
	g, err := Survey(p)
	if err != nil {
		return 0
	}
	return g.GrossM2
}

// Working shows how the hectares were measured.
func (g Ground) Working() working.Steps {
	return working.Steps{}.
		Add("area", "geodesic polygon on the WGS 84 ellipsoid, holes taken off", working.Number(g.GrossM2, 0), "m²", "C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87, 2013").
		Add("gross hectares", "area ÷ 10 000", working.Number(g.GrossM2/1e4, 2), "ha", "").
		Add("perimeter", "sum of geodesics, holes added", working.Number(g.PerimeterM, 0), "m", "")
}
