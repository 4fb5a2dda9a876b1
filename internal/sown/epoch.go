package sown

import (
	"time"

	"rowtally/internal/ground"
)

const day = 24 * time.Hour

// epoch is one moment of the receiver: an RMC and a GGA sentence, or one of them.
type epoch struct {
	rmc, gga sentence // an empty kind where there is none

	told  time.Time     // the midnight of a ZDA that came in between; zero for none
	tells time.Duration // and its time of day
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
	closed   [4]epochKept // the last epochs that gave a fix
	fixes    int
}

// epochKept is what is remembered of an epoch that gave a fix.
type epochKept struct {
	ofDay    time.Duration
	rmc, gga bool
}

// tell takes a date that stands between the sentences of the open epoch, or before any.
func (e *epochs) tell(ofDay time.Duration, date time.Time) {
	if e.open.empty() {
		e.settleDay(ofDay, date)
		return
	}
	e.open.told, e.open.tells = date, ofDay
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

// close makes a fix of the open epoch unless one of its sentences disowns it, and then moves
// to the day that a ZDA told.
func (e *epochs) close() {
	open := e.open
	e.open = epoch{}
	e.keep(open)
	if !open.told.IsZero() {
		e.settleDay(open.tells, open.told)
	}
}

// late tells whether an epoch of one sentence is the other half of one a few epochs ago:
// receivers that are short of time send the sentences of a moment apart.
func (e *epochs) late(k epochKept) bool {
	if k.rmc && k.gga {
		return false
	}
	for _, before := range e.closed[:min(e.fixes, len(e.closed))] {
		if before.ofDay == k.ofDay && before.rmc == k.gga && before.gga == k.rmc {
			return true
		}
	}
	return false
}

func (e *epochs) keep(open epoch) {
	rmc, gga, first := open.rmc, open.gga, open.first()
	kept := epochKept{first.ofDay, rmc.kind != "", gga.kind != ""}
	if rmc.disowned != "" || gga.disowned != "" || e.late(kept) {
		return
	}
	e.closed[e.fixes%len(e.closed)] = kept
	e.fixes++
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
