// Package unit holds dates and the ways in which measures are written for a person.
// It refuses to know a clock or a zone: today comes in as an argument.
package unit

import (
	"fmt"
	"time"
)

// Date is a calendar day, "2026-07-20"; the empty Date means "not set".
type Date string

// ParseDate reads "2026-07-20". Any other text, and a day that no month has, is refused.
func ParseDate(s string) (Date, error) {
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		return "", fmt.Errorf("%q is not a day, enter it as 2026-07-20", s)
	}
	return Date(s), nil
}

// DateOf is the calendar day of a moment in that moment's own zone.
func DateOf(t time.Time) Date { return Date(t.Format(time.DateOnly)) }

// Time is midnight UTC of the day; the zero time when not set or not a day.
func (d Date) Time() time.Time {
	t, _ := time.Parse(time.DateOnly, string(d))
	return t
}

// String is the day as screens and papers print it: "20 Jul 2026"; "" when not set.
func (d Date) String() string {
	if d == "" {
		return ""
	}
	return d.Time().Format("2 Jan 2006")
}

// Plus is the day n days later; n may be negative.
func (d Date) Plus(days int) Date { return DateOf(d.Time().AddDate(0, 0, days)) }

// PlusMonths is the same day n months later; a day that month lacks rolls to its last.
func (d Date) PlusMonths(n int) Date {
	t := d.Time()
	first := time.Date(t.Year(), t.Month()+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return DateOf(first.AddDate(0, 0, min(t.Day(), last)-1))
}

// DaysTo counts the days from d to later; negative when later lies before d.
func (d Date) DaysTo(later Date) int {
	return int(later.Time().Sub(d.Time()).Hours() / 24)
}
