package sown

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/rows"
)

// Record is a sown record: logs matched to the planned rows. Lengths are metres of row on
// the ground, every row counted, each the extent projected on its row.
//
// CoveredM + MissedM = PlannedM, and SownM = CoveredM + DoubledM + OverrunM.
type Record struct {
	Fixes        int       `json:"fixes"` // that were used
	RefusedFixes []Refused `json:"refused_fixes"`
	Passes       int       `json:"passes"` // that lay on a planned row
	PlannedM     float64   `json:"planned_m"`
	CoveredM     float64   `json:"covered_m"`   // planned and sown at least once
	MissedM      float64   `json:"missed_m"`    // planned and not sown
	DoubledM     float64   `json:"doubled_m"`   // sown again, once for every time after the first
	OverrunM     float64   `json:"overrun_m"`   // on planned rows beyond their spans
	UnplannedM   float64   `json:"unplanned_m"` // on no planned row; not in SownM
	SownM        float64   `json:"sown_m"`
	Rows         []RowSown `json:"rows"`

	Headland []HeadlandSown `json:"headland,omitempty"` // row by row, where the plan counts its headland passes: part of all sums above

	CurvedM      float64  `json:"curved_m"`           // part of UnplannedM that follows no straight row: along curves, headlands and turns, by the way thinned to 10 m and more
	SownBy       string   `json:"sown_by"`            // "flag", "place" or "flag and place": what told where it was sowing
	TrackM       float64  `json:"track_m"`            // driven while sowing, fix to fix: scatter lengthens it, never invoice it
	TrackRowM    float64  `json:"track_row_m"`        // the same, once for each row sown in it: the row metres that summing would make
	DopplerM     *float64 `json:"doppler_m,omitzero"` // driven while sowing, logged speed × time; absent where speeds are not logged
	BridgedM     float64  `json:"bridged_m"`          // row metres across dropouts, part of SownM
	PastEndsM    float64  `json:"past_ends_m"`        // driven straight on past the planned ends; no flag says it was sown, so it is not in SownM
	ScatterM     float64  `json:"scatter_m"`          // of the fixes beside their lines, standard deviation
	UncertaintyM float64  `json:"uncertainty_m"`      // of SownM, about 95 %: the ends of the passes and the dropouts
	PassList     []Pass   `json:"pass_list"`
	Notes        []string `json:"notes"`
}

// RefusedCount is how many lines and fixes of the logs were not used.
func (r Record) RefusedCount() int {
	count := 0
	for _, refused := range r.RefusedFixes {
		count += max(1, refused.Fixes)
	}
	return count
}

// RowSown is what became of one planned row.
type RowSown struct {
	Row      int      `json:"row"` // its number in the plan
	PlannedM float64  `json:"planned_m"`
	CoveredM float64  `json:"covered_m"`
	MissedM  float64  `json:"missed_m"`
	DoubledM float64  `json:"doubled_m"`
	OverrunM float64  `json:"overrun_m"`
	Sown     []Extent `json:"sown"`    // where it was sown, planned or not, every metre once
	Missed   []Extent `json:"missed"`  // where it was planned and not sown
	Doubled  []Extent `json:"doubled"` // where it was sown more than once

	// GroundPerPlane turns the plane metres of extents into metres on the ground.
	GroundPerPlane float64 `json:"-"`
}

// Input is a log, the plan that it is matched to, and the machine.
type Input struct {
	Log        LogText    `json:"log"`
	Plan       rows.Input `json:"plan"`
	Implement  *Implement `json:"implement,omitempty"` // one row below the antenna when nil
	Tolerances Tolerances `json:"tolerances,omitzero"`
}

// LogText is a log file as text.
type LogText struct {
	Format string `json:"format"` // "gpx", "csv", "nmea" or "geojson"
	Text   string `json:"text"`
}

// Measure reads a log, lays out the plan and matches the one to the other.
func Measure(in Input) (Record, error) {
	plan, err := rows.Lay(in.Plan)
	if err != nil {
		return Record{}, fault.Under("plan", err)
	}
	if plan.Frame == nil {
		return Record{}, fault.Refuse("plan.boundary_m", "a boundary in metres has no place on the earth to match a log to, give boundary as GeoJSON")
	}
	log, err := Read(in.Log.Format, in.Log.Text)
	if err != nil {
		return Record{}, fault.Under("log", err)
	}
	machine := AtAntenna
	if in.Implement != nil {
		machine = *in.Implement
	}
	return Match(plan, []Log{log}, machine, in.Tolerances)
}

// Drive is a log and the machine that drove it.
type Drive struct {
	Name    string // of the log, for what is said of it
	Log     Log
	Machine Implement
}

// Match matches logs of one machine to the rows of a plan that lies on the earth. It
// refuses an implement or a tolerance out of range, a plan without rows, no log, and a log
// that lies elsewhere.
func Match(plan rows.Plan, logs []Log, machine Implement, tolerances Tolerances) (Record, error) {
	drives := make([]Drive, len(logs))
	for i, log := range logs {
		drives[i] = Drive{fmt.Sprintf("log %d", i+1), log, machine}
	}
	return MatchDrives(plan, drives, tolerances)
}

// MatchDrives matches logs of several machines, each with the rows of its own; what any of
// them sowed of a row counts once. Where two logs hold the same machine at the same time,
// the one that tells the implement's state counts, else the earlier in the list.
func MatchDrives(plan rows.Plan, drives []Drive, tolerances Tolerances) (Record, error) {
	m, err := newMatcher(plan, drives, tolerances)
	if err != nil {
		return Record{}, err
	}
	for i, drive := range m.once(drives) {
		m.match(i, drive)
	}
	return m.sumUp(), nil
}
