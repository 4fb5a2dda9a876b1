package job

import (
	"encoding/json"
	"path"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/sown"
)

// LogFormat tells a log's format by its name's ending, else by how it begins.
func LogFormat(name string, content []byte) string {
	switch ending := strings.TrimPrefix(strings.ToLower(path.Ext(name)), "."); ending {
	case "gpx", "csv", "nmea", "geojson":
		return ending
	case "json":
		return "geojson"
	}
	switch begin := strings.TrimLeft(string(content[:min(len(content), 64)]), "\ufeff \t\r\n"); {
	case strings.HasPrefix(begin, "<"):
		return "gpx"
	case strings.HasPrefix(begin, "{"):
		return "geojson"
	case strings.HasPrefix(begin, "$"):
		return "nmea"
	}
	return "csv"
}

// Match lays the logs of a job, with their content and its hash, over its planned rows. A log that
// cannot be read, or lies elsewhere, is refused with the field "log".
func Match(f Facts, logs []Log) (Sown, error) {
	laid, err := f.Rows()
	if err != nil {
		return Sown{}, err
	}
	machine, err := oneMachine(logs)
	if err != nil {
		return Sown{}, err
	}
	var read []sown.Log
	for _, log := range logs {
		one, err := sown.Read(LogFormat(log.Name, log.Content), string(log.Content))
		if err != nil {
			return Sown{}, refusedLog(log, err)
		}
		read = append(read, one)
	}
	record, err := sown.Match(laid.Plan, read, machine, sown.Tolerances{})
	if err != nil {
		return Sown{}, refusedLog(logs[len(logs)-1], err)
	}
	return sownOf(f.Job.ID, record, filesOf(logs, read))
}

// oneMachine is the machine of every log: rows sown by unlike machines are not matched
// together.
func oneMachine(logs []Log) (sown.Implement, error) {
	last := logs[len(logs)-1]
	for _, log := range logs {
		if log.PassRows != last.PassRows || log.RowGapM != last.RowGapM || log.OffsetRightM != last.OffsetRightM {
			return sown.Implement{}, fault.Refuse("rows", "%s was loaded for a machine of %d rows %s m apart, %s m right of the antenna: enter the same, or take that log out first",
				log.Name, log.PassRows, plain(log.RowGapM), plain(log.OffsetRightM))
		}
	}
	return sown.Implement{Rows: last.PassRows, RowGapM: last.RowGapM, OffsetRightM: last.OffsetRightM}, nil
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
func filesOf(logs []Log, read []sown.Log) []SownFile {
	files := make([]SownFile, len(logs))
	for i, log := range logs {
		files[i] = SownFile{
			Name: log.Name, Format: LogFormat(log.Name, log.Content), SHA256: log.SHA256, Bytes: len(log.Content),
			Fixes: len(read[i].Fixes), Refused: len(read[i].Refused),
			PassRows: log.PassRows, RowGapM: log.RowGapM, OffsetRightM: log.OffsetRightM, BehindM: log.BehindM,
		}
		files[i].From, files[i].To = read[i].Span()
	}
	return files
}

// sownOf is a match as it is kept: its sums, and row by row in JSON.
func sownOf(jobID int64, r sown.Record, files []SownFile) (Sown, error) {
	kept := Sown{
		JobID: jobID, PlannedM: r.PlannedM, CoveredM: r.CoveredM, MissedM: r.MissedM, DoubledM: r.DoubledM,
		OverrunM: r.OverrunM, UnplannedM: r.UnplannedM, SownM: r.SownM, Fixes: r.Fixes, Passes: r.Passes,
		SownBy: r.SownBy, Refused: len(r.RefusedFixes), UncertaintyM: r.UncertaintyM, BridgedM: r.BridgedM,
		PastEndsM: r.PastEndsM, TrackM: r.TrackM, TrackRowsM: r.TrackRowM, ScatterM: r.ScatterM,
	}
	d := detail{Files: files, Notes: r.Notes}
	for _, row := range r.Rows {
		d.Rows = append(d.Rows, SownRow{row.Row, row.PlannedM, row.CoveredM, row.MissedM, row.DoubledM, row.OverrunM,
			stretchesOf(row.Sown), stretchesOf(longer(row.Missed, leastMissedM))})
	}
	for _, one := range r.RefusedFixes[:min(len(r.RefusedFixes), mostRefusedKept)] {
		d.Refused = append(d.Refused, RefusedFix{Line: one.Line, Why: one.Why, File: files[max(0, one.Log-1)].Name})
	}
	text, err := json.Marshal(d)
	kept.Detail = string(text)
	return kept, err
}

// leastMissedM is the shortest stretch that is shown as missed, in metres: at the ends of
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

func stretchesOf(extents []sown.Extent) [][2]float64 {
	out := make([][2]float64, len(extents))
	for i, e := range extents {
		out[i] = [2]float64{e.FromM, e.ToM}
	}
	return out
}
