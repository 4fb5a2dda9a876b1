package job

import (
	"encoding/json"
	"fmt"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// SownRow is one planned row with what the log says of it, in metres of row.
type SownRow struct {
	Row      int          `json:"row"`
	PlannedM float64      `json:"planned_m"`
	CoveredM float64      `json:"covered_m"`
	MissedM  float64      `json:"missed_m"`
	DoubledM float64      `json:"doubled_m"`
	Sown     [][2]float64 `json:"sown"` // where it was sown, also past its ends: stretches along the row, metres of the plan's plane
}

// RefusedFix is a line of a log that was not used, and why.
type RefusedFix struct {
	Line int    `json:"line"`
	Why  string `json:"why"`
}

// detail is what a record keeps beside its sums.
type detail struct {
	Rows    []SownRow    `json:"rows"`
	Refused []RefusedFix `json:"refused"`
}

func (s Sown) detail() (d detail) {
	_ = json.Unmarshal([]byte(s.Detail), &d) // written by Match alone; an empty record has none
	return d
}

// Rows are the rows of the record.
func (s Sown) Rows() []SownRow { return s.detail().Rows }

// RefusedFixes are the lines of the logs that were not used.
func (s Sown) RefusedFixes() []RefusedFix { return s.detail().Refused }

// MeasuredHow is the sentence that stands on papers and pages.
func (s Sown) MeasuredHow() string {
	says := fmt.Sprintf("Measured from the machine's log: %s fixes in %d passes, laid over the planned rows; each row counted once, %s of %s row-km covered.",
		unit.Grouped(float64(s.Fixes), 0), s.Passes, km(s.CoveredM), km(s.PlannedM))
	if s.DoubledM >= 10 {
		says += fmt.Sprintf(" %s row-km were passed over twice and are not counted again.", km(s.DoubledM))
	}
	return says
}

// Working shows how the row-km sown follow from the log.
func (s Sown) Working() working.Steps {
	const how = "each pass is projected on its planned row; the sum of fix-to-fix distances is not used"
	return working.Steps{}.
		Add("planned", "rows of the plan", working.Number(s.PlannedM/1000, 3), "row-km", "").
		Add("covered", how, working.Number(s.CoveredM/1000, 3), "row-km", "").
		Add("missed", "planned − covered", working.Number(s.MissedM/1000, 3), "row-km", "").
		Add("doubled", "passed over more than once, beyond the first", working.Number(s.DoubledM/1000, 3), "row-km", "").
		Add("overrun", "beyond the ends of planned rows", working.Number(s.OverrunM/1000, 3), "row-km", "").
		Add("sown in all", "covered + doubled + overrun", working.Number(s.SownM/1000, 3), "row-km", "").
		Add("sown off the plan", "on no planned row; not billed", working.Number(s.UnplannedM/1000, 3), "row-km", "")
}

// addSown draws where rows were sown over the planned ones.
func (f Facts) addSown(m *Map, laid Laid) {
	if f.Sown == nil {
		return
	}
	byRow := map[int]SownRow{}
	for _, row := range f.Sown.Rows() {
		byRow[row.Row] = row
	}
	for _, row := range laid.Rows {
		for _, stretch := range byRow[row.Number].Sown {
			m.Sown = append(m.Sown, StretchOf(laid.Place(stretch[0], row.OffsetM), laid.Place(stretch[1], row.OffsetM)))
		}
	}
}
