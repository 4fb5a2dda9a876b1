// Package job is one job from boundary to count. It brings the trade's packages together,
// works out every figure of the chain with its working, and reads the job's stage off
// what has happened. It refuses to know how things are stored, drawn or printed.
package job

import "rowtally/internal/unit"

// Farm is whom the work is done for.
type Farm struct {
	ID      int64
	Name    string
	Contact string
	ABN     string // digits; "" when none is known
	Address string
	Phone   string
	Email   string
	Note    string
}

// Paddock is one piece of a farm with its boundary and no-go areas.
type Paddock struct {
	ID       int64
	FarmID   int64
	Name     string
	Boundary string // GeoJSON Polygon or MultiPolygon, WGS84
	NoGo     string // as Boundary; "" when there is none
	Source   string // file it was read from, and what was read
	ReadOn   unit.Date

	Heights       string // measured heights as JSON, [[lat, lon, height in m], …]; "" when there are none
	HeightsSource string // file they were read from, and what was read
}
