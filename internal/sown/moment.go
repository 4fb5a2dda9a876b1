package sown

import (
	"strings"
	"time"
)

// momentLayouts are the ways in which logs write a moment. The first is RFC 3339; a
// fraction of a second may follow the seconds in each.
var momentLayouts = []struct {
	layout string
	zoned  bool
}{
	{"2006-01-02T15:04:05Z07:00", true},
	{"2006-01-02T15:04:05", false},
	{"2006-01-02 15:04:05Z07:00", true},
	{"2006-01-02 15:04:05", false},
	{"2006-01-02T15:04:05Z0700", true},
	{"2006-01-02T15:04:05Z07", true},
	{"2006-01-02 15:04:05 Z07:00", true},
	{"2006-01-02 15:04:05Z0700", true},
	{"2006-01-02 15:04:05 Z0700", true},
}

// clock reads the times of one log.
type clock struct {
	usual   int  // the layout that fitted last
	assumed bool // a time had no zone and was taken for UTC
}

// read gives a moment in UTC, and false for what is no time. A zone's name in brackets
// after the offset adds nothing and is passed over; a time without an offset is taken for
// UTC, for only the time between fixes matters to a sown length.
func (c *clock) read(text string) (time.Time, bool) {
	text, _, _ = strings.Cut(text, "[")
	text = strings.ToUpper(strings.TrimSpace(text))
	if moment, ok := c.fits(text, c.usual); ok {
		return moment, true
	}
	for i := range momentLayouts {
		if moment, ok := c.fits(text, i); ok {
			c.usual = i
			return moment, true
		}
	}
	return time.Time{}, false
}

func (c *clock) fits(text string, layout int) (time.Time, bool) {
	moment, err := time.Parse(momentLayouts[layout].layout, text)
	if err != nil || moment.IsZero() {
		return time.Time{}, false
	}
	c.assumed = c.assumed || !momentLayouts[layout].zoned
	return moment.UTC(), true
}
