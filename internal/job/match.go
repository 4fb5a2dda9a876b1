package job

import (
	"encoding/json"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/sown"
)

// Match lays the logs of a job, with their content and its hash, over its planned rows,
// each with the rows of its own machine. A log that cannot be read, or lies elsewhere, is
// refused with the field "log", a machine or a setting that cannot be with its own.
func Match(f Facts, logs []Log) (Sown, error) {
	laid, err := f.Rows()
	if err != nil {
		return Sown{}, err
	}
	if err := f.Measured().Check(); err != nil {
		return Sown{}, err
	}
	var drives []sown.Drive
	for _, log := range logs {
		drive, err := driveOf(log)
		if err != nil {
			return Sown{}, err
		}
		drives = append(drives, drive)
	}
	files := filesOf(logs, drives)
	record, err := sown.MatchDrives(laid.Plan, drives, f.Measured().tolerances())
	if err != nil {
		return Sown{}, refusedLog(logs[len(logs)-1], err)
	}
	return sownOf(f, record, files)
}

// driveOf reads a log. Its machine is checked too, so that a refusal stands beside the
// fields of the machine.
func driveOf(log Log) (sown.Drive, error) {
	machine := sown.Implement{Rows: log.PassRows, RowGapM: log.RowGapM, OffsetRightM: log.OffsetRightM, BehindM: log.BehindM}
	if err := machine.Check(); err != nil {
		return sown.Drive{}, err
	}
	text, err := textOf(log.Content, LargestLog)
	if err != nil {
		return sown.Drive{}, refusedLog(log, err)
	}
	read, err := sown.Read(LogFormat(log.Name, log.Content), text)
	if err != nil {
		return sown.Drive{}, refusedLog(log, err)
	}
	return sown.Drive{Name: log.Name, Log: read, Machine: machine}, nil
}

// refusedLog puts a refusal beside the field of the log, with the log's name.
func refusedLog(log Log, err error) error {
	if fault.KindOf(err) != fault.Refused {
		return err
	}
	return fault.Refuse("log", "%s: %s", log.Name, err.Error())
}

// mostRefusedKept bounds the refused fixes that a record lists; Sown.Refused counts all.
const mostRefusedKept = 2000

// filesOf is what a record keeps of the files it was made from.
func filesOf(logs []Log, drives []sown.Drive) []SownFile {
	files := make([]SownFile, len(logs))
	for i, log := range logs {
		files[i] = SownFile{
			Name: log.Name, Format: LogFormat(log.Name, log.Content), SHA256: log.SHA256, Bytes: len(log.Content),
			Fixes: len(drives[i].Log.Fixes), Refused: len(drives[i].Log.Refused),
			PassRows: log.PassRows, RowGapM: log.RowGapM, OffsetRightM: log.OffsetRightM, BehindM: log.BehindM,
		}
		files[i].From, files[i].To = drives[i].Log.Span()
	}
	return files
}

// sownOf is a match as it is kept: its sums, and row by row in JSON.
func sownOf(f Facts, r sown.Record, files []SownFile) (Sown, error) {
	kept := Sown{
		JobID: f.Job.ID, PlannedM: r.PlannedM, CoveredM: r.CoveredM, MissedM: r.MissedM, DoubledM: r.DoubledM,
		OverrunM: r.OverrunM, UnplannedM: r.UnplannedM, SownM: r.SownM, Fixes: r.Fixes, Passes: r.Passes,
		SownBy: r.SownBy, Refused: r.RefusedCount(), UncertaintyM: r.UncertaintyM, BridgedM: r.BridgedM,
		PastEndsM: r.PastEndsM, CurvedM: r.CurvedM, TrackM: r.TrackM, TrackRowsM: r.TrackRowM, ScatterM: r.ScatterM,
	}
	d := detail{Measuring: f.Measured(), Files: files, Notes: r.Notes}
	for _, row := range r.Rows {
		d.Rows = append(d.Rows, SownRow{row.Row, row.PlannedM, row.CoveredM, row.MissedM, row.DoubledM, row.OverrunM,
			stretchesOf(row.Sown), stretchesOf(longer(row.Missed, leastMissedM)), stretchesOf(longer(row.Doubled, leastMissedM))})
	}
	for _, lap := range r.Headland {
		d.Headland = append(d.Headland, SownLap{lap.Pass, lap.Row, lap.PlannedM, lap.CoveredM, lap.MissedM, lap.DoubledM,
			sidesOf(lap.SownSides), sidesOf(lap.MissedSides)})
	}
	for _, one := range r.RefusedFixes[:min(len(r.RefusedFixes), mostRefusedKept)] {
		d.Refused = append(d.Refused, RefusedFix{File: files[max(0, one.Log-1)].Name, Line: one.Line, ToLine: one.ToLine, Why: one.Why})
	}
	text, err := json.Marshal(d)
	kept.Detail = string(text)
	return kept, err
}

// leastMissedM is the shortest stretch that is shown as missed or doubled, in metres: at the ends of
// a row the receiver's scatter leaves shorter ones. The sums count them all.
const leastMissedM = 1

func longer(extents []sown.Extent, leastM float64) (out []sown.Extent) {
	for _, e := range extents {
		if e.ToM-e.FromM >= leastM {
			out = append(out, e)
		}
	}
	return out
}

func sidesOf(sides [][2]ground.Point) (out []Stretch) {
	for _, side := range sides {
		out = append(out, StretchOf(side[0], side[1]))
	}
	return out
}

func stretchesOf(extents []sown.Extent) [][2]float64 {
	out := make([][2]float64, len(extents))
	for i, e := range extents {
		out[i] = [2]float64{e.FromM, e.ToM}
	}
	return out
}
