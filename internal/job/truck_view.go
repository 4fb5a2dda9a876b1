package job

import (
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
)

// TruckView is all that the truck page shows of one job.
type TruckView struct {
	SownM    float64
	Sheet    MixingSheet
	Cannot   string        // why nothing can be mixed; "" when a tub is to be mixed
	Tub      *mix.Tub      // the next tub as it is kept when it is mixed; nil when there is none
	LastTub  int           // number of the last tub still to be mixed
	Mixed    *mix.Tub      // the last tub mixed, which may be undone
	CleanOut *mix.CleanOut // the last one, which may be undone
	Drill    *Drill        // what goes into the drill; nil where there is no understorey
	Loaded   *DrillLoad    // the last one, which may be undone
	Catch    *mix.Catch    // the one that counts
	Metering *mix.Metering // what it found
	RunOut   *RunOut
	Standby  StandbyClock // today's
	FuelML   int64        // today's
	Count    *CountAhead  // at places drawn, still to be walked; nil for none
}

// View is the job once the entries are applied, on a day that began at a moment.
func (j TruckJob) View(entries []TruckEntry, today unit.Date, began time.Time) (TruckView, error) {
	j = j.With(entries)
	j.Facts.Today = today
	v := TruckView{Standby: j.Standby(began), FuelML: j.FuelML(began)}
	v.SownM, _ = j.Facts.SownM()
	v.showDone(j)
	v.Count = j.Facts.CountAhead()
	sheet, err := SheetAlong(j.Facts, j.Rows)
	v.Sheet = sheet
	switch {
	case err == nil:
		tub := TubOf(j.Facts, sheet)
		v.Tub, v.LastTub = &tub, sheet.Mixed+len(sheet.Tubs)
	case fault.KindOf(err) == fault.Internal:
		return v, err
	default:
		v.Cannot = err.Error()
	}
	return v, nil
}

func (v *TruckView) showDone(j TruckJob) {
	if n := len(j.Facts.Tubs); n > 0 {
		v.Mixed = &j.Facts.Tubs[n-1]
	}
	if n := len(j.Facts.CleanOuts); n > 0 {
		v.CleanOut = &j.Facts.CleanOuts[n-1]
	}
	v.Drill = j.Drill
	if n := len(j.Facts.DrillLoads); n > 0 {
		v.Loaded = &j.Facts.DrillLoads[n-1]
	}
	if caught, ok := j.Facts.Catch(); ok {
		v.Catch = &caught
	}
	if found, ok := j.Facts.CatchFound(); ok {
		v.Metering = &found
	}
	if out, ok := j.RunOut(); ok {
		v.RunOut = &out
	}
}

// Tried is what a catch trial comes to before it is kept.
type Tried struct {
	Catch    mix.Catch
	Spread   Spread
	Metering mix.Metering
}

// TryCatch judges a trial for the job.
func (j TruckJob) TryCatch(trial CatchTrial) (out Tried, err error) {
	if j.Facts.Recipe == nil || j.Facts.Layout == nil {
		return out, fault.Conflict("A catch test is judged by the job's rows and recipe, and one of them is not there yet.")
	}
	if out.Catch, err = trial.Caught(j.Facts.Layout.SpacingM); err != nil {
		return out, err
	}
	out.Spread = trial.Spread()
	out.Metering, err = JudgeCatch(out.Catch, *j.Facts.Recipe)
	return out, err
}
