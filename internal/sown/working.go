package sown

import (
	"fmt"

	"rowtally/internal/working"
)

const (
	projected = "each pass projected on its row, end to end; never the sum of fix-to-fix distances, which scatter lengthens"
	ourChoice = "tolerances are the contractor's own settings"
)

// Working shows how the record came from the log.
func (r Record) Working() working.Steps {
	rowKm := func(m float64) working.Value { return working.Number(m/1000, 3) }
	steps := working.Steps{}.
		Add("fixes used", fmt.Sprintf("%d fixes less %d refused", r.Fixes+r.RefusedCount(), r.RefusedCount()), working.Number(float64(r.Fixes), 0), "fixes", "").
		Add("passes", "straight drives on planned rows while sowing, told by "+r.SownBy, working.Number(float64(r.Passes), 0), "passes", ourChoice).
		Add("planned", "sum of the spans of every row", rowKm(r.PlannedM), "row-km", "").
		Add("covered", "planned ground sown at least once, row by row", rowKm(r.CoveredM), "row-km", projected).
		Add("missed", "planned - covered", rowKm(r.MissedM), "row-km", "").
		Add("doubled", "all passes of a row - their ground counted once", rowKm(r.DoubledM), "row-km", "").
		Add("overrun", "ground sown on planned rows - covered", rowKm(r.OverrunM), "row-km", "").
		Add("sown", "covered + doubled + overrun", rowKm(r.SownM), "row-km", "").
		Add("sown, may err by", "ends of passes, flag steps, dropouts: 2 x root of the sum of squares", working.Number(r.UncertaintyM, 1), "m", "about 95 %, our estimate from the log's own scatter").
		Add("on no planned row", "not in the row-km sown", rowKm(r.UnplannedM), "row-km", "").
		Add("driven while sowing", "sum of fix-to-fix distances, beside it", working.Number(r.TrackM/1000, 3), "driven km", "").
		Add("scatter of the log", "middle of the passes' standard deviations beside their lines", working.Number(r.ScatterM, 2), "m", "")
	if r.DopplerM != nil {
		steps = steps.Add("driven while sowing", "sum of logged speed x time, beside it", working.Number(*r.DopplerM/1000, 3), "driven km", "")
	}
	if r.BridgedM > 0 {
		steps = steps.Add("across dropouts", "part of sown", rowKm(r.BridgedM), "row-km", ourChoice)
	}
	return steps
}
