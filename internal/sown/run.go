package sown

import (
	"math"
	"slices"

	"rowtally/internal/rows"
)

// What counts as a dropout of reception: our choice, not published.
const (
	dropoutS     = 5.0  // seconds without a fix…
	dropoutTimes = 5.0  // …and this many times the usual time between fixes…
	dropoutM     = 10.0 // …while the machine moved this far
)

// run is a piece of track without a dropout in it.
type run struct {
	points   []point
	afterGap bool // a dropout parts it from the run before it
}

// runsOf brings a log into the plan and parts it at dropouts and where tracks begin.
func runsOf(log Log, plan rows.Plan) []run {
	points := make([]point, len(log.Fixes))
	origin := slices.IndexFunc(log.Fixes, Fix.Timed)
	for i, fix := range log.Fixes {
		along, across := plan.Along(plan.Frame.ToPlane(fix.At))
		points[i] = point{along, across, math.NaN(), fix.SpeedMS, fix.Sowing}
		if fix.Timed() {
			points[i].atS = fix.Time.Sub(log.Fixes[origin].Time).Seconds()
		}
	}
	carryFlags(points)
	limitS := max(dropoutS, dropoutTimes*usualStepS(points))
	var runs []run
	start, gap := 0, false
	for i := 1; i <= len(points); i++ {
		parted, lost := i == len(points), false
		if !parted {
			parted = log.Fixes[i].Link == Apart
			lost = points[i-1].to(points[i]) >= dropoutM &&
				(log.Fixes[i].Link == Lost || points[i].atS-points[i-1].atS > limitS)
		}
		if parted || lost {
			runs = append(runs, run{points[start:i], gap})
			start, gap = i, lost && !parted
		}
	}
	return runs
}

// carryFlags lets a fix that does not tell the implement's state keep the one before it:
// some loggers write changes alone.
func carryFlags(points []point) {
	for i := 1; i < len(points); i++ {
		if points[i].flag == Untold {
			points[i].flag = points[i-1].flag
		}
	}
}

// usualStepS is the median time between fixes, in seconds, from up to a thousand of them
// over the whole log; 0 without times.
func usualStepS(points []point) float64 {
	var steps []float64
	every := len(points)/1000 + 1
	for i := 1; i < len(points); i += every {
		if step := points[i].atS - points[i-1].atS; step > 0 {
			steps = append(steps, step)
		}
	}
	return median(steps)
}

// median is the middle value, 0 for none. It sorts the values in place.
func median(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	slices.Sort(values)
	return values[len(values)/2]
}
