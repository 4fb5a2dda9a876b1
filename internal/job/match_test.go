package job

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
)

// drive is a stretch along the middle of a belt, from and to in shares of its length.
type drive struct {
	belt     int // from 0
	from, to float64
}

// driven is the log of a twin-row machine, lifted on the way in and out of each drive.
func driven(laid Laid, drives ...drive) Log {
	const pitchM, firstM, stepM, liftedM = 14.0, 8.0, 1.0, 8.0
	var out strings.Builder
	out.WriteString("time,lat,lon,sowing\n")
	clock := time.Date(2026, 7, 15, 0, 0, 0, 0, time.UTC)
	for _, d := range drives {
		span := laid.Rows[max(0, 2*d.belt-1)].Spans[0] // the first belt has its right row alone
		from, to := span.FromM+d.from*span.LengthM, span.FromM+d.to*span.LengthM
		fix := func(along float64) {
			at := laid.Frame.ToEarth(laid.Place(along, firstM+pitchM*float64(d.belt)))
			sowing := 0
			if along >= from-1e-9 && along <= to+1e-9 {
				sowing = 1
			}
			fmt.Fprintf(&out, "%s,%.9f,%.9f,%d\n", clock.Format(time.RFC3339Nano), at.Lat, at.Lon, sowing)
			clock = clock.Add(600 * time.Millisecond)
		}
		for along := from - liftedM; along < to; along += stepM {
			fix(along)
		}
		fix(to)
		fix(to + stepM)
		fix(to + liftedM)
		clock = clock.Add(time.Minute)
	}
	return Log{JobID: 3, Name: "day 1.csv", Content: []byte(out.String()), PassRows: 2, RowGapM: 2}
}

func everyBelt(laid Laid) (drives []drive) {
	for b := range laid.BeltCount {
		drives = append(drives, drive{b, 0, 1})
	}
	return drives
}

func laidOf(t testing.TB, f Facts) Laid {
	t.Helper()
	laid, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	return laid
}

// sums fails where a record breaks a law: every planned metre is covered or missed, what
// was sown is covered once, doubled or run over the end, and the rows add up to the sums.
func (s Sown) sums(t rapid.TB, laid Laid) {
	t.Helper()
	if off := s.CoveredM + s.MissedM - s.PlannedM; math.Abs(off) > 1e-6 {
		t.Errorf("covered %v + missed %v m are %v m off the planned %v", s.CoveredM, s.MissedM, off, s.PlannedM)
	}
	if off := s.CoveredM + s.DoubledM + s.OverrunM - s.SownM; math.Abs(off) > 1e-6 {
		t.Errorf("covered %v + doubled %v + overrun %v m are %v m off the sown %v", s.CoveredM, s.DoubledM, s.OverrunM, off, s.SownM)
	}
	var planned, covered, missed, doubled float64
	for _, row := range s.Rows() {
		planned, covered, missed, doubled = planned+row.PlannedM, covered+row.CoveredM, missed+row.MissedM, doubled+row.DoubledM
		span, inside := laid.Rows[row.Row-1].Spans[0], 0.0
		for _, c := range row.Sown {
			inside += max(0, min(c[1], span.ToM)-max(c[0], span.FromM))
		}
		if math.Abs(inside-row.CoveredM) > 0.01 {
			t.Errorf("row %d is covered over %v m by its stretches and %v m by its sum", row.Row, inside, row.CoveredM)
		}
	}
	for _, pair := range [][2]float64{{planned, s.PlannedM}, {covered, s.CoveredM}, {missed, s.MissedM}, {doubled, s.DoubledM}} {
		if math.Abs(pair[0]-pair[1]) > 1e-6 {
			t.Errorf("the rows add up to %v m and the record says %v", pair[0], pair[1])
		}
	}
}

