package machine

import (
	"errors"

	"rowtally/internal/fault"
	"rowtally/internal/working"
)

// Pace is how fast a machine sows, as the contractor sets it: speed with turns and stops to
// fill, or speed with one efficiency that holds them all.
type Pace struct {
	SpeedKmh          float64  // while sowing, 0.01 to 100; 0 while not told
	TurnS             *float64 // 0 to 3,600, from the end of one pass into the next
	FillMin           *float64 // 0 to 600, one stop to fill a tub's mix in
	EfficiencyPercent *float64 // of all the time out, 1 to 100; nil when turns and stops rule
}

// Told tells whether a rate can be worked out from it.
func (p Pace) Told() bool {
	return p.SpeedKmh > 0 && (p.TurnS != nil || p.EfficiencyPercent != nil)
}

// Check refuses a pace out of bounds, and one that counts the time lost twice. A pace of
// nothing is none, and goes through.
func (p Pace) Check() error {
	var errs []error
	if p.SpeedKmh != 0 {
		errs = append(errs, within("speed_kmh", p.SpeedKmh, 0.01, 100))
	}
	for _, one := range []struct {
		field       string
		v           *float64
		least, most float64
	}{{"turn_s", p.TurnS, 0, 3600}, {"fill_min", p.FillMin, 0, 600}, {"efficiency_percent", p.EfficiencyPercent, 1, 100}} {
		if one.v != nil {
			errs = append(errs, within(one.field, *one.v, one.least, one.most))
		}
	}
	if p.EfficiencyPercent != nil && (p.TurnS != nil || p.FillMin != nil) {
		errs = append(errs, fault.Refuse("efficiency_percent", "turns or stops to fill are given and so is an efficiency, which holds them already: leave one of the two out, or the time lost counts twice"))
	}
	return errors.Join(errs...)
}

// Course is the rows that a pace is worked out for.
type Course struct {
	Passes  int     // 1 to 1,000,000
	DrivenM float64 // along the passes with the machine in the ground, 0.1 to 10,000,000
	RowM    float64 // metres of row sown on them, each row counted, 0.1 to 100 times DrivenM
	TubRowM float64 // metres of row that a tub lasts, each row counted; 0 where none is mixed

	// of the time out besides turns, 1 to 100 %; stops to fill are within it. 0 where they are
	// reckoned by themselves.
	OtherPercent float64
}

// SowingRate is how fast a machine sows a course of rows.
type SowingRate struct {
	RowKmPerH float64 // each row counted
	RunS      float64 // of one row-km: sowing
	TurnS     float64 // turning
	FillS     float64 // standing to be filled; 0 where an efficiency holds it

	pace Pace
	over Course
}

func (c Course) check() error {
	err := errors.Join(within("passes", float64(c.Passes), 1, 1_000_000), within("driven_m", c.DrivenM, 0.1, 10_000_000))
	if err != nil {
		return err
	}
	if c.OtherPercent != 0 {
		err = within("other_percent", c.OtherPercent, 1, 100)
	}
	return errors.Join(err, within("row_m", c.RowM, 0.1, 100*c.DrivenM))
}

// Rate works out how fast the machine sows. With turns, one is charged to each pass, and
// the stops to fill follow from how far a tub lasts, or stand within an efficiency of the
// course besides turns; with an efficiency in all it is rows × speed × efficiency. Time that
// would count twice is refused.
func (p Pace) Rate(over Course) (SowingRate, error) {
	err := errors.Join(p.Check(), over.check())
	if p.EfficiencyPercent != nil && over.OtherPercent != 0 {
		err = errors.Join(err, fault.Refuse("efficiency_percent", "an efficiency in all and one besides turns are given: leave one of the two out, or the time lost counts twice"))
	}
	switch {
	case err != nil:
		return SowingRate{}, err
	case p.SpeedKmh == 0:
		return SowingRate{}, fault.Refuse("speed_kmh", "the speed while sowing is not told, enter it with the machine")
	case !p.Told():
		return SowingRate{}, fault.Refuse("turn_s", "neither a turn's time nor an efficiency is told, enter one of them with the machine")
	}
	out := SowingRate{pace: p, over: over, RunS: 3600 * over.DrivenM / (p.SpeedKmh * over.RowM)}
	if p.EfficiencyPercent != nil {
		out.RowKmPerH = 36 * *p.EfficiencyPercent / out.RunS
		return out, nil
	}
	out.TurnS = *p.TurnS * 1000 * float64(over.Passes) / over.RowM
	out.RowKmPerH = 3600 / (out.RunS + out.TurnS)
	switch {
	case over.OtherPercent != 0:
		out.RowKmPerH *= over.OtherPercent / 100
	case p.FillMin != nil && over.TubRowM > 0:
		out.FillS = *p.FillMin * 60 * 1000 / over.TubRowM
		out.RowKmPerH = 3600 / (out.RunS + out.TurnS + out.FillS)
	}
	return out, nil
}

// Working shows what one row-km takes, and the rate.
func (r SowingRate) Working() working.Steps {
	var steps working.Steps
	rows := working.Number(r.over.RowM/r.over.DrivenM, 2).String() + " rows at once"
	if r.pace.EfficiencyPercent != nil {
		return steps.Add("work rate", rows+" × "+plain(r.pace.SpeedKmh)+" km/h × "+plain(*r.pace.EfficiencyPercent)+" %", working.Number(r.RowKmPerH, 2), "row-km/h", rateSource)
	}
	steps = steps.Add("sowing", "3,600 ÷ ("+plain(r.pace.SpeedKmh)+" km/h × "+rows+")", working.Number(r.RunS, 1), "s a row-km", "")
	steps = steps.Add("turning", "a turn of "+plain(*r.pace.TurnS)+" s to each pass of "+working.Number(r.over.DrivenM/float64(r.over.Passes), 0).String()+" m × "+rows, working.Number(r.TurnS, 1), "s a row-km", "")
	if r.FillS > 0 {
		steps = steps.Add("filling", plain(*r.pace.FillMin)+" min for each tub, which lasts "+working.Number(r.over.TubRowM/1000, 2).String()+" row-km", working.Number(r.FillS, 1), "s a row-km", "")
	}
	if r.over.OtherPercent != 0 {
		return steps.Add("work rate", "3,600 ÷ both × "+plain(r.over.OtherPercent)+" % of the time besides turns, stops to fill within it", working.Number(r.RowKmPerH, 2), "row-km/h", "")
	}
	return steps.Add("work rate", "3,600 ÷ all of these", working.Number(r.RowKmPerH, 2), "row-km/h", "")
}
