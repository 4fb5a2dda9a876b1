package job

import (
	"time"
)

// StandbyClock is how long the crew stood waiting on one day of one job.
type StandbyClock struct {
	Since   *time.Time // when the wait that is still going began; nil when none is
	Minutes int64      // of the waits that have ended
}

// Standby reads the clock off the entries made since a moment. A stop without a start
// counts nothing; a second start goes on with the first one.
func (j TruckJob) Standby(since time.Time) (c StandbyClock) {
	for _, e := range j.Kept {
		switch {
		case e.At.Before(since):
		case e.Kind == StandbyStart && c.Since == nil:
			began := e.At
			c.Since = &began
		case e.Kind == StandbyStop && c.Since != nil:
			c.Minutes += int64(e.At.Sub(*c.Since) / time.Minute)
			c.Since = nil
		}
	}
	return c
}

// FuelML is the fuel put in since a moment.
func (j TruckJob) FuelML(since time.Time) (ml int64) {
	for _, e := range j.Kept {
		if e.Kind == FuelEntry && !e.At.Before(since) {
			ml += e.FuelML
		}
	}
	return ml
}
