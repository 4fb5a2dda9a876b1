package job

import (
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"rowtally/internal/sown"
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
	OverrunM float64      `json:"overrun_m"` // past its planned ends
	Sown     [][2]float64 `json:"sown"`      // where it was sown, also past its ends: stretches along the row, metres of the plan's plane
	Missed   [][2]float64 `json:"missed"`    // where it was planned and not sown, stretches of a metre and more
	Doubled  [][2]float64 `json:"doubled"`   // where it was sown more than once, stretches of a metre and more
}

// SownLap is one row of a headland pass with what the log says of it, in metres of row.
type SownLap struct {
	Pass     int       `json:"pass"` // from the outside in
	Row      int       `json:"row"`  // of the pass, from the outside in
	PlannedM float64   `json:"planned_m"`
	CoveredM float64   `json:"covered_m"`
	MissedM  float64   `json:"missed_m"`
	DoubledM float64   `json:"doubled_m"`
	Sown     []Stretch `json:"sown,omitempty"` // straight pieces of the plan's plane
	Missed   []Stretch `json:"missed,omitempty"`
}

// RefusedFix is a line of a log that was not used, or several in a row, and why.
type RefusedFix struct {
	File   string `json:"file"` // name of the log
	Line   int    `json:"line"`
	ToLine int    `json:"to_line,omitempty"` // the last of several lines with one reason; 0 for one line
	Why    string `json:"why"`
}

// SownFile is a log that a record was made from, with the machine that it was matched for.
type SownFile struct {
	Name         string    `json:"name"`
	Format       string    `json:"format"` // as Log.Format
	SHA256       string    `json:"sha256"` // of the file's bytes, hexadecimal
	Bytes        int       `json:"bytes"`
	Fixes        int       `json:"fixes"`   // that could be used
	Refused      int       `json:"refused"` // lines and fixes that could not
	From         time.Time `json:"from"`    // first fix, UTC; zero where no day is known
	To           time.Time `json:"to"`
	PassRows     int       `json:"pass_rows"`
	RowGapM      float64   `json:"row_gap_m"`
	OffsetRightM float64   `json:"offset_right_m"`
	BehindM      float64   `json:"behind_m"`
}

// Machine says what the log was matched for.
func (f SownFile) Machine() string {
	says := "one row"
	if f.PassRows > 1 {
		says = fmt.Sprintf("%d rows %s m apart", f.PassRows, unit.Plain(f.RowGapM))
	}
	switch {
	case f.OffsetRightM > 0:
		says += fmt.Sprintf(", %s m right of the antenna", unit.Plain(f.OffsetRightM))
	case f.OffsetRightM < 0:
		says += fmt.Sprintf(", %s m left of the antenna", unit.Plain(-f.OffsetRightM))
	}
	switch {
	case f.BehindM > 0:
		says += fmt.Sprintf(", %s m behind it", unit.Plain(f.BehindM))
	case f.BehindM < 0:
		says += fmt.Sprintf(", %s m ahead of it", unit.Plain(-f.BehindM))
	}
	return says
}

// detail is what a record keeps beside its sums.
type detail struct {
	Measuring Measuring `json:"measuring"` // first, so that it is read without the rest

	Rows     []SownRow    `json:"rows"`
	Headland []SownLap    `json:"headland,omitempty"` // where its passes are in the row-km
	Refused  []RefusedFix `json:"refused"`
	Files    []SownFile   `json:"files"`
	Notes    []string     `json:"notes"`
}

func (s Sown) detail() detail {
	if s.read == nil {
		return readDetail(s.Detail)
	}
	d, _ := s.read.of(s.Detail, func() (detail, error) { return readDetail(s.Detail), nil })
	return d
}

func readDetail(text string) (d detail) {
	_ = json.Unmarshal([]byte(text), &d) // written by Match alone; an empty record has none
	return d
}

// MatchedWith are the settings that the record was matched with.
func (s Sown) MatchedWith() Measuring {
	in := json.NewDecoder(strings.NewReader(s.Detail))
	_, _ = in.Token() // the brace
	var m Measuring
	if name, err := in.Token(); err != nil || name != "measuring" || in.Decode(&m) != nil {
		return UsualMeasuring // an empty record, or one made before there were settings
	}
	return m
}

// Rows are the rows of the record.
func (s Sown) Rows() []SownRow { return s.detail().Rows }

// Headland are the rows of the headland passes, where they are in the row-km.
func (s Sown) Headland() []SownLap { return s.detail().Headland }

// RefusedFixes are the lines of the logs that were not used.
func (s Sown) RefusedFixes() []RefusedFix { return s.detail().Refused }

// Files are the logs that the record was made from, in the order of their loading.
func (s Sown) Files() []SownFile { return s.detail().Files }

// Notes are what a person should look at before the figures are used, each a clause
// without a full stop; none for a plain log.
func (s Sown) Notes() []string { return s.detail().Notes }

