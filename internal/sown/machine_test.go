package sown

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"rowtally/internal/ground"
	"rowtally/internal/rows"
)

func ptr(v float64) *float64 { return &v }

func TestMachineBesideAndBehindTheAntenna(t *testing.T) {
	plan := paddock(t, 240, 400, 350, 2, 2, 12)
	machine := Implement{Rows: 2, RowGapM: 2, OffsetRightM: 1.8, BehindM: 5.5}
	for _, asFlag := range []bool{true, false} {
		l := rtk
		l.hz, l.asFlag, l.runOutM = 5, asFlag, 3
		drives := farm(plan, machine)
		right := logged(t, l, plan, drives, machine, Tolerances{})
		near(t, "covered", right.CoveredM, plan.RowM, 0.002*plan.RowM)
		near(t, "overrun", right.OverrunM, 0, 0.002*plan.RowM)
		for _, p := range right.PassList {
			near(t, "aside", p.AsideM, 0, 0.05)
		}
	}
	l := rtk
	l.runOutM = 3
	log := read(t, "csv", l.csvLog(plan, farm(plan, machine), machine.BehindM))
	machine.BehindM = 0
	atAntenna, err := Match(plan, []Log{log}, machine, Tolerances{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "overrun of a machine taken to be at the antenna", atAntenna.OverrunM, 5.5*float64(len(plan.Rows)), float64(len(plan.Rows)))
}

func TestStateThatTrailsTheImplement(t *testing.T) {
	plan := paddock(t, 240, 400, 90, 1, 0, 6)
	l := rtk
	l.hz, l.flagLagS, l.runOutM = 5, 2, 12
	drives := farm(plan, AtAntenna)
	asLogged := logged(t, l, plan, drives, AtAntenna, Tolerances{})
	near(t, "overrun as logged", asLogged.OverrunM, 4*float64(len(drives)), 0.1*float64(len(drives)))
	near(t, "missed as logged", asLogged.MissedM, 4*float64(len(drives)), 0.1*float64(len(drives)))
	mended := logged(t, l, plan, drives, AtAntenna, Tolerances{FlagLagS: ptr(2)})
	near(t, "overrun", mended.OverrunM, 0, 0.2*float64(len(drives)))
	near(t, "missed", mended.MissedM, 0, 0.2*float64(len(drives)))
}

// TestHalfTheTimeOfAChange: a machine that starts from rest has done a quarter of the way
// in half the time, one that stops has done three quarters.
func TestHalfTheTimeOfAChange(t *testing.T) {
	for _, c := range [][3]float64{{0, 2, 0.25}, {2, 0, 0.75}, {2, 2, 0.5}, {0, 0, 0.5}, {math.NaN(), 2, 0.5}} {
		near(t, fmt.Sprint(c), halfTimeFraction(c[0], c[1]), c[2], 1e-12)
	}
}

func TestDropouts(t *testing.T) {
	plan := paddock(t, 100, 500, 17, 2, 2, 12)
	drives := farm(plan, twin)
	for _, asFlag := range []bool{true, false} {
		l := rtk
		l.asFlag = asFlag
		whole := logged(t, l, plan, drives, twin, Tolerances{})
		l.dropouts = [][2]float64{{99.5, 140.5}} // 82 m in the first row
		bridged := logged(t, l, plan, drives, twin, Tolerances{})
		near(t, "sown, bridged", bridged.SownM, whole.SownM, 0.5)
		near(t, "bridged", bridged.BridgedM, 2*84, 5)
		if bridged.Passes != whole.Passes {
			t.Errorf("%d passes, %d without the dropout", bridged.Passes, whole.Passes)
		}
		open := logged(t, l, plan, drives, twin, Tolerances{BridgeM: ptr(50)})
		near(t, "sown, not bridged", open.SownM, whole.SownM-2*84, 5)
		near(t, "missed, not bridged", open.MissedM-whole.MissedM, 2*84, 5)
		if open.BridgedM != 0 {
			t.Errorf("%.1f m bridged over the limit", open.BridgedM)
		}
		l.dropouts = [][2]float64{{220.5, 260.5}} // over the first turn: the rows on both sides differ
		turn := logged(t, l, plan, drives, twin, Tolerances{})
		near(t, "sown, over a turn", turn.SownM, truthM(drives, twin), 5)
		near(t, "bridged, over a turn", turn.BridgedM, 2*silentRowM(l, drives), 5)
		checkLaws(t, turn)
	}
}

// silentRowM is how much of the drives was sown while the logger was silent, in driven metres.
func silentRowM(l logger, drives []drive) (sum float64) {
	stepM := l.speedMS / 100
	for i, s := range path(drives, stepM, l.runOutM, 0) {
		if s.sowing && l.silent(float64(i)/100) {
			sum += stepM
		}
	}
	return sum
}

// TestPatchyReception has a lone fix between two dropouts: it neither ends the bridge nor
// hides that the implement was lifted.
func TestPatchyReception(t *testing.T) {
	plan := paddock(t, 100, 500, 17, 2, 2, 12)
	l := rtk
	l.dropouts = [][2]float64{{99.5, 119.5}, {120.5, 140.5}}
	text := l.csvLog(plan, farm(plan, twin), 0)
	lone := strings.Index(text, "T01:02:00.000Z")
	if lone < 0 {
		t.Fatal("the lone fix is missing")
	}
	lifted := text[:lone] + strings.Replace(text[lone:], "true", "false", 1)
	for name, c := range map[string]struct {
		text    string
		bridged float64
	}{"sowing": {text, 2 * 84}, "lifted": {lifted, 0}} {
		r, err := Match(plan, []Log{read(t, "csv", c.text)}, twin, Tolerances{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+", bridged", r.BridgedM, c.bridged, 5)
		near(t, name+", missed", r.MissedM, 2*84-c.bridged, 12)
	}
}

func TestStateThatWasNeverSwitchedOff(t *testing.T) {
	plan := paddock(t, 100, 500, 17, 2, 2, 12)
	drives := farm(plan, twin)
	text := rtk.csvLog(plan, drives, 0)
	log := read(t, "csv", strings.ReplaceAll(text, ",false", ",true"))
	r, err := Match(plan, []Log{log}, twin, Tolerances{})
	if err != nil {
		t.Fatal(err)
	}
	checkLaws(t, r)
	near(t, "covered", r.CoveredM, plan.RowM, 1)
	turns := float64(len(drives) - 1)
	if r.OverrunM < 8*2*turns || r.UnplannedM < 8*2*turns || r.UnplannedM > 24*2*turns {
		t.Errorf("%.1f m overrun and %.1f m on no row for %g turns with the machine in the ground", r.OverrunM, r.UnplannedM, turns)
	}
}

// TestAStopInTheRow stands ten minutes in the first row with the receiver's error drifting.
func TestAStopInTheRow(t *testing.T) {
	plan := paddock(t, 100, 500, 17, 2, 2, 12)
	drives := farm(plan, twin)
	l := rtk
	l.scatterM, l.memoryS, l.asFlag = 0.5, 30, false
	lines := strings.Split(l.csvLog(plan, drives, 0), "\n")
	stop := 120
	at := strings.Split(lines[stop], ",")
	var stood []string
	for i := range 600 {
		moment, _ := time.Parse(time.RFC3339, at[0])
		lat, lon := 0.0, 0.0
		fmt.Sscan(at[1], &lat)
		fmt.Sscan(at[2], &lon)
		sin, cos := math.Sincos(float64(i) / 40)
		stood = append(stood, fmt.Sprintf("%s,%.8f,%.8f", moment.Add(time.Duration(i)*time.Second+time.Millisecond).Format("2006-01-02T15:04:05.000Z"), lat+8e-6*sin, lon+1e-5*(cos-1)))
	}
	for i := stop + 1; i < len(lines)-1; i++ {
		f := strings.SplitN(lines[i], ",", 2)
		moment, _ := time.Parse(time.RFC3339, f[0])
		lines[i] = moment.Add(10*time.Minute).Format("2006-01-02T15:04:05.000Z,") + f[1]
	}
	lines = append(lines[:stop+1], append(stood, lines[stop+1:]...)...)
	r, err := Match(plan, []Log{read(t, "csv", strings.Join(lines, "\n"))}, twin, Tolerances{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "covered", r.CoveredM, plan.RowM, 1)
	near(t, "doubled", r.DoubledM, 0, 1)
	if r.Passes != len(drives) {
		t.Errorf("%d passes of %d", r.Passes, len(drives))
	}
}

// lineOf writes places of the plan as GeoJSON positions.
func lineOf(plan rows.Plan, places ...[2]float64) string {
	var parts []string
	for _, p := range places {
		at := plan.Frame.ToEarth(plan.Place(p[0], p[1]))
		parts = append(parts, fmt.Sprintf("[%.9f,%.9f]", at.Lon, at.Lat))
	}
	return "[" + strings.Join(parts, ",\n") + "]"
}

func TestDrawnLines(t *testing.T) {
	plan := paddock(t, 100, 500, 17, 1, 0, 6)
	first, second := plan.Rows[0], plan.Rows[1]
	from, to := first.Spans[0].FromM, first.Spans[0].ToM
	for name, c := range map[string]struct {
		text                       string
		covered, overrun, pastEnds float64
	}{
		"one line up and down": {`{"type":"LineString","coordinates":` + lineOf(plan,
			[2]float64{from - 3, first.OffsetM}, [2]float64{to + 3, first.OffsetM},
			[2]float64{to + 3, second.OffsetM}, [2]float64{from - 3, second.OffsetM}) + `}`, 2 * (to - from), 0, 12},
		"a line to a row": {`{"type":"MultiLineString","coordinates":[` + lineOf(plan, [2]float64{from, first.OffsetM}, [2]float64{to + 12, first.OffsetM + 0.3}) + "," +
			lineOf(plan, [2]float64{from + 50, second.OffsetM}, [2]float64{to, second.OffsetM}) + `]}`, 2*(to-from) - 50, 12, 0},
	} {
		r, err := Match(plan, []Log{read(t, "geojson", c.text)}, AtAntenna, Tolerances{})
		if err != nil {
			t.Fatal(err)
		}
		checkLaws(t, r)
		near(t, name+", covered", r.CoveredM, c.covered, 0.01)
		near(t, name+", overrun", r.OverrunM, c.overrun, 0.01)
		near(t, name+", past the ends", r.PastEndsM, c.pastEnds, 0.01)
	}
}

// TestRowsStrungTogether has a track without times whose rows were all written one way,
// without the drives back.
func TestRowsStrungTogether(t *testing.T) {
	plan := paddock(t, 100, 400, 17, 1, 0, 3)
	var places [][2]float64
	for _, row := range plan.Rows {
		from, to := row.Spans[0].FromM, row.Spans[0].ToM
		for k := range 101 {
			places = append(places, [2]float64{from + (to-from)*float64(k)/100, row.OffsetM})
		}
	}
	r, err := Match(plan, []Log{read(t, "geojson", `{"type":"LineString","coordinates":`+lineOf(plan, places...)+`}`)}, AtAntenna, Tolerances{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "covered", r.CoveredM, plan.RowM, 0.1)
	near(t, "doubled", r.DoubledM, 0, 0.1)
}

func TestRemarks(t *testing.T) {
	plan := paddock(t, 150, 400, 17, 2, 2, 12)
	aside := farm(plan, twin)
	for i := range aside {
		aside[i].across += 0.95
	}
	for name, c := range map[string]struct {
		drives  []drive
		machine Implement
		asFlag  bool
		says    string
	}{
		"the machine's rows left out": {farm(plan, twin), AtAntenna, true, "half way between two rows"},
		"all passes aside":            {aside, twin, true, "0.9 m to the right"},
		"no state":                    {farm(plan, twin), twin, false, "no log column told"},
	} {
		l := rtk
		l.asFlag = c.asFlag
		r := logged(t, l, plan, c.drives, c.machine, Tolerances{})
		if notes := strings.Join(r.Notes, "|"); !strings.Contains(notes, c.says) {
			t.Errorf("%s: %q", name, notes)
		}
	}
	if r := logged(t, rtk, plan, farm(plan, twin), twin, Tolerances{}); len(r.Notes) > 0 {
		t.Errorf("a plain log has the notes %q", r.Notes)
	}
}

// TestDrivesThatAreNoSowing has a log without the implement's state go down an alley, race
// along a row, and cross the rows at a flat angle.
func TestDrivesThatAreNoSowing(t *testing.T) {
	plan := paddock(t, 150, 500, 17, 2, 2, 12)
	row := plan.Rows[2]
	lengthM := row.Spans[0].LengthM
	for name, c := range map[string]struct {
		fromAcross, toAcross, speedMS float64
		unplanned                     float64
	}{
		"down the alley":    {row.OffsetM - 6, row.OffsetM - 6, 2, lengthM},
		"racing":            {row.OffsetM, row.OffsetM, 12, 0},
		"at a flat angle":   {row.OffsetM - 30, row.OffsetM + 30, 2, lengthM},
		"outside the fence": {-40, -40, 2, 0},
	} {
		text, at := "time,lat,lon\n", time.Date(2026, 7, 20, 1, 0, 0, 0, time.UTC)
		for m := 0.0; m <= lengthM; m += c.speedMS {
			where := plan.Frame.ToEarth(plan.Place(row.Spans[0].FromM+m, c.fromAcross+(c.toAcross-c.fromAcross)*m/lengthM))
			text += fmt.Sprintf("%s,%.8f,%.8f\n", at.Format(time.RFC3339), where.Lat, where.Lon)
			at = at.Add(time.Second)
		}
		r, err := Match(plan, []Log{read(t, "csv", text)}, AtAntenna, Tolerances{})
		if err != nil {
			t.Fatal(name, err)
		}
		if r.SownM != 0 || r.Passes != 0 {
			t.Errorf("%s: %.1f m sown in %d passes", name, r.SownM, r.Passes)
		}
		near(t, name+", unplanned", r.UnplannedM, c.unplanned, 12)
	}
}

func TestSeveralLogsAreOneRecord(t *testing.T) {
	plan := paddock(t, 150, 400, 17, 2, 2, 12)
	drives := farm(plan, twin)
	whole := logged(t, rtk, plan, drives, twin, Tolerances{})
	l := rtk
	var logs []Log
	for _, part := range [][]drive{drives[:4], drives[4:]} {
		logs = append(logs, read(t, "csv", l.csvLog(plan, part, 0)+"bad line\n"))
	}
	both, err := Match(plan, logs, twin, Tolerances{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sown", both.SownM, whole.SownM, 0.002*whole.SownM)
	if both.Passes != len(drives) || len(both.RefusedFixes) != 2 || both.RefusedFixes[1].Log != 2 || both.PassList[len(drives)-1].Log != 2 {
		t.Errorf("%d passes, refused %v", both.Passes, both.RefusedFixes)
	}
}

// formatsOf writes one track in every format.
func (l logger) formatsOf(plan rows.Plan, drives []drive) map[string]string {
	l.asFlag = false
	gpx, nmea := `<?xml version="1.0"?>`+gpxHead+"<trk><trkseg>\n", ""
	var positions []string
	l.each(plan, drives, 0, func(at time.Time, where ground.LatLon, _ bool) {
		gpx += fmt.Sprintf("<trkpt lat=\"%.8f\" lon=\"%.8f\"><time>%s</time></trkpt>\n", where.Lat, where.Lon, at.Format(time.RFC3339Nano))
		south := -where.Lat
		nmea += summed(fmt.Sprintf("GNRMC,%s,A,%02d%010.7f,S,%03d%010.7f,E,%.2f,,%s,,,A", at.Format("150405.00"), int(south), (south-math.Floor(south))*60,
			int(where.Lon), (where.Lon-math.Floor(where.Lon))*60, l.speedMS/msPerKnot, at.Format("020106"))) + "\r\n"
		positions = append(positions, fmt.Sprintf("[%.8f,%.8f]", where.Lon, where.Lat))
	})
	return map[string]string{
		"csv": l.csvLog(plan, drives, 0), "gpx": gpx + "</trkseg></trk></gpx>", "nmea": nmea,
		"geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[` + strings.Join(positions, ",") + `]}}]}`,
	}
}

func TestEveryFormatTellsTheSame(t *testing.T) {
	plan := paddock(t, 150, 400, 17, 2, 2, 12)
	var first *Record
	for format, text := range rtk.formatsOf(plan, farm(plan, twin)) {
		log := read(t, format, text)
		r, err := Match(plan, []Log{log}, twin, Tolerances{})
		if err != nil {
			t.Fatal(format, err)
		}
		near(t, format+", covered", r.CoveredM, plan.RowM, 0.001*plan.RowM)
		if first == nil {
			first = &r
		}
		near(t, format+", sown", r.SownM, first.SownM, 0.01)
		if r.Fixes != first.Fixes || r.Passes != first.Passes {
			t.Errorf("%s: %d fixes, %d passes", format, r.Fixes, r.Passes)
		}
		if format == "nmea" {
			near(t, "speed × time", *r.DopplerM, r.TrackM, 0.01*r.TrackM)
		} else if r.DopplerM != nil {
			t.Errorf("%s: speed × time without a speed", format)
		}
	}
}
