package seed

import (
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// DeclineBasis tells what the decline of a lot is foreseen from.
type DeclineBasis string

const (
	Unforeseen    DeclineBasis = "" // nothing but the retest rule
	FromConstants DeclineBasis = "published constants"
	FromTests     DeclineBasis = "own tests"
)

// Decline foresees the germination of a lot, its hard seed aside. The zero Decline
// foresees nothing.
type Decline struct {
	Basis  DeclineBasis
	Begins unit.Date // the day of the test that it starts from, or of the first test fitted

	aged  aged
	trend trend
}

// Foreseen is the germination of a lot on a day, in %, with limits at CertificateLevel.
type Foreseen struct {
	Percent, LowPercent, HighPercent float64
}

// DeclineOf foresees a lot's germination from what is known on a day: from the test that
// counts and published constants, where the species has usable ones and the moisture and
// temperature of the lot's store are known; else from a line through its own germination
// tests, where there are three or more; else not at all.
func DeclineOf(lot Lot, tests []Test, conditions []StorageCondition, day unit.Date) Decline {
	counted, ok := Counts(tests, day, lot.RetestMonths)
	if !ok {
		return Decline{}
	}
	if a, ok := age(lot.Species, counted, conditions); ok {
		return Decline{Basis: FromConstants, Begins: counted.TestedOn, aged: a}
	}
	if t, ok := fitTrend(tests, day); ok {
		return Decline{Basis: FromTests, Begins: t.first, trend: t}
	}
	return Decline{}
}

// On is what is foreseen on a day; before the decline begins, what it begins with. ok is
// false where nothing is foreseen.
func (d Decline) On(day unit.Date) (f Foreseen, ok bool) {
	day = max(day, d.Begins)
	switch d.Basis {
	case FromConstants:
		return d.aged.on(day), true
	case FromTests:
		return d.trend.on(day), true
	}
	return Foreseen{}, false
}

// Says tells in a sentence what the decline rests on.
func (d Decline) Says() string {
	switch d.Basis {
	case FromConstants:
		return d.aged.says()
	case FromTests:
		return d.trend.says()
	}
	return "Nothing is foreseen: the species has no usable published constants for this store, and the lot fewer than three tests. The retest rule alone holds."
}

// Working shows how the germination on a day is foreseen; nil where it is not.
func (d Decline) Working(day unit.Date) working.Steps {
	f, ok := d.On(day)
	if !ok {
		return nil
	}
	var steps working.Steps
	source := storageSource
	if d.Basis == FromConstants {
		steps = d.aged.working(max(day, d.Begins))
	} else {
		steps, source = d.trend.working(day), ""
	}
	return steps.
		Add("germination foreseen", "normal share below the deviate, on "+day.String(), working.Number(f.Percent, 1), "%", source).
		Add("lower limit", "95 %", working.Number(f.LowPercent, 1), "%", "").
		Add("upper limit", "95 %", working.Number(f.HighPercent, 1), "%", "")
}
