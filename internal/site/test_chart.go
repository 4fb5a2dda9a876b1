package site

import (
	"fmt"
	"math"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// testChart is a lot's life over time, ready to be drawn: each test a dot with its 95 %
// interval, the decline foreseen with its band, today, the day of the retest, and the days
// on which jobs sow the lot.
type testChart struct {
	Says                     string
	Width, Height            float64
	Left, Right, Top, Bottom float64
	TopPercent               int
	Marks                    []testMark
	Path                     string // between the tests, where nothing is foreseen
	Decline, Band            string // paths; "" where nothing is foreseen
	Days                     []dayMark
	Caption                  string
}

type testMark struct {
	X, Y, LowY, HighY float64
	Label             string // the day, under the axis; "" where another stands too near
}

// dayMark is a day that matters: a line from top to bottom with its words.
type dayMark struct {
	X, TextX, TextY float64
	Side            string // text-anchor: the words keep inside the picture
	Words           string
	Line, Text      string // classes
}

const (
	chartWidth, chartHeight = 460.0, 230.0
	chartLeft, chartRight   = 44.0, 448.0
	chartTop, chartBottom   = 48.0, 198.0
	chartPadDays            = 30   // before the first day and after the last
	labelRoom               = 84.0 // that a day's words need
	chartSteps              = 48   // of a decline's line
)

// lotLife is what the picture of a lot shows.
type lotLife struct {
	figures job.LotFigures
	decline seed.Decline
	tests   []testLine // newest first
	sowings []sowing
}

// scale turns days and percentages into places in the picture.
type scale struct {
	from, to unit.Date
	top      float64 // % at the upper end
}

func (s scale) x(d unit.Date) float64 {
	return round1(chartLeft + (chartRight-chartLeft)*float64(s.from.DaysTo(d))/float64(s.from.DaysTo(s.to)))
}

func (s scale) y(percent float64) float64 {
	return round1(chartBottom - (chartBottom-chartTop)*percent/s.top)
}

// chartLife draws a lot's tests and what is foreseen from them. It is nil when no
// germination or tetrazolium test can be read.
func chartLife(life lotLife) *testChart {
	var shown []testLine // oldest first
	for i := len(life.tests) - 1; i >= 0; i-- {
		if t := life.tests[i]; t.Readable && !t.IsA(seed.CutTest) {
			shown = append(shown, t)
		}
	}
	if len(shown) == 0 || !life.figures.Tested {
		return nil
	}
	c := &testChart{Width: chartWidth, Height: chartHeight, Left: chartLeft, Right: chartRight, Top: chartTop, Bottom: chartBottom}
	at := life.scale(shown)
	c.TopPercent = int(at.top)
	c.mark(shown, at)
	c.foresee(life, at)
	c.days(life, at)
	g := life.figures.Germination
	c.Says = fmt.Sprintf("Germination of %s over %d tests, the last %d %% on %s", life.figures.Lot.Code, len(shown), g.GerminationPercent, life.figures.Test.TestedOn)
	return c
}

// scale spans the tests, the retest day, today and the sowings to come; its upper end is
// the next ten above the highest limit.
func (l lotLife) scale(shown []testLine) scale {
	s := scale{from: shown[0].TestedOn, to: max(l.figures.Day, l.figures.DueOn)}
	for _, sown := range l.sowings {
		s.to = max(s.to, sown.Job.WindowFrom)
	}
	s.from, s.to = s.from.Plus(-chartPadDays), s.to.Plus(chartPadDays)
	top := 0.0
	for _, t := range shown {
		top = max(top, t.Interval.HighPercent)
	}
	if begins, ok := l.decline.On(l.decline.Begins); ok {
		top = max(top, begins.HighPercent)
	}
	s.top = min(100, max(10, 10*math.Ceil(top/10)))
	return s
}

func (c *testChart) mark(shown []testLine, at scale) {
	var path []string
	lastLabel := -labelRoom
	for _, t := range shown {
		m := testMark{X: at.x(t.TestedOn), Y: at.y(t.GerminationExactPercent), LowY: at.y(t.Interval.LowPercent), HighY: at.y(t.Interval.HighPercent)}
		if m.X-lastLabel >= labelRoom {
			m.Label, lastLabel = t.TestedOn.String(), m.X
		}
		c.Marks = append(c.Marks, m)
		path = append(path, fmt.Sprintf("%g %g", m.X, m.Y))
	}
	c.Path = "M" + strings.Join(path, "L")
}

// foresee draws the decline from where it begins to the end of the picture.
func (c *testChart) foresee(life lotLife, at scale) {
	c.Caption = "Each test with its 95 % interval. " + life.decline.Says()
	days := life.decline.Begins.DaysTo(at.to)
	if life.decline.Basis == seed.Unforeseen || days <= 0 {
		return
	}
	var line, low, high []string
	for i := range chartSteps + 1 {
		day := life.decline.Begins.Plus(days * i / chartSteps)
		f, _ := life.decline.On(day)
		x := at.x(day)
		line = append(line, fmt.Sprintf("%g %g", x, at.y(f.Percent)))
		high = append(high, fmt.Sprintf("%g %g", x, at.y(min(f.HighPercent, at.top))))
		low = append([]string{fmt.Sprintf("%g %g", x, at.y(f.LowPercent))}, low...)
	}
	c.Path, c.Decline = "", "M"+strings.Join(line, "L")
	c.Band = "M" + strings.Join(append(high, low...), "L") + "Z"
}

// days marks today, the retest and the sowings; each sowing's words stand on a line of
// their own, so that two of one week stay readable.
func (c *testChart) days(life lotLife, at scale) {
	c.day(at.x(life.figures.DueOn), chartTop+14, "retest due", "grid", "faint")
	c.day(at.x(life.figures.Day), chartTop-8, "today", "today", "told")
	for i, s := range life.sowings {
		c.day(at.x(s.Job.WindowFrom), chartTop+14*float64(i+2), s.Job.Code+" sows", "mark", "faint")
	}
}

func (c *testChart) day(x, y float64, words, line, text string) {
	at, side := beside(x)
	c.Days = append(c.Days, dayMark{x, at, y, side, words, line, text})
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