func TestEveryBeltDrivenCoversEveryRow(t *testing.T) {
	f := sceneOf(t, 24)
	laid := laidOf(t, f)
	sown, err := Match(f, []Log{driven(laid, everyBelt(laid)...)})
	if err != nil {
		t.Fatal(err)
	}
	sown.sums(t, laid)
	if math.Abs(sown.CoveredM-24_000) > 24 || sown.MissedM > 24 || sown.DoubledM > 1 || sown.Passes != 40 || len(sown.Rows()) != 79 {
		t.Errorf("%+v", sown)
	}
	// the row that the plan leaves out beside the leaning fence is sown, and not billed
	if row := 24_000.0 / 79; math.Abs(sown.UnplannedM-row) > 10 {
		t.Errorf("%v m are sown off the plan, want about the one row of %v m", sown.UnplannedM, row)
	}
	f.Sown = &sown
	if StageOf(f) != AllSown || len(ChainOf(f).Map.Sown) < 79 {
		t.Errorf("stage %s, %d stretches drawn", StageOf(f), len(ChainOf(f).Map.Sown))
	}
}

// Two drives over the same halves: worked by hand, 78 of 79 rows lie in full belts.
func TestHalvesDrivenTwiceCountOnce(t *testing.T) {
	f := sceneOf(t, 24)
	laid := laidOf(t, f)
	rowM := 24_000.0 / 79
	sown, err := Match(f, []Log{driven(laid, drive{5, 0, 0.5}, drive{6, 0, 1}, drive{5, 0.25, 0.5}, drive{5, 0.25, 0.75})})
	if err != nil {
		t.Fatal(err)
	}
	sown.sums(t, laid)
	if want := 2 * rowM * 1.75; math.Abs(sown.CoveredM-want) > 3 {
		t.Errorf("%v m covered, want %v: three quarters of one belt and all of another", sown.CoveredM, want)
	}
	if want := 2 * rowM * 0.5; math.Abs(sown.DoubledM-want) > 6 {
		t.Errorf("%v m doubled, want %v: a quarter of a belt, twice", sown.DoubledM, want)
	}
}

func TestAnyDriveKeepsTheSums(t *testing.T) {
	f := sceneOf(t, 24)
	laid := laidOf(t, f)
	rapid.Check(t, func(t *rapid.T) {
		var drives []drive
		for range rapid.IntRange(1, 6).Draw(t, "drives") {
			from := rapid.Float64Range(-0.2, 0.9).Draw(t, "from")
			drives = append(drives, drive{rapid.IntRange(0, 39).Draw(t, "belt"), from, from + rapid.Float64Range(0.05, 0.5).Draw(t, "share")})
		}
		sown, err := Match(f, []Log{driven(laid, drives...)})
		if fault.KindOf(err) == fault.Refused {
			return // a log that touches no row
		}
		if err != nil {
			t.Fatal(err)
		}
		sown.sums(t, laid)
		if sown.CoveredM < 0 || sown.MissedM < 0 || sown.DoubledM < 0 || sown.CoveredM > sown.PlannedM+1e-6 {
			t.Fatalf("%+v", sown)
		}
	})
}

// Two days' logs give what one log of both would.
func TestTwoLogsAreOneRecord(t *testing.T) {
	f := sceneOf(t, 24)
	laid := laidOf(t, f)
	one, errOne := Match(f, []Log{driven(laid, drive{5, 0, 1}, drive{6, 0, 1})})
	second := driven(laid, drive{6, 0, 1})
	second.Name = "day 2.csv"
	two, errTwo := Match(f, []Log{driven(laid, drive{5, 0, 1}), second})
	if errOne != nil || errTwo != nil {
		t.Fatal(errOne, errTwo)
	}
	two.sums(t, laid)
	if math.Abs(one.CoveredM-two.CoveredM) > 0.01 || one.Passes != two.Passes {
		t.Errorf("one log covers %v m, two cover %v", one.CoveredM, two.CoveredM)
	}
}

