package job

import (
	"fmt"

	"rowtally/internal/unit"
)

// Says tells an entry in a few words.
func (e TruckEntry) Says() string {
	switch {
	case e.Kind == TubEntry && e.Tub != nil && e.Tub.Number > 0:
		return fmt.Sprintf("tub %d, %s L", e.Tub.Number, litres(e.Tub.MixML))
	case e.Kind == TubEntry && e.Tub != nil:
		return fmt.Sprintf("the next tub, %s L", litres(e.Tub.MixML))
	case e.Kind == MeterEntry && e.Meter != nil:
		return fmt.Sprintf("meter at %s h", unit.Grouped(float64(e.Meter.Minutes)/60, 1))
	case e.Kind == HopperEntry && e.Hopper != nil:
		return fmt.Sprintf("%s L left in the hoppers at %s row-km", unit.Grouped(e.Hopper.LeftL, 0), rowKm(e.Hopper.RowM))
	case e.Kind == CleanOutEntry && e.Remains != nil && e.Remains.Kept:
		return "clean-out, " + litres(e.Remains.MixML) + " L kept"
	case e.Kind == CleanOutEntry && e.Remains != nil:
		return "clean-out, " + litres(e.Remains.MixML) + " L thrown away"
	case e.Kind == DrillEntry && e.Drill != nil:
		return fmt.Sprintf("drill loaded, %s kg for %s ha", unit.Grouped(float64(e.Drill.Grams())/1000, 1), unit.Grouped(e.Drill.Ha, 1))
	case e.Kind == CountEntry && e.Count != nil:
		return countSays(*e.Count)
	case e.Kind == FuelEntry:
		return litres(e.FuelML) + " L of fuel"
	case e.Kind == NoteEntry && e.PhotoBytes > 0 && e.Text == "":
		return "a photo"
	case e.Kind == NoteEntry && e.PhotoBytes > 0:
		return "note with a photo: " + e.Text
	case e.Kind == NoteEntry:
		return "note: " + e.Text
	case e.Kind == DayEntry && e.Day != nil:
		return fmt.Sprintf("day sheet of %s, %s row-km", e.Day.Day, rowKm(e.Day.RowM))
	}
	return string(e.Kind)
}
