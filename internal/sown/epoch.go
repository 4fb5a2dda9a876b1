package sown

import (
	"time"

	"rowtally/internal/ground"
)

const day = 24 * time.Hour

// epoch is one moment of the receiver: an RMC and a GGA sentence, or one of them.
type epoch struct {
	rmc, gga sentence // an empty kind where there is none
}

// first is the sentence that opened the epoch.
func (e epoch) first() sentence {
	if e.rmc.kind != "" && (e.gga.kind == "" || e.rmc.line <= e.gga.line) {
		return e.rmc
	}
	return e.gga
}

// empty tells whether no sentence has come yet.
func (e epoch) empty() bool { return e.rmc.kind == "" && e.gga.kind == "" }

// takes tells whether a sentence belongs to the epoch.
func (e epoch) takes(s sentence) bool {
	twin := e.rmc
	if s.kind == "GGA" {
		twin = e.gga
	}
	return twin.kind == "" && e.first().ofDay == s.ofDay
}

// epochs merges sentences of one moment and gives every moment its day.
type epochs struct {
	into     *gathering
	open     epoch
	day      time.Time     // of the last epoch; counted from 1970 until a date is known
	last     time.Duration // time of day of the last epoch
	dated    bool          // a date has come
	started  bool
	reckoned int
}

// take adds a sentence to the open epoch, or closes that and opens another.
func (e *epochs) take(s sentence) {
	if !e.open.empty() && !e.open.takes(s) {
		e.close()
	}
	if s.kind == "RMC" {
		e.open.rmc = s
	} else {
		e.open.gga = s
	}
}

// end closes the last epoch and says what of the dates had to be assumed.
func (e *epochs) end() {
	if !e.open.empty() {
		e.close()
	}
	if e.started && !e.dated {
		e.into.undated = true
		e.into.note("the log gives times without a date")
	}
	if e.reckoned > 0 {
		e.into.note("%d fixes are the receiver's dead reckoning", e.reckoned)
	}
}

// close makes a fix of the open epoch unless one of its sentences disowns it.
func (e *epochs) close() {
	rmc, gga, first := e.open.rmc, e.open.gga, e.open.first()
	e.open = epoch{}
	if rmc.disowned != "" || gga.disowned != "" {
		return
	}
	e.settleDay(first.ofDay, rmc.date)
	if rmc.reckoned || gga.reckoned {
		e.reckoned++
	}
	motion := rmc
	if rmc.kind == "" {
		motion = gga
	}
	e.into.add(Fix{
		Line: first.line, At: position(rmc, gga), Time: e.day.Add(first.ofDay),
		SpeedMS: motion.speedMS, HeadingDeg: float32(motion.headingDeg),
	})
}

// position prefers the GGA, which some receivers write with more decimals.
func position(rmc, gga sentence) ground.LatLon {
	if gga.kind != "" {
		return gga.at
	}
	return rmc.at
}

// settleDay moves to the day of an epoch: the RMC's date or, without one, the day after
// midnight has passed. The first date that comes also dates the fixes before it.
func (e *epochs) settleDay(ofDay time.Duration, date time.Time) {
	if !e.started {
		e.day = time.Unix(0, 0).UTC()
	} else if e.last-ofDay > day/2 {
		e.day = e.day.Add(day)
	}
	e.last, e.started = ofDay, true
	if date.IsZero() {
		return
	}
	if !e.dated {
		e.backdate(date.Sub(e.day))
	}
	e.day, e.dated = date, true
}

func (e *epochs) backdate(by time.Duration) {
	for i := range e.into.fixes {
		e.into.fixes[i].Time = e.into.fixes[i].Time.Add(by)
	}
}
