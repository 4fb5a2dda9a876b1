package count

import (
	"time"

	"rowtally/internal/ground"
	"rowtally/internal/unit"
)

// Definition is what is counted: it stands beside every figure.
const Definition = "a placement with at least one live seedling of a sown species"

// Kind parts the counts of a season; figures of two kinds are never put together.
type Kind string

const (
	First  Kind = "first"  // 6 to 8 weeks after sowing
	Autumn Kind = "autumn" // the next autumn, what lived through the summer
)

// Kinds lists them in the order of the season.
var Kinds = []Kind{First, Autumn}

// Says names the count: "first count", "autumn count".
func (k Kind) Says() string { return string(k) + " count" }

// Plan is where a job's placements are counted: short stretches drawn at random from the
// rows as sown. The first count and the autumn count go to the same places.
type Plan struct {
	ID            int64
	JobID         int64
	MadeAt        time.Time
	PersonID      int64
	PerStretch    int     // placements in a stretch
	SpacingM      float64 // from placement to placement, as planned
	BearingDeg    float64 // true; the way along the rows from which AlongM counts
	SharePercent  float64 // of placements occupied, as expected
	WithinPercent float64 // points to either side, as wanted
	Rho           float64 // how much neighbours in a stretch fail together, 0..1
	Number        int64   // that the places were drawn with: the same rows give the same places
	Places        []Place // in the order of walking
}

// Place is where a stretch begins; it goes on along the plan's bearing.
type Place struct {
	Row    int     // as numbered on every page
	AlongM float64 // from the row's first planned end, metres on the ground
	At     ground.LatLon
}

// LengthM is the length of a stretch.
func (p Plan) LengthM() float64 { return float64(p.PerStretch) * p.SpacingM }

// DrawnSays tells when and by which number the places were drawn.
func (p Plan) DrawnSays() string {
	return "drawn on " + unit.DateOf(p.MadeAt).String() + " with the number " + unit.Grouped(float64(p.Number), 0)
}

// StretchesSay writes a number of stretches.
func StretchesSay(n int) string {
	if n == 1 {
		return "1 stretch"
	}
	return unit.Grouped(float64(n), 0) + " stretches"
}

// Count is one emergence count. A mistaken one is withdrawn and stays; none is changed.
type Count struct {
	ID         int64
	JobID      int64
	PlanID     int64
	Kind       Kind
	CountedOn  unit.Date
	CountedBy  string
	KeptAt     time.Time
	PersonID   int64
	Stretches  []Stretch // only those that were counted
	Seen       []Seen    // nil where species were not told apart
	Volunteers string    // what came by itself and was left out; "" for nothing seen
	Note       string

	WithdrawnOn  unit.Date // "" while it counts
	WithdrawnWhy string
}

// Stretch is what was counted at one place of the plan.
type Stretch struct {
	Place      int // its number in the plan, from 1
	Placements int // looked at
	Occupied   int // of them, with at least one live seedling of a sown species
}

// Seen is in how many of the placements looked at a sown species was seen alive.
type Seen struct {
	Species    string // botanical name
	Placements int
}

// Standing tells whether the count still counts.
func (c Count) Standing() bool { return c.WithdrawnOn == "" }

// Says tells a place by its row: "row 3, 117 m from its first end".
func (p Place) Says() string {
	return "row " + unit.Grouped(float64(p.Row), 0) + ", " + unit.Grouped(p.AlongM, 0) + " m from its first end"
}