// A belt by the twin, and both its rows again by a machine of one row beside its antenna.
func TestLogsOfUnlikeMachinesAreOneRecord(t *testing.T) {
	f := sceneOf(t, 24)
	laid := laidOf(t, f)
	whole := driven(laid, drive{5, 0, 1})
	whole.SHA256 = "aa"
	single := driven(laid, drive{5, 0, 0.5})
	single.Name, single.SHA256, single.PassRows, single.RowGapM, single.OffsetRightM = "single.csv", "bb", 1, 0, 1
	single.Content = []byte(strings.ReplaceAll(string(single.Content), "2026-07-15", "2026-07-16"))
	rowM := 24_000.0 / 79
	sown, err := Match(f, []Log{whole, single})
	if err != nil {
		t.Fatal(err)
	}
	sown.sums(t, laid)
	if math.Abs(sown.CoveredM-2*rowM) > 3 || math.Abs(sown.DoubledM-rowM/2) > 3 || sown.UnplannedM > 1 {
		t.Errorf("%+v", sown)
	}
	files := sown.Files()
	if len(files) != 2 || files[1].Name != "single.csv" || files[1].PassRows != 1 || files[1].OffsetRightM != 1 || files[1].SHA256 != "bb" ||
		files[0].Fixes < 200 || files[0].From.Format("2006-01-02") != "2026-07-15" || !files[0].To.After(files[0].From) {
		t.Errorf("files %+v", files)
	}
}

// The same drive in two files counts once, and the record says so by the files' names.
func TestTheSameDriveInTwoFilesCountsOnce(t *testing.T) {
	f := sceneOf(t, 24)
	laid := laidOf(t, f)
	whole, again := driven(laid, drive{5, 0, 1}, drive{6, 0, 1}), driven(laid, drive{5, 0, 1})
	again.Name = "copied.csv"
	one, errOne := Match(f, []Log{whole})
	two, errTwo := Match(f, []Log{whole, again})
	if errOne != nil || errTwo != nil {
		t.Fatal(errOne, errTwo)
	}
	if math.Abs(one.SownM-two.SownM) > 0.01 || two.DoubledM > 0.01 || two.Fixes != one.Fixes {
		t.Errorf("once %+v\ntwice %+v", one, two)
	}
	refused := two.RefusedFixes()
	if len(refused) != 1 || refused[0].File != "copied.csv" || refused[0].ToLine <= refused[0].Line || !strings.Contains(refused[0].Why, "day 1.csv") ||
		two.Refused != two.Files()[1].Fixes || !strings.Contains(strings.Join(two.Notes(), "|"), "of copied.csv are of the same machine and time as day 1.csv") {
		t.Errorf("refused %+v, %d in all, notes %q", refused, two.Refused, two.Notes())
	}
}

// What is missed of a row is drawn, where it is missed.
func TestMissedStretchesAreDrawn(t *testing.T) {
	f := sceneOf(t, 24)
	laid := laidOf(t, f)
	sown, err := Match(f, []Log{driven(laid, drive{5, 0, 0.25}, drive{5, 0.75, 1})})
	if err != nil {
		t.Fatal(err)
	}
	f.Sown = &sown
	missed, drawn := 0.0, 0.0
	for _, row := range sown.Rows() {
		for _, m := range row.Missed {
			missed += m[1] - m[0]
		}
	}
	m := ChainOf(f).Map
	for _, s := range m.Missed {
		drawn += math.Hypot(float64(s[2]-s[0]), float64(s[3]-s[1]))
	}
	if math.Abs(missed-sown.MissedM) > 0.5 || math.Abs(drawn-missed) > 0.5 || len(m.Missed) != 79 {
		t.Errorf("%v m are missed, the rows list %v m and the map draws %v m in %d stretches", sown.MissedM, missed, drawn, len(m.Missed))
	}
}

