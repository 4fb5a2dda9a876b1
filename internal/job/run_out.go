package job

import (
	"fmt"
	"time"

	"rowtally/internal/unit"
)

// RunOut is what is left in the hoppers, how far it lasts, and where the mix will run
// out. Lengths in metres of row, each row counted.
type RunOut struct {
	SownM      float64 // as last read
	LeftL      float64 // mix unsown
	ReckonedL  float64 // L per row-km that the mixing sheet goes by
	MeasuredL  float64 // L per row-km that really went out; 0 while too little is sown to say
	LastsM     float64
	EndsAtM    float64 // row sown when the mix made so far ends
	PlannedM   float64
	AllEndsAtM float64 // row sown when all the mix that the sheet makes ends; PlannedM or less
	Says       string
	Warning    string // "" when there is nothing to warn of
}

// Rules of our own for when a reading says something, and when to warn.
const (
	tellingM     = 500.0 // row sown before a measured rate is believed
	tellingShare = 0.05  // by which the measured rate must differ to be told
	soonShare    = 0.15  // of a tub left
)

// RunOut reads the last hopper level against what was mixed. ok is false before the first
// tub, and where rows or recipe are missing.
func (j TruckJob) RunOut() (r RunOut, ok bool) {
	f := j.Facts
	if f.Recipe == nil || f.Layout == nil || len(f.Tubs) == 0 {
		return RunOut{}, false
	}
	fedL := f.fedL()
	r = RunOut{PlannedM: j.Rows.RowM, ReckonedL: f.placementML() / f.Layout.SpacingM}
	r.SownM, _ = f.SownM()
	r.LeftL = max(0, fedL-r.SownM/1000*r.ReckonedL)
	if reading, read := j.lastHopper(); read {
		r.take(reading, fedL, j.fedAfterL())
	}
	r.LastsM = 1000 * r.LeftL / r.rate()
	r.EndsAtM = r.SownM + r.LastsM
	r.allEnds(f)
	r.tell(f.Recipe.TubL, f.LeftM(j.Rows.RowM) >= 1)
	return r, true
}

// take reads the level: what was fed before it and is not in the hoppers went out. What
// was fed after it may be below 0, where a clean-out came after it.
func (r *RunOut) take(reading HopperReading, fedL, fedAfterL float64) {
	r.SownM = max(r.SownM, reading.RowM)
	r.LeftL = max(0, reading.LeftL+fedAfterL)
	if used := fedL - fedAfterL - reading.LeftL; used > 0 && reading.RowM >= tellingM {
		r.MeasuredL = used / (reading.RowM / 1000)
	}
	if r.SownM > reading.RowM { // a day sheet came after the reading
		r.LeftL = max(0, r.LeftL-(r.SownM-reading.RowM)/1000*r.rate())
	}
}

// rate is what really goes out where that is known, else what the sheet goes by.
func (r RunOut) rate() float64 {
	if r.MeasuredL > 0 {
		return r.MeasuredL
	}
	return r.ReckonedL
}

// allEnds reckons the tubs still to be mixed in, at the rate that the mix really goes out.
func (r *RunOut) allEnds(f Facts) {
	toMixL := f.LeftM(r.PlannedM) / 1000 * r.ReckonedL
	r.AllEndsAtM = min(r.PlannedM, r.EndsAtM+1000*toMixL/r.rate())
}

func (r *RunOut) tell(tubL float64, more bool) {
	ends := min(r.EndsAtM, r.PlannedM)
	r.Says = fmt.Sprintf("%s L left, for %s row-km: the mix made so far ends at %s of %s row-km.",
		unit.Grouped(r.LeftL, 0), rowKm(r.LastsM), rowKm(ends), rowKm(r.PlannedM))
	off := r.MeasuredL/r.ReckonedL - 1
	switch {
	case r.MeasuredL > 0 && off > tellingShare:
		r.Warning = fmt.Sprintf("%s L went out per row-km where the sheet reckons with %s: %s %% heavy. With all that the sheet mixes it ends at %s of %s row-km. Make a catch test now.",
			unit.Grouped(r.MeasuredL, 1), unit.Grouped(r.ReckonedL, 1), unit.Grouped(100*off, 0), rowKm(r.AllEndsAtM), rowKm(r.PlannedM))
	case r.MeasuredL > 0 && off < -tellingShare:
		r.Warning = fmt.Sprintf("%s L went out per row-km where the sheet reckons with %s: %s %% light, and so is the seed. Make a catch test now.",
			unit.Grouped(r.MeasuredL, 1), unit.Grouped(r.ReckonedL, 1), unit.Grouped(-100*off, 0))
	case r.LeftL < 1 && more:
		r.Warning = "The hoppers are empty: mix the next tub."
	case r.LeftL < soonShare*tubL && more:
		r.Warning = fmt.Sprintf("The hoppers run out in %s row-km: mix the next tub.", rowKm(r.LastsM))
	}
}

func rowKm(m float64) string { return unit.Grouped(m/1000, 1) }

// fedL is all the mix made so far, in L, less what came out at clean-outs.
func (f Facts) fedL() float64 { return f.fedSinceL(func(time.Time) bool { return true }) }

// fedSinceL counts the tubs and clean-outs whose moment counts.
func (f Facts) fedSinceL(counts func(time.Time) bool) (l float64) {
	for _, tub := range f.Tubs {
		if counts(tub.MixedAt) {
			l += float64(tub.MixML) / 1000
		}
	}
	for _, c := range f.CleanOuts {
		if counts(c.MadeAt) {
			l -= float64(c.MixML) / 1000
		}
	}
	return l
}

// lastHopper is the last hopper level entered.
func (j TruckJob) lastHopper() (reading HopperReading, ok bool) {
	if e := j.lastOf(HopperEntry); e != nil && e.Hopper != nil {
		return *e.Hopper, true
	}
	return HopperReading{}, false
}

func (j TruckJob) lastOf(kind EntryKind) *TruckEntry {
	for i := len(j.Kept) - 1; i >= 0; i-- {
		if j.Kept[i].Kind == kind {
			return &j.Kept[i]
		}
	}
	return nil
}

// fedAfterL is what was fed since the last hopper level.
func (j TruckJob) fedAfterL() float64 {
	level := j.lastOf(HopperEntry)
	return j.Facts.fedSinceL(func(at time.Time) bool { return level != nil && at.After(level.At) })
}
