package ground

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/working"
)

// LineInput asks for the shortest line between two places.
type LineInput struct {
	From      LatLon `json:"from"`
	To        LatLon `json:"to"`
	Ellipsoid string `json:"ellipsoid,omitempty"` // WGS84 or GRS80; WGS84 when empty
}

// MeasuredLine is a Line with the ellipsoid that it was measured on.
type MeasuredLine struct {
	DistanceM      float64 `json:"distance_m"`
	AzimuthDeg     float64 `json:"azimuth_deg"`
	BackAzimuthDeg float64 `json:"back_azimuth_deg"`
	in             LineInput
}

// MeasureLine measures the shortest line between two places.
func MeasureLine(in LineInput) (MeasuredLine, error) {
	if in.Ellipsoid == "" {
		in.Ellipsoid = WGS84.Name
	}
	on := map[string]Ellipsoid{WGS84.Name: WGS84, GRS80.Name: GRS80}
	ellipsoid, known := on[in.Ellipsoid]
	if !known {
		return MeasuredLine{}, fault.Refuse("ellipsoid", "the ellipsoid %q is not known, enter WGS84 or GRS80", in.Ellipsoid)
	}
	if err := in.From.Check(); err != nil {
		return MeasuredLine{}, fault.Under("from", err)
	}
	if err := in.To.Check(); err != nil {
		return MeasuredLine{}, fault.Under("to", err)
	}
	line := ellipsoid.Between(in.From, in.To)
	return MeasuredLine{line.DistanceM, line.AzimuthDeg, line.BackAzimuthDeg, in}, nil
}

// karney is the source that workings name.
const karney = "Karney, Algorithms for geodesics, J. Geodesy 87 (2013)"

// Working shows the line's figures with their source.
func (l MeasuredLine) Working() working.Steps {
	how := fmt.Sprintf("shortest line from %v to %v on %s", l.in.From, l.in.To, l.in.Ellipsoid)
	return working.Steps{}.
		Add("distance", how, working.Number(l.DistanceM, 3), "m", karney).
		Add("azimuth", "direction of the line at the first place", working.Number(l.AzimuthDeg, 6), "°", karney).
		Add("back azimuth", "direction of the line at the second place, back to the first", working.Number(l.BackAzimuthDeg, 6), "°", karney)
}

// AreaInput asks for the size of a boundary.
type AreaInput struct {
	Boundary Shape `json:"boundary"`
}

// MeasuredArea is the size of a boundary, with what it was measured of.
type MeasuredArea struct {
	Extent
	of Shape
}

// MeasureArea measures a boundary whose edges are geodesics on WGS84.
func MeasureArea(in AreaInput) (MeasuredArea, error) {
	if err := in.Boundary.Check(); err != nil {
		return MeasuredArea{}, fault.Under("boundary", err)
	}
	return MeasuredArea{WGS84.Extent(in.Boundary), in.Boundary}, nil
}

// Working shows the area ring by ring.
func (m MeasuredArea) Working() working.Steps {
	var steps working.Steps
	fig := figure{many: len(m.of) > 1}
	for i, polygon := range m.of {
		for k, ring := range polygon.Rings() {
			alone := WGS84.Extent(Shape{{Outer: ring}})
			steps = steps.Add(fig.name(i, k), fmt.Sprintf("%d corners on WGS84", len(ring)), working.Number(alone.AreaM2, 1), "m²", karney)
		}
	}
	return steps.
		Add("area", "outsides less holes", working.Number(m.AreaM2, 1), "m²", "").
		Add("perimeter", "of outsides and holes", working.Number(m.PerimeterM, 2), "m", karney)
}
