// Package sown reads the log of a sowing machine and matches it to the planned rows: what
// was sown, what was missed, what was sown twice. It refuses to know jobs, prices and
// where a log was kept; a reader is handed the text of one file.
package sown

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

// notGiven is a heading that a log does not give.
var notGiven = float32(math.NaN())

// Fix is one position of the antenna as logged. A log may hold millions: 64 bytes each.
type Fix struct {
	Line       int           // line of the file, from 1
	At         ground.LatLon // WGS84
	Time       time.Time     // UTC; zero where the log gives none
	SpeedMS    float64       // metres per second; NaN where the log gives none
	HeadingDeg float32       // true, 0..360; NaN where the log gives none. Passes go by the way driven, not by this
	Sowing     Flag
	Link       Link
}

// Timed tells whether the log gave the fix a time.
func (f Fix) Timed() bool { return !f.Time.IsZero() }

// Flag is what the log says of the implement at a fix.
type Flag uint8

const (
	Untold Flag = iota // the log does not say
	Lifted
	Sowing
)

// Link is how a fix follows on the one before it.
type Link uint8

const (
	Joined Link = iota // the machine drove from there to here
	Lost               // reception was lost in between, the drive itself went on
	Apart              // another track begins: nothing is known of the way between
)

// Refused is a line of a log that gave no fix, and why.
type Refused struct {
	Log  int    `json:"log,omitempty"` // 1, 2, 3… where several logs were read together
	Line int    `json:"line"`
	Why  string `json:"why"`

	// where many fixes on end have one reason: the last line, and how many they are
	ToLine int `json:"to_line,omitempty"`
	Fixes  int `json:"fixes,omitempty"` // 0 for one
}

// Log is one file, read and cleaned: in the order of the file, and in every track of it
// time only goes forward.
type Log struct {
	Fixes   []Fix
	Refused []Refused // in the order of the file
	Notes   []string  // what a reader had to assume
	Undated bool      // times count from an unknown day
}

// Flagged tells whether any fix says if the implement was sowing.
func (l Log) Flagged() bool {
	return slices.ContainsFunc(l.Fixes, func(f Fix) bool { return f.Sowing != Untold })
}

// Span is the first and the last moment of the log; both are zero where no day is known.
func (l Log) Span() (from, to time.Time) {
	if l.Undated {
		return from, to
	}
	return l.times()
}

// times are the first and the last time, of an unknown day where the log has none.
func (l Log) times() (from, to time.Time) {
	for _, fix := range l.Fixes {
		if fix.Timed() && (from.IsZero() || fix.Time.Before(from)) {
			from = fix.Time
		}
		if fix.Time.After(to) {
			to = fix.Time
		}
	}
	return from, to
}

// fixesAtMost is how many fixes a log may hold, so that room is made for them once.
func fixesAtMost(format, text string) int {
	switch format {
	case "nmea":
		return max(strings.Count(text, "RMC,"), strings.Count(text, "GGA,"))
	case "gpx":
		return strings.Count(text, "<trkpt")
	case "geojson":
		return strings.Count(text, "[")
	}
	return strings.Count(text, "\n")
}

// readerOf is the reader of a format by the names of the contract, nil for any other. It
// is a function so that a program that reads no log carries no reader.
func readerOf(format string) func(text string, into *gathering) error {
	switch format {
	case "csv":
		return readCSV
	case "geojson":
		return readGeoJSON
	case "gpx":
		return readGPX
	case "nmea":
		return readNMEA
	}
	return nil
}

// Read reads the text of one log file: "gpx", "csv", "nmea" or "geojson". The text may be
// UTF-8 or UTF-16. Lines that cannot be used are listed with a reason; a log without one
// usable fix is refused, as is a format that is none of the four.
func Read(format, text string) (Log, error) {
	reader := readerOf(format)
	if reader == nil {
		return Log{}, fault.Refuse("format", "there is no log format %q, give gpx, csv, nmea or geojson", format)
	}
	text = plain(text)
	into := gathering{fixes: make([]Fix, 0, fixesAtMost(format, text))}
	if err := reader(text, &into); err != nil {
		return Log{}, fault.Under("text", err)
	}
	log := into.cleaned()
	slices.SortStableFunc(log.Refused, func(a, b Refused) int { return cmp.Compare(a.Line, b.Line) })
	if len(log.Fixes) == 0 {
		return Log{}, fault.Under("text", emptiness(log))
	}
	return log, nil
}

// emptiness says why no fix is left.
func emptiness(log Log) error {
	if len(log.Refused) == 0 {
		return fault.Refuse("", "the log holds no fix, choose the file that was written while sowing")
	}
	first := log.Refused[0]
	return fault.Refuse("", "the log holds no fix that can be used: %d were refused, the first on line %d because %s",
		len(log.Refused), first.Line, first.Why)
}
