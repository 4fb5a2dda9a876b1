package ground

import (
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// Taken is when a reading was taken: a day "2026-06-11", or a month "2026-06" where no
// more is known. Salt near the surface swings with the season, so that one of them must be.
type Taken string

const monthOnly = "2006-01"

func (t Taken) check() error {
	_, err := time.Parse(monthOnly, string(t))
	if _, dayErr := unit.ParseDate(string(t)); err != nil && dayErr != nil {
		return fault.Refuse("taken_on", "%q is neither a day nor a month, enter it as 2026-06-11 or 2026-06", string(t))
	}
	return nil
}

// String is the day or the month as screens print it: "11 Jun 2026", "Jun 2026".
func (t Taken) String() string {
	if month, err := time.Parse(monthOnly, string(t)); err == nil {
		return month.Format("Jan 2006")
	}
	return unit.Date(t).String()
}

// After tells whether the reading would be taken after a day.
func (t Taken) After(day unit.Date) bool {
	return len(t) <= len(day) && string(t) > string(day)[:len(t)]
}
