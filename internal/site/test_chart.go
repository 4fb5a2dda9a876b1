package site

import (
	"fmt"
	"math"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// testChart is a lot's germination tests over time, ready to be drawn: each a dot with its
// 95 % interval, the line between them, today and the day of the retest.
type testChart struct {
	Says                     string
	Width, Height            float64
	Left, Right, Top, Bottom float64
	TopPercent               int
	Marks                    []testMark
	Path                     string
	TodayX, DueX             float64
	TodayText, DueText       float64 // where their words begin
	TodaySide, DueSide       string  // text-anchor: the words keep inside the picture
}

type testMark struct {
	X, Y, LowY, HighY float64
	Label             string // the day, under the axis; "" where another stands too near
}

const (
	chartWidth, chartHeight = 460.0, 200.0
	chartLeft, chartRight   = 44.0, 448.0
	chartTop, chartBottom   = 32.0, 168.0
	chartPadDays            = 30   // before the first day and after the last
	labelRoom               = 84.0 // that a day's words need
)

// chartTests draws the tests of a lot, newest first as its page lists them. It is nil when
// none can be read.
func chartTests(figures job.LotFigures, tests []testLine) *testChart {
	var shown []testLine // oldest first
	for i := len(tests) - 1; i >= 0; i-- {
		if tests[i].Readable {
			shown = append(shown, tests[i])
		}
	}
	if len(shown) == 0 || !figures.Tested {
		return nil
	}
	c := &testChart{Width: chartWidth, Height: chartHeight, Left: chartLeft, Right: chartRight, Top: chartTop, Bottom: chartBottom}
	from := shown[0].TestedOn.Plus(-chartPadDays)
	days := float64(from.DaysTo(max(figures.Day, figures.DueOn).Plus(chartPadDays)))
	x := func(d unit.Date) float64 {
		return round1(chartLeft + (chartRight-chartLeft)*float64(from.DaysTo(d))/days)
	}
	c.TopPercent = topPercent(shown)
	c.mark(shown, x)
	c.TodayX, c.DueX = x(figures.Day), x(figures.DueOn)
	c.TodayText, c.TodaySide = beside(c.TodayX)
	c.DueText, c.DueSide = beside(c.DueX)
	c.Says = fmt.Sprintf("Germination of %s over %d tests, the last %d %% on %s", figures.Lot.Code, len(shown), figures.Germination.GerminationPercent, figures.Test.TestedOn)
	return c
}

// topPercent is the upper end of the scale: the next ten above the highest limit.
func topPercent(shown []testLine) int {
	top := 0.0
	for _, t := range shown {
		top = max(top, t.Interval.HighPercent)
	}
	return min(100, 10*int(math.Ceil(top/10)))
}

func (c *testChart) mark(shown []testLine, x func(unit.Date) float64) {
	y := func(percent float64) float64 {
		return round1(chartBottom - (chartBottom-chartTop)*percent/float64(max(c.TopPercent, 10)))
	}
	var path []string
	lastLabel := -labelRoom
	for _, t := range shown {
		m := testMark{X: x(t.TestedOn), Y: y(t.GerminationExactPercent), LowY: y(t.Interval.LowPercent), HighY: y(t.Interval.HighPercent)}
		if m.X-lastLabel >= labelRoom {
			m.Label, lastLabel = t.TestedOn.String(), m.X
		}
		c.Marks = append(c.Marks, m)
		path = append(path, fmt.Sprintf("%g %g", m.X, m.Y))
	}
	c.Path = "M" + strings.Join(path, "L")
}

// beside places words right of a mark, or left of it where they would leave the picture.
func beside(x float64) (at float64, anchor string) {
	const gap, wordsRoom = 6, 90
	if x+wordsRoom > chartWidth {
		return x - gap, "end"
	}
	return x + gap, "start"
}

func round1(v float64) float64 { return math.Round(v*10) / 10 }
