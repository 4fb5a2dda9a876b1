package sown

import (
	"fmt"
	"math"
	"time"

	"rowtally/internal/ground"
)

// gathering is a log while it is read: fixes as the file has them, and the lines that
// gave none.
type gathering struct {
	fixes   []Fix
	refused []Refused
	notes   []string
	undated bool
	clock   clock
}

// refuse lists a line that gives no fix.
func (g *gathering) refuse(line int, why string) {
	g.refused = append(g.refused, Refused{Line: line, Why: why})
}

// note keeps what had to be assumed; args fill the format.
func (g *gathering) note(format string, args ...any) {
	g.notes = append(g.notes, fmt.Sprintf(format, args...))
}

// add keeps a fix, unless it lies nowhere on the earth.
func (g *gathering) add(fix Fix) {
	if why := misplaced(fix.At); why != "" {
		g.refuse(fix.Line, why)
		return
	}
	g.fixes = append(g.fixes, fix)
}

// misplaced says why a place cannot be where a machine was; empty when it can.
func misplaced(at ground.LatLon) string {
	switch {
	case at.Lat == 0 && at.Lon == 0:
		return "latitude and longitude are both 0, as a receiver without a position writes them"
	case at.Check() == nil:
		return ""
	case math.Abs(at.Lat) > 360 || math.Abs(at.Lon) > 360:
		return fmt.Sprintf("%g, %g looks like metres of a map grid, export the log as WGS84 latitude and longitude", at.Lat, at.Lon)
	case math.Abs(at.Lat) > 90 && math.Abs(at.Lon) <= 90:
		return fmt.Sprintf("latitude %g is beyond 90: latitude and longitude look swapped", at.Lat)
	case math.Abs(at.Lat) > 90:
		return fmt.Sprintf("latitude %g is beyond 90", at.Lat)
	}
	return fmt.Sprintf("longitude %g is beyond 180", at.Lon)
}

// cleaned is the log that was gathered, without the fixes that cannot be.
func (g *gathering) cleaned() Log {
	g.noteTimes()
	g.dropStoppedClock()
	c := cleaner{kept: g.fixes[:0]}
	c.clean(g.fixes)
	for _, again := range c.anew {
		g.note("the times go back on line %d, to %s: what follows is taken for another track", again.Line, again.Time.Format(dayAndTime))
	}
	return Log{Fixes: c.kept, Refused: append(g.refused, c.refused...), Notes: g.notes, Undated: g.undated}
}

// noteTimes says what had to be assumed of the times that were read.
func (g *gathering) noteTimes() {
	if !g.clock.dayless.IsZero() {
		g.undated = true
		g.note("the log gives times without a date")
	}
	if g.clock.assumed {
		g.note("times without a zone were taken for UTC")
	}
	if g.clock.dayFirst {
		g.note("dates like 20/07/2026 were read day first")
	}
}

// stoppedFixes is how many fixes may have one time before the receiver's clock is taken for
// stopped. Our choice: a burst of a receiver's fixes within one second is shorter.
const stoppedFixes = 50

// dropStoppedClock takes the times off a log that gives one alone to all of its fixes: the
// places are good, and times that stand still say nothing.
func (g *gathering) dropStoppedClock() {
	if len(g.fixes) < stoppedFixes || !g.fixes[0].Timed() {
		return
	}
	stopped := g.fixes[0].Time
	for _, fix := range g.fixes {
		if !fix.Time.Equal(stopped) {
			return
		}
	}
	for i := range g.fixes {
		g.fixes[i].Time = time.Time{}
	}
	g.note("every fix has the time %s, as a receiver without a clock writes it: the times were left out", stopped.Format(dayAndTime))
}
