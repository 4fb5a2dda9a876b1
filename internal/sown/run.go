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
	patch := plan.Frame.Patch()
	for i := range log.Fixes {
		fix := &log.Fixes[i]
		along, across := plan.Along(patch.ToPlane(fix.At))
		points[i] = point{along, across, math.NaN(), float32(fix.SpeedMS), fix.Sowing}
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
			parted = log.Fixes[i].Link == Apart || doublesBack(points, i)
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

// What shows that a step of a track without times was not driven: our choice.
const (
	leapM     = 50.0 // a leap is at least this long…
	leapTimes = 5.0  // …and this many times the way that shows the heading on either side
	leapCos   = -0.9 // the cosine of the turn at both its ends
	leapLook  = 50   // how many points are looked at on either side
)

// doublesBack tells whether the step to point i of a track without times is a leap: far
// longer than the steps beside it, and straight back at both ends, as where rows driven
// one way were strung together. Where there are times, speed has told already.
func doublesBack(points []point, i int) bool {
	from, to := points[i-1], points[i]
	leap := from.to(to)
	if leap < leapM || !math.IsNaN(from.atS) || i < 2 || i+1 >= len(points) {
		return false
	}
	before, after := i-2, i+1
	for before > max(0, i-leapLook) && points[before].to(from) < headingBaseM {
		before--
	}
	for after < min(len(points)-1, i+leapLook) && to.to(points[after]) < headingBaseM {
		after++
	}
	return leap > leapTimes*max(points[before].to(from), to.to(points[after])) &&
		cosBetween(points[before], from, from, to) < leapCos && cosBetween(from, to, to, points[after]) < leapCos
}

// cosBetween is the cosine of the angle between the ways a→b and c→d.
func cosBetween(a, b, c, d point) float64 {
	return ((b.along-a.along)*(d.along-c.along) + (b.across-a.across)*(d.across-c.across)) / (a.to(b) * c.to(d))
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

// median is the middle value, 0 for none. It orders the values in place, as far as need be.
func median(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	return nth(values, len(values)/2)
}

// fewToSort is a number of values that are as soon sorted as parted.
const fewToSort = 64

// nth is the value at a place of the values sorted. It parts them about the middle of
// three, again and again; should that not get on, it sorts the rest.
func nth(values []float64, place int) float64 {
	for tries := 0; tries < fewToSort && len(values) > fewToSort; tries++ {
		a, b, c := values[0], values[len(values)/2], values[len(values)-1]
		pivot := max(min(a, b), min(max(a, b), c))
		low, high := 0, len(values)-1
		for low <= high {
			for values[low] < pivot {
				low++
			}
			for values[high] > pivot {
				high--
			}
			if low <= high {
				values[low], values[high] = values[high], values[low]
				low, high = low+1, high-1
			}
		}
		switch {
		case place <= high:
			values = values[:high+1]
		case place >= low:
			values, place = values[low:], place-low
		default:
			return pivot
		}
	}
	slices.Sort(values)
	return values[place]
}
