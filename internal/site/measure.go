package site

import (
	"math"

	"rowtally/internal/unit"
)

// The most that one line of a form may say: a slip of the point is caught, a good year is not.
const (
	mostKg      = 100_000.0
	mostLitres  = 1_000_000.0
	mostMeterH  = 200_000.0
	leastAmount = 0.001 // kg and L: stock is kept in whole grams and millilitres
)

// thousandths reads kilograms as grams, or litres as millilitres, rounded to whole ones.
func (f *form) thousandths(name string, low, high float64) int64 {
	return int64(math.Round(f.number(name, low, high) * 1000))
}

// minutes reads meter hours as whole minutes.
func (f *form) minutes(name string, highH float64) int64 {
	return int64(math.Round(f.number(name, 0, highH) * 60))
}

// past reads a day that has been: today at the latest.
func (f *form) past(name string, required bool, today unit.Date) unit.Date {
	d := f.day(name, required)
	if d > today {
		f.refuse(name, "%s is after today, %s: enter the day it happened.", d, today)
	}
	return d
}

// oneOf reads a choice. Anything that was not offered is refused.
func (f *form) oneOf(name string, offered []Option) string {
	for _, o := range offered {
		if f.typed[name] == o.Value {
			return o.Value
		}
	}
	f.refuse(name, "Choose one of the list.")
	return ""
}

// measure reads a number whose range the trade's own check tells; sentence is for a
// field left empty.
func (f *form) measure(name, sentence string) float64 {
	const anything = 1e12
	if f.must(name, sentence) == "" {
		return 0
	}
	return f.number(name, -anything, anything)
}

// maybeMeasure is measure for a field that may be left empty: nil then.
func (f *form) maybeMeasure(name string) *float64 {
	const anything = 1e12
	if f.typed[name] == "" {
		return nil
	}
	return new(f.number(name, -anything, anything))
}
