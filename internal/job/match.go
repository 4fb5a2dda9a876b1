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

// Match lays the logs of a job, with their content, over its planned rows. A log that
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
	return sownOf(f.Job.ID, record)
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

// sownOf is a match as it is kept: its sums, and row by row in JSON.
func sownOf(jobID int64, r sown.Record) (Sown, error) {
	kept := Sown{
		JobID: jobID, PlannedM: r.PlannedM, CoveredM: r.CoveredM, MissedM: r.MissedM, DoubledM: r.DoubledM,
		OverrunM: r.OverrunM, UnplannedM: r.UnplannedM, SownM: r.SownM, Fixes: r.Fixes, Passes: r.Passes,
	}
	var d detail
	for _, row := range r.Rows {
		d.Rows = append(d.Rows, SownRow{row.Row, row.PlannedM, row.CoveredM, row.MissedM, row.DoubledM, stretchesOf(row.Sown)})
	}
	for _, one := range r.RefusedFixes {
		d.Refused = append(d.Refused, RefusedFix{one.Line, one.Why})
	}
	text, err := json.Marshal(d)
	kept.Detail = string(text)
	return kept, err
}

func stretchesOf(extents []sown.Extent) [][2]float64 {
	out := make([][2]float64, len(extents))
	for i, e := range extents {
		out[i] = [2]float64{e.FromM, e.ToM}
	}
	return out
}