// The settings reach the match, and the record says with which it was made.
func TestTheSettingsAreTheMatchs(t *testing.T) {
	f := sceneOf(t, 24)
	laid := laidOf(t, f)
	aside := driven(laid, drive{5, 0, 1})
	aside.OffsetRightM = 0.9
	wide, errWide := Match(f, []Log{aside})
	f.Measuring = UsualMeasuring
	f.Measuring.CrossTrackM = 0.5
	narrow, errNarrow := Match(f, []Log{aside})
	if errWide != nil || errNarrow != nil {
		t.Fatal(errWide, errNarrow)
	}
	if wide.CoveredM == 0 || narrow.CoveredM != 0 || narrow.UnplannedM < wide.CoveredM-1 {
		t.Errorf("0.9 m aside: %v m covered within 3 m, %v m within 0.5 m", wide.CoveredM, narrow.CoveredM)
	}
	if !strings.Contains(narrow.MeasuredHow(), "a pass counts within 0.5 m and 15° of a row") || narrow.MatchedWith() != f.Measuring || wide.MatchedWith() != UsualMeasuring {
		t.Errorf("%s", narrow.MeasuredHow())
	}
	f.Measuring.HeadingDeg, f.Measuring.MixErrPercent = 90, -1
	_, err := Match(f, []Log{aside})
	for field, says := range map[string]string{"heading_deg": "1 to 45", "mix_err_percent": "enter 0"} {
		if !strings.Contains(fault.Fields(err)[field], says) {
			t.Errorf("%s: %v", field, err)
		}
	}
}

func TestALogThatCannotBeMatchedIsRefusedByName(t *testing.T) {
	f := sceneOf(t, 24)
	laid := laidOf(t, f)
	good := driven(laid, drive{5, 0, 1})
	far := good
	far.Name, far.Content = "far.csv", []byte(strings.ReplaceAll(string(good.Content), ",-36.", ",-35."))
	other := good
	other.Name, other.PassRows, other.RowGapM = "other.csv", 3, 0
	for _, c := range []struct {
		logs        []Log
		field, says string
	}{
		{[]Log{{Name: "empty.csv", PassRows: 1}}, "log", "empty.csv: "},
		{[]Log{{Name: "torn.gpx", Content: []byte("<gpx><trk>"), PassRows: 1}}, "log", "torn.gpx: "},
		{[]Log{{Name: "x.nmea", Content: []byte("not a sentence"), PassRows: 1}}, "log", "x.nmea: "},
		{[]Log{good, other}, "row_gap_m", "enter the distance between them"},
	} {
		_, err := Match(f, c.logs)
		if says := fault.Fields(err)[c.field]; !strings.Contains(says, c.says) {
			t.Errorf("%s: %v, want a refusal of %s with %q", c.logs[len(c.logs)-1].Name, err, c.field, c.says)
		}
	}
	if sown, err := Match(f, []Log{far}); err == nil && sown.CoveredM > 0 {
		t.Errorf("a log a degree away covers %v m", sown.CoveredM)
	}
	f.Layout = nil
	if _, err := Match(f, []Log{good}); fault.KindOf(err) != fault.Clash {
		t.Errorf("without rows: %v", err)
	}
}

func TestALogsFormatIsToldByNameElseByItsBeginning(t *testing.T) {
	for _, c := range []struct{ name, content, want string }{
		{"a.GPX", "", "gpx"}, {"a.csv", "<gpx>", "csv"}, {"a.nmea", "", "nmea"}, {"a.geojson", "", "geojson"}, {"a.json", "", "geojson"},
		{"a.txt", "\ufeff  <?xml", "gpx"}, {"a.log", "$GPRMC,", "nmea"}, {"a", "\n{\"type\":", "geojson"}, {"a.txt", "time,lat,lon", "csv"}, {"", "", "csv"},
		{"a.log", "logged by unit 7\r\n$GPGSA,A", "nmea"}, {"a.log", "62,N*55\r$GPRMC,", "nmea"}, {"a.txt", "price in $,lat\n", "csv"},
		{"a.txt", "\xff\xfe$\x00G\x00P\x00", "nmea"}, {"a.txt", "\xfe\xff\x00<\x00g", "gpx"}, {"a.txt", "{\x00\"\x00", "geojson"},
	} {
		if got := LogFormat(c.name, []byte(c.content)); got != c.want {
			t.Errorf("%q with %q is read as %s, want %s", c.name, c.content, got, c.want)
		}
	}
}
