package job

import (
	"math"
	"strings"

	"rowtally/internal/count"
	"rowtally/internal/fault"
	"rowtally/internal/machine"
	"rowtally/internal/unit"
)

// Check refuses an entry that cannot be right, before it is queued and again before it is
// kept. What the books forbid is decided by the store alone.
func (e TruckEntry) Check(today unit.Date) error {
	switch {
	case e.Key == "" || len(e.Key) > 100:
		return fault.Refuse("key", "the entry has no key, enter it again")
	case e.JobID < 1 && e.Kind != MeterEntry:
		return fault.Refuse("job", "the entry names no job, open the job and enter it again")
	}
	return e.checkKind(today)
}

func (e TruckEntry) checkKind(today unit.Date) error {
	switch e.Kind {
	case TubEntry:
		return given(e.Tub != nil, "the tub")
	case CatchEntry:
		if e.Catch == nil {
			return given(false, "the catch")
		}
		return e.Catch.check()
	case DayEntry:
		if e.Day == nil {
			return given(false, "the day sheet")
		}
		return CheckDaySheet(*e.Day, today)
	case MeterEntry:
		return e.checkMeter(today)
	case HopperEntry:
		return e.checkHopper()
	case CleanOutEntry:
		return e.Remains.check()
	case CountEntry:
		if e.Count == nil {
			return given(false, "the count")
		}
		return e.Count.Check(count.MostPlaces, today)
	case DrillEntry:
		if e.Drill == nil {
			return given(false, "the drill load")
		}
		return e.Drill.Check()
	case FuelEntry:
		return within("fuel_l", "the fuel, in L,", float64(e.FuelML)/1000, 0.1, 5000)
	case NoteEntry:
		return e.checkNote()
	case StandbyStart, StandbyStop:
		return nil
	case UndoEntry:
		return given(e.Undoes != nil && (e.Undoes.Key != "" || e.Undoes.ID > 0), "what is undone")
	}
	return fault.Refuse("kind", "%q is no kind of entry of this program: load the day's work again", e.Kind)
}

func given(is bool, what string) error {
	if is {
		return nil
	}
	return fault.Refuse("kind", "the entry lacks %s, enter it again", what)
}

// checkNote wants words, a photo, or both.
func (e TruckEntry) checkNote() error {
	switch text := strings.TrimSpace(e.Text); {
	case text == "" && e.PhotoBytes == 0:
		return fault.Refuse("text", "a note has 1 to 2000 letters, or a photo: enter what is to be remembered")
	case len(text) > 2000:
		return fault.Refuse("text", "a note has 1 to 2000 letters: enter what is to be remembered")
	case e.PhotoBytes < 0 || e.PhotoBytes > MostPhotoBytes:
		return fault.Refuse("photo", "a photo has up to %d MB: take it again", MostPhotoBytes>>20)
	}
	return nil
}

func (e TruckEntry) checkMeter(today unit.Date) error {
	if e.Meter == nil {
		return given(false, "the reading")
	}
	if e.Meter.On > today {
		return fault.Refuse("on", "%s is still to come: enter the day on which the meter was read", e.Meter.On)
	}
	return within("meter_h", "the meter, in h,", float64(e.Meter.Minutes)/60, 0, 1_000_000)
}

func (e TruckEntry) checkHopper() error {
	if e.Hopper == nil {
		return given(false, "the hopper's level")
	}
	if err := within("left_l", "what is left, in L,", e.Hopper.LeftL, 0, 100_000); err != nil {
		return err
	}
	return within("row_km", "the row-km sown", e.Hopper.RowM/1000, 0, 10_000)
}

// within refuses a figure outside least to most, and what is no number.
func within(field, what string, v, least, most float64) error {
	if v >= least && v <= most && !math.IsNaN(v) {
		return nil
	}
	return fault.Refuse(field, "%s is %s: enter %s to %s", what, unit.Grouped(v, 1), unit.Grouped(least, 1), unit.Grouped(most, 1))
}

// MostPlacements is more than any machine drops in a day: a count beyond it is a slip.
const MostPlacements = 10_000_000

// CheckDaySheet refuses a day sheet that cannot be right.
func CheckDaySheet(d machine.DaySheet, today unit.Date) error {
	const mostMin = 60 * 1_000_000
	hours := func(min int64) string { return unit.Grouped(float64(min)/60, 1) }
	switch {
	case d.MachineID < 1:
		return fault.Refuse("machine", "Choose the machine.")
	case d.Day > today:
		return fault.Refuse("day", "%s is still to come: enter the day that was worked.", d.Day)
	case d.MeterFromMin < 0 || d.MeterToMin > mostMin:
		return fault.Refuse("meter_to", "a meter shows 0 to 1 000 000 h: read it again.")
	case d.MeterToMin < d.MeterFromMin:
		return fault.Refuse("meter_to", "The meter went from %s h back to %s h: one of the two readings is wrong.", hours(d.MeterFromMin), hours(d.MeterToMin))
	case d.RunMin() > 24*60:
		return fault.Refuse("meter_to", "The meter ran %s h in one day: one of the two readings is wrong.", hours(d.RunMin()))
	case d.StandbyMin < 0 || d.StandbyMin > 24*60:
		return fault.Refuse("standby_min", "%d min is no part of one day: enter 0 to 1 440 min.", d.StandbyMin)
	}
	if err := within("placements", "the day's count of placements", float64(d.Placements), 0, MostPlacements); err != nil {
		return err
	}
	if err := within("row_km", "the length sown, in row-km,", d.RowM/1000, 0, 500); err != nil {
		return err
	}
	return within("fuel_l", "the fuel, in L,", float64(d.FuelML)/1000, 0, 5000)
}
