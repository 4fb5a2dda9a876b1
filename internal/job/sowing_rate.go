package job

import (
	"fmt"
	"math"

	"rowtally/internal/machine"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// LearnedRate is what day sheets tell of how fast a machine sows.
type LearnedRate struct {
	Sheets    int     // with a length sown and time run
	Hours     float64 // machine hours on them
	RowM      float64 // sown on them
	RowKmPerH float64 // 0 while no sheet tells
	Low, High float64 // its 95 % interval, in row-km/h; both 0 with fewer than 2 sheets, or where one run tells all
	Enough    bool    // the hours reach the setting from which its own figures count
}

// usuallyEnoughH is the hours from which own figures count while the machine has no setting
// of its own. Our own setting.
const usuallyEnoughH = 50

// LearnRate takes the rate off the sheets on which a machine worked: row-km sown over
// machine hours run, standby and stops within them. Its interval is that of a ratio of two
// sums over days (Cochran 1977, Sampling Techniques, 3rd ed., 6.4, without the correction
// for a finite count), with Student's t.
func LearnRate(m machine.Machine, sheets []machine.DaySheet) LearnedRate {
	var l LearnedRate
	var told []machine.DaySheet
	for _, s := range sheets {
		if s.RowM > 0 && s.RunMin() > 0 {
			told = append(told, s)
			l.RowM += s.RowM
			l.Hours += float64(s.RunMin()) / 60
		}
	}
	l.Sheets = len(told)
	if l.Sheets == 0 {
		return l
	}
	l.RowKmPerH = l.RowM / 1000 / l.Hours
	l.Low, l.High = l.interval(told)
	enough := float64(usuallyEnoughH)
	if m.Owning != nil {
		enough = m.Owning.EnoughH
	}
	l.Enough = l.Hours >= enough
	return l
}

func (l LearnedRate) interval(told []machine.DaySheet) (low, high float64) {
	n := float64(len(told))
	if n < 2 {
		return 0, 0
	}
	var squares float64
	for _, s := range told {
		off := s.RowM/1000 - l.RowKmPerH*float64(s.RunMin())/60
		squares += off * off
	}
	half := seed.StudentDeviate(seed.CertificateLevel, n-1) * math.Sqrt(n*squares/(n-1)) / l.Hours
	return max(0, l.RowKmPerH-half), l.RowKmPerH + half
}

// Says tells what the day sheets teach, as a sentence.
func (l LearnedRate) Says() string {
	switch {
	case l.Sheets == 0:
		return "No day sheet of the last twelve months tells how far it sowed."
	case l.High == 0:
		return fmt.Sprintf("Its one day sheet tells %s row-km a machine hour; an interval needs two.", unit.Grouped(l.RowKmPerH, 2))
	}
	return fmt.Sprintf("Its day sheets tell %s row-km a machine hour (%s to %s, in 95 of 100 such seasons), over %s and %s machine hours.",
		unit.Grouped(l.RowKmPerH, 2), unit.Grouped(l.Low, 2), unit.Grouped(l.High, 2), unit.Counted(l.Sheets, "day sheet"), unit.Grouped(l.Hours, 1))
}

// Working shows the rate and its interval.
func (l LearnedRate) Working() working.Steps {
	if l.Sheets == 0 {
		return nil
	}
	var steps working.Steps
	steps = steps.Add("sown", "on "+unit.Counted(l.Sheets, "day sheet")+" of the last twelve months", working.Number(l.RowM/1000, 2), "row-km", "")
	steps = steps.Add("machine hours", "meter at the end less meter at the start, standby within", working.Number(l.Hours, 1), "h", "")
	steps = steps.Add("work rate", "sown ÷ machine hours", working.Number(l.RowKmPerH, 2), "row-km/h", "")
	if l.High == 0 {
		return steps
	}
	const after = "Cochran 1977, Sampling Techniques, 6.4; Student 1908"
	steps = steps.Add("at least", "rate less Student's t × its standard error over the days", working.Number(l.Low, 2), "row-km/h", after)
	return steps.Add("at most", "rate and as much more", working.Number(l.High, 2), "row-km/h", after)
}