// Summed is what the plain sum of the distances from fix to fix would have made of the
// row metres, as a sentence: it is shown beside the record, never billed.
func (s Sown) Summed() string {
	if s.TrackRowsM == 0 {
		return ""
	}
	return fmt.Sprintf("Summing fix to fix would say %s row-km, for scatter of the receiver lengthens every step; the projection says %s.", km(s.TrackRowsM), km(s.SownM))
}

// MeasuredHow is what stands on papers and pages: how it was measured, and with which
// settings.
func (s Sown) MeasuredHow() string {
	if s.SownBy == "" {
		return s.Measured()
	}
	return s.Measured() + " " + s.MatchedWith().Says(s.SownBy)
}

// Measured is how it was measured, in short.
func (s Sown) Measured() string {
	says := fmt.Sprintf("Measured from the machine's log: %s fixes in %d passes, laid over the planned rows; each row counted once, %s of %s row-km covered.",
		unit.Grouped(float64(s.Fixes), 0), s.Passes, km(s.CoveredM), km(s.PlannedM))
	if s.DoubledM >= 10 {
		says += fmt.Sprintf(" %s row-km were passed over twice and are not counted again.", km(s.DoubledM))
	}
	if s.BridgedM >= 10 {
		says += fmt.Sprintf(" %s row-km of it lie across dropouts of reception.", km(s.BridgedM))
	}
	if s.UncertaintyM > 0 {
		says += fmt.Sprintf(" The length may err by %s row-km.", unit.Grouped(sown.MayErrKm(s.UncertaintyM), 2))
	}
	return says
}

// Working shows how the row-km sown follow from the log.
func (s Sown) Working() working.Steps {
	const err = "2 × √ of the sum, over both ends of every pass, of rows² × (scatter² + step² ÷ 12), and of its bridged metres² ÷ 12; a step is the way between the two fixes of a change of state, or where a turn tells the end the way off the line that ends a pass; beside it, what passes lie aside of their rows from pass to pass"
	const how = "each pass is projected on its planned row; the sum of fix-to-fix distances is not used"
	return working.Steps{}.
		Add("planned", "rows of the plan", working.Number(s.PlannedM/1000, 3), "row-km", "").
		Add("covered", how, working.Number(s.CoveredM/1000, 3), "row-km", "").
		Add("missed", "planned − covered", working.Number(s.MissedM/1000, 3), "row-km", "").
		Add("doubled", "passed over more than once, beyond the first", working.Number(s.DoubledM/1000, 3), "row-km", "").
		Add("overrun", "beyond the ends of planned rows", working.Number(s.OverrunM/1000, 3), "row-km", "").
		Add("sown in all", "covered + doubled + overrun", working.Number(s.SownM/1000, 3), "row-km", "").
		Add("may err by", err, working.Number(s.UncertaintyM/1000, 3), "row-km", "about 95 %, from the log's own scatter").
		Add("of it across dropouts", "both sides on one line and the same rows, or on to the end of the row where the speed before reaches it", working.Number(s.BridgedM/1000, 3), "row-km", "").
		Add("past the ends, not counted", "driven straight on where no state tells of sowing", working.Number(s.PastEndsM/1000, 3), "row-km", "").
		Add("sown off the plan", "on no planned row; not billed", working.Number(s.UnplannedM/1000, 3), "row-km", "").
		Add("of that along curves", "by way points 10 m and more apart, so that scatter does not lengthen it", working.Number(s.CurvedM/1000, 3), "row-km", "").
		Add("scatter of the log", "beside the lines of its passes, standard deviation", working.Number(s.ScatterM, 2), "m", "").
		Add("summed fix to fix", "each step × the rows sown; not used", working.Number(s.TrackRowsM/1000, 3), "row-km", "")
}

// addSown draws where rows were sown over the planned ones.
func (f Facts) addSown(m *Map, laid Laid) {
	if f.Sown == nil {
		return
	}
	byRow := map[int]SownRow{}
	kept := f.Sown.detail()
	for _, row := range kept.Rows {
		byRow[row.Row] = row
	}
	for _, row := range laid.Rows {
		one := byRow[row.Number]
		m.Sown = append(m.Sown, laid.stretches(one.Sown, row.OffsetM)...)
		m.Missed = append(m.Missed, laid.stretches(one.Missed, row.OffsetM)...)
	}
	for _, lap := range kept.Headland {
		m.Sown, m.Missed = append(m.Sown, lap.Sown...), append(m.Missed, lap.Missed...)
	}
}

// stretches places stretches along a row on the map.
func (l Laid) stretches(along [][2]float64, offsetM float64) (out []Stretch) {
	for _, s := range along {
		out = append(out, StretchOf(l.Place(s[0], offsetM), l.Place(s[1], offsetM)))
	}
	return out
}
