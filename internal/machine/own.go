package machine

import (
	"fmt"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// leastDays is how long a log must run before it is carried on to a year: half a season
// tells nothing of the other. Our own rule.
const leastDays = 180

// Taken says of one figure of a machine hour whether it is the machine's own, from its day
// sheets, or the book's, as it was entered.
type Taken struct {
	What  string // "hours a year", "fuel"
	Own   bool
	Value float64
	Unit  string // "h", "L/h"
	Why   string // where it comes from, or what the book's still stands for
}

// logged is what the day sheets of the twelve months up to a day tell of a machine.
type logged struct {
	hours   float64 // on the sheets
	allH    float64 // run between the first sheet and the last reading, whatever for
	days    int     // between the two
	first   unit.Date
	fuelL   float64
	fuelH   float64 // on the sheets up to the last that fuel was put in
	fuelled int     // sheets with fuel
}

// loggedOf reads the sheets of the twelve months that end on a day. Sheets that name the
// machine speak of its meter and its fuel; others are of the machine that pulls it, and
// tell hours alone.
func (m Machine) loggedOf(sheets []DaySheet, on unit.Date) logged {
	var l logged
	var last unit.Date
	var hours float64 // of the sheets that name the machine
	from, to, even := int64(-1), int64(0), true
	for _, s := range recent(sheets, on) {
		h := float64(s.RunMin()) / 60
		l.hours += h
		if l.first == "" {
			l.first = s.Day
		}
		last = s.Day
		if s.MachineID != m.ID {
			continue
		}
		if from < 0 {
			from, to = s.MeterFromMin, s.MeterFromMin
		}
		even = even && s.MeterFromMin >= to
		to = s.MeterToMin
		hours += h
		if s.FuelML > 0 {
			l.fuelL, l.fuelH, l.fuelled = l.fuelL+float64(s.FuelML)/1000, hours, l.fuelled+1
		}
	}
	l.allH, l.days = l.hours, l.first.DaysTo(on)
	if from >= 0 && even && m.MeterMin >= to {
		l.allH, l.days = float64(m.MeterMin-from)/60, l.first.DaysTo(max(last, min(m.MeterOn, on)))
	}
	return l
}

// recent is the sheets of the twelve months that end on a day, by their days and meters.
func recent(sheets []DaySheet, on unit.Date) []DaySheet {
	since := on.PlusMonths(-12)
	var out []DaySheet
	for _, s := range sheets {
		if s.Day > since && s.Day <= on {
			out = append(out, s)
		}
	}
	return inOrder(out)
}

// yearly is the hours a year that the log carries on to; Own where it is long enough.
func (l logged) yearly(o Owning) Taken {
	t := Taken{What: "hours a year", Value: o.AnnualHours, Unit: "h"}
	switch {
	case l.hours == 0:
		t.Why = "no day sheet of the last twelve months tells its hours"
	case l.hours < o.EnoughH:
		t.Why = o.tooFew(l.hours)
	case l.days < leastDays:
		t.Why = fmt.Sprintf("the log runs over %d days, its own hours count from %d", l.days, leastDays)
	default:
		t.Own, t.Value = true, min(mostYearlyHours, l.allH*365/float64(l.days))
		t.Why = fmt.Sprintf("%s h run in %d days since %s, carried on to 365", unit.Grouped(l.allH, 1), l.days, l.first)
	}
	return t
}

// fuel is the litres an hour that the sheets tell; Own where there are enough of them.
func (l logged) fuel(o Owning, bookLPerH float64) Taken {
	t := Taken{What: "fuel", Value: bookLPerH, Unit: "L/h"}
	switch {
	case bookLPerH == 0:
		t.Why = "it burns none of its own"
	case l.fuelled == 0:
		t.Why = "no day sheet of the last twelve months tells its fuel"
	case l.fuelH < o.EnoughH:
		t.Why = o.tooFew(l.fuelH)
	default:
		t.Own, t.Value = true, l.fuelL/l.fuelH
		t.Why = fmt.Sprintf("%s L put in over %s h on day sheets", unit.Grouped(l.fuelL, 0), unit.Grouped(l.fuelH, 1))
	}
	return t
}

func (o Owning) tooFew(hours float64) string {
	return fmt.Sprintf("day sheets of the last twelve months tell %s h, its own figures count from %s h", unit.Grouped(hours, 1), plain(o.EnoughH))
}

// Says tells which figure is used and where it comes from, as a sentence without its point.
func (t Taken) Says() string {
	which := "by the book, as entered"
	if t.Own {
		which = "its own"
	}
	return fmt.Sprintf("%s: %s %s, %s (%s)", t.What, unit.Grouped(t.Value, 1), t.Unit, which, t.Why)
}

// step is the figure as the first steps of a working have it.
func (t Taken) step(steps working.Steps) working.Steps {
	how := "by the book, as entered: " + t.Why
	if t.Own {
		how = "own: " + t.Why
	}
	return steps.Add(t.What, how, working.Number(t.Value, 1), t.Unit, "")
}
