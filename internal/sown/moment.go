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

// dayAndTime is how a sentence tells a moment of a log.
const dayAndTime = "2 Jan 2006, 15:04:05"

// clock reads the times of one log.
type clock struct {
	usual   int  // the layout that fitted last
	assumed bool // a time had no zone and was taken for UTC

	date string    // the last date that was read in place…
	day  time.Time // …and its midnight UTC

	dated    bool          // a whole moment was read otherwise than in place
	dayFirst bool          // a date like 20/07/2026 was read
	dayless  time.Time     // the day of the last time without a date, counted from 1970; zero where none came
	last     time.Duration // and its time of day
}

// read gives a moment in UTC, and false for what is no time. The first moment of the year 1,
// which programs write that know no time, is the zero moment. A zone's name in brackets
// after the offset adds nothing and is passed over; a time without an offset is taken for
// UTC, for only the time between fixes matters to a sown length.
func (c *clock) read(text string) (time.Time, bool) {
	if moment, fits := c.inPlace(text); fits {
		return moment, true
	}
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
	if i := strings.IndexAny(text, " T"); i > 0 {
		return c.readApart(text[:i], text[i+1:])
	}
	return time.Time{}, false
}

// readApart reads a date and a time of day that stand apart. Without a date the days count
// from an unknown one, and the next begins where the time of day falls back by half a day.
func (c *clock) readApart(date, ofDay string) (time.Time, bool) {
	since, fits := c.sinceMidnight(ofDay)
	if !fits {
		return time.Time{}, false
	}
	switch {
	case date == "" && c.date == "" && !c.dated:
		return c.onUnknownDay(since), true
	case date == "":
		return time.Time{}, false
	}
	if len(date) == 10 && date[4] == '/' && date[7] == '/' {
		date = strings.ReplaceAll(date, "/", "-")
	}
	if c.onDay(date) {
		return c.day.Add(since), true
	}
	day, err := time.Parse("2/1/2006", date)
	if err != nil || day.Year() < 1900 {
		return time.Time{}, false
	}
	c.dayFirst = true
	return day.Add(since), true
}

// sinceMidnight reads hh:mm:ss with or without a fraction, in UTC or in no zone.
func (c *clock) sinceMidnight(text string) (time.Duration, bool) {
	plain, zoned := strings.CutSuffix(strings.ToUpper(strings.TrimSpace(text)), "Z")
	moment, err := time.Parse(time.TimeOnly, plain)
	if err != nil {
		return 0, false
	}
	c.assumed = c.assumed || !zoned
	return moment.Sub(moment.Truncate(day)), true
}

func (c *clock) onUnknownDay(since time.Duration) time.Time {
	switch {
	case c.dayless.IsZero():
		c.dayless = time.Unix(0, 0).UTC()
	case c.last-since > day/2:
		c.dayless = c.dayless.Add(day)
	}
	c.last = since
	return c.dayless.Add(since)
}

func (c *clock) fits(text string, layout int) (time.Time, bool) {
	moment, err := time.Parse(momentLayouts[layout].layout, text)
	if err != nil {
		return time.Time{}, false
	}
	c.assumed, c.dated = c.assumed || !momentLayouts[layout].zoned, true
	return moment.UTC(), true
}

// inPlace reads the usual ways of a moment digit by digit: 2026-07-20T09:30:00Z with or
// without a fraction, a blank for the T or no zone. It says false for any other text,
// which need not be wrong.
func (c *clock) inPlace(text string) (time.Time, bool) {
	const seconds = len("2026-07-20T09:30:00")
	if len(text) < seconds || text[10] != 'T' && text[10] != ' ' || text[13] != ':' || text[16] != ':' {
		return time.Time{}, false
	}
	hour, minute, second := twoDigits(text[11:]), twoDigits(text[14:]), twoDigits(text[17:])
	fraction, zone, fits := fractionOf(text[seconds:])
	if hour > 23 || minute > 59 || second > 59 || !fits || zone != "Z" && zone != "" || !c.onDay(text[:10]) {
		return time.Time{}, false
	}
	c.assumed = c.assumed || zone == ""
	return c.day.Add(time.Duration((hour*60+minute)*60+second)*time.Second + fraction), true
}

// onDay makes a date the day of the clock, and says false where it is none.
func (c *clock) onDay(date string) bool {
	if date == c.date {
		return true
	}
	day, err := time.Parse(time.DateOnly, date)
	if err != nil || day.Year() < 1900 {
		return false
	}
	c.date, c.day = date, day
	return true
}

// twoDigits is the number that the first two bytes of a text make, or more than 99.
func twoDigits(text string) int {
	tens, ones := text[0]-'0', text[1]-'0'
	if tens > 9 || ones > 9 {
		return 100
	}
	return 10*int(tens) + int(ones)
}

// fractionOf takes a fraction of up to nine digits off a text.
func fractionOf(text string) (fraction time.Duration, rest string, fits bool) {
	if text == "" || text[0] != '.' {
		return 0, text, true
	}
	i, unit := 1, time.Second
	for ; i < len(text) && text[i]-'0' <= 9 && unit > 1; i++ {
		unit /= 10
		fraction += unit * time.Duration(text[i]-'0')
	}
	return fraction, text[i:], i > 1
}
