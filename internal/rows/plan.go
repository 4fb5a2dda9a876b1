// Package rows lays rows in a paddock: belts and alleys along a bearing, inside the
// headlands and clear of what must not be sown. It refuses to know seed, machines and
// money, and how a boundary was read.
package rows

import (
	"math"

	"rowtally/internal/ground"
)

// Plan is the rows of one paddock along one bearing.
type Plan struct {
	Totals
	Listed []ListedRow `json:"rows,omitzero"` // the rows, where the input asks for them

	Frame      *ground.Frame `json:"-"` // nil for a plan given in metres
	BearingDeg float64       `json:"-"` // true at the frame's centre, 0..360; a grid bearing when Frame is nil
	LeftM      float64       `json:"-"` // how far right of the plane's origin the boundary's left-most point lies
	Rows       []Row         `json:"-"` // left to right; only rows with at least one span
	Headland   []HeadlandRow `json:"-"` // round the headland, outermost first
	in         Input
}

// Row is one row with all its spans.
type Row struct {
	Number  int     // 1, 2, 3… in the order of driving, over the rows that have a span: from the left, unless driving begins at the right
	Index   int     // 0, 1, 2… from left to right, over every row line of the layout
	Belt    int     // 1, 2, 3… in the order of driving, over the belts that have a row
	OffsetM float64 // right of the line along the bearing through the left-most point
	Spans   []Span  // in the direction of the bearing
}

// DrivenBack tells whether the row is driven against the bearing: belts are driven there
// and back in turn, the first one along the bearing.
func (r Row) DrivenBack() bool { return r.Belt%2 == 0 }

// Span is an unbroken stretch of a row.
type Span struct {
	FromM, ToM float64 // along the bearing from the plane's origin, in the plane
	LengthM    float64 // on the ground
}

// Along gives a point's place along and across the rows, in metres of the plane.
func (p Plan) Along(at ground.Point) (alongM, offsetM float64) {
	sin, cos := math.Sincos(p.BearingDeg * math.Pi / 180)
	return at.E*sin + at.N*cos, at.E*cos - at.N*sin - p.LeftM
}

// Place is the point at a place along and across the rows.
func (p Plan) Place(alongM, offsetM float64) ground.Point {
	sin, cos := math.Sincos(p.BearingDeg * math.Pi / 180)
	right := offsetM + p.LeftM
	return ground.Point{E: alongM*sin + right*cos, N: alongM*cos - right*sin}
}

// Ends gives the two ends of a span of a row as points of the plane.
func (p Plan) Ends(row Row, span Span) (from, to ground.Point) {
	return p.Place(span.FromM, row.OffsetM), p.Place(span.ToM, row.OffsetM)
}
