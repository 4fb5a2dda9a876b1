package site

import (
	"fmt"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// strip is the season by weeks, ready to be drawn.
type strip struct {
	Width, Height, Foot float64
	Weeks               []stripWeek
	Bars                []stripBar
	TodayX              float64
}

type stripWeek struct {
	X     float64
	Label string
}

type stripBar struct {
	Name, Says, Class, D string
	TextY, SaysX         float64
}

const (
	stripLeft  = 130.0 // room for the jobs' names
	stripWeekW = 66.0
	stripRow   = 32.0
	stripTop   = 30.0
	stripWeeks = 14
)

// stripOf draws the open jobs' windows from three weeks back. It is nil when there is no
// open job.
func stripOf(s job.Season) *strip {
	begin, x := stripBegin(s.On), weeksOf(s.On)
	k := &strip{Width: stripLeft + stripWeekW*(stripWeeks+1.6), TodayX: x(s.On)}
	for w := range stripWeeks {
		day := begin.Plus(7 * w)
		k.Weeks = append(k.Weeks, stripWeek{x(day), day.Time().Format("2 Jan")})
	}
	for _, c := range s.Jobs {
		if c.Stage.Open() {
			k.Bars = append(k.Bars, barOf(c, x, stripTop+stripRow*(float64(len(k.Bars))+0.5)))
		}
	}
	k.Foot = stripTop + stripRow*float64(len(k.Bars)) + 6
	k.Height = k.Foot + 4
	if len(k.Bars) == 0 {
		return nil
	}
	return k
}

// stripBegin is the first Monday of the strip, three weeks back.
func stripBegin(on unit.Date) unit.Date { return monday(on).Plus(-3 * 7) }

// weeksOf places a day on the strip; what lies beyond its ends stands at them.
func weeksOf(on unit.Date) func(unit.Date) float64 {
	begin := stripBegin(on)
	return func(d unit.Date) float64 {
		weeks := float64(begin.DaysTo(d)) / 7
		return stripLeft + stripWeekW*min(max(weeks, 0), stripWeeks)
	}
}

// barOf is one job's line: its window as a bar, and its stage in words beside it.
func barOf(c job.Chain, x func(unit.Date) float64, y float64) stripBar {
	bar := stripBar{Name: c.Job.Name, TextY: y + 4, Class: barClass(c), Says: string(c.Stage), SaysX: stripLeft + 4}
	if m := c.RowM(); m > 0 {
		bar.Says = fmt.Sprintf("%s, %s row-km", c.Stage, unit.Grouped(m/1000, 1))
	}
	if c.Job.WindowFrom == "" {
		bar.Says += ", no window set"
		return bar
	}
	until := c.Job.WindowTo
	if until == "" {
		until = c.Job.WindowFrom.Plus(7)
	}
	from, to := x(c.Job.WindowFrom), x(until.Plus(1))
	bar.D, bar.SaysX = fmt.Sprintf("M%.1f %.1fH%.1f", from, y, max(to, from+4)), max(to, from+4)+8
	return bar
}

// barClass repeats in line what the words beside it say.
func barClass(c job.Chain) string {
	switch {
	case len(c.Trouble) > 0:
		return "act"
	case c.Stage == job.Agreed || c.Stage == job.Sowing || c.Stage == job.AllSown:
		return "sure"
	case c.Stage == job.Quoted:
		return "likely"
	}
	return "asked"
}

func monday(d unit.Date) unit.Date {
	weekday := int(d.Time().Weekday()+6) % 7
	return d.Plus(-weekday)
}
