package sown

import (
	"fmt"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/rows"
)

const (
	elsewhereM = 100.0    // a log that comes no nearer to the rows is of another paddock
	planeM     = 50_000.0 // beyond this the plan's plane is of no use
)

// bounds is the box round the rows of a plan, along and across them.
type bounds struct {
	along, across Extent
}

func boundsOf(plan rows.Plan) bounds {
	first, last := plan.Rows[0], plan.Rows[len(plan.Rows)-1]
	b := bounds{Extent{math.Inf(1), math.Inf(-1)}, Extent{first.OffsetM, last.OffsetM}}
	for _, row := range plan.Rows {
		for _, span := range row.Spans {
			b.along.FromM, b.along.ToM = min(b.along.FromM, span.FromM), max(b.along.ToM, span.ToM)
		}
	}
	return b
}

// awayM is how far outside the box a point lies, in metres.
func (b bounds) awayM(p point) float64 {
	outside := func(e Extent, at float64) float64 { return max(e.FromM-at, at-e.ToM, 0) }
	return math.Hypot(outside(b.along, p.along), outside(b.across, p.across))
}

// reachM is the greatest distance of the box from the plan's centre.
func (b bounds) reachM(plan rows.Plan) float64 {
	reach := 0.0
	for _, along := range []float64{b.along.FromM, b.along.ToM} {
		for _, across := range []float64{b.across.FromM, b.across.ToM} {
			reach = max(reach, plan.Place(along, across).To(ground.Point{}))
		}
	}
	return reach
}

// checkNear refuses a log that comes nowhere near the rows.
func checkNear(log Log, plan rows.Plan, b bounds) error {
	nearest, centre, reach := math.Inf(1), plan.Frame.Centre(), b.reachM(plan)
	for _, fix := range log.Fixes {
		away := roughM(centre, fix.At) - reach
		if away < planeM {
			along, across := plan.Along(plan.Frame.ToPlane(fix.At))
			away = b.awayM(point{along: along, across: across})
		}
		if nearest = min(nearest, away); nearest <= elsewhereM {
			return nil
		}
	}
	first := log.Fixes[0].At
	if swapped := (ground.LatLon{Lat: first.Lon, Lon: first.Lat}); swapped.Check() == nil && roughM(centre, swapped)-reach < planeM {
		return fault.Refuse("log", "latitude and longitude of the log look swapped, swap the two columns")
	}
	return fault.Refuse("log", "the log lies %s from the paddock's rows, choose the log of this paddock", distance(nearest))
}

func distance(m float64) string {
	if m < 1000 {
		return fmt.Sprintf("%.0f m", m)
	}
	return fmt.Sprintf("%.1f km", m/1000)
}
