package sown

import (
	"fmt"
	"math"

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
	if g.clock.assumed {
		g.note("times without a zone were taken for UTC")
	}
	kept, refused := clean(g.fixes)
	return Log{Fixes: kept, Refused: append(g.refused, refused...), Notes: g.notes, Undated: g.undated}
}
