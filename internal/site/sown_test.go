package site

import (
	"strings"
	"testing"

	"rowtally/internal/job"
)

// loggedWith are the fields that go with a log.
var loggedWith = []string{"rows", "2", "row_gap_m", "2", "offset_right_m", "0"}

func TestALogIsMatchedAndTakenOutAgain(t *testing.T) {
	w := sownOver(t)
	w.contractor.get("/jobs/1/sown").mustShow(t, 200, "day 1.geojson", "15.94 of 15.94 row-km covered", "<svg")
	facts := w.facts(t, 1)
	if job.StageOf(facts) != job.AllSown || len(facts.Logs) != 1 || facts.Logs[0].PassRows != 2 || facts.Logs[0].PersonID != 1 {
		t.Errorf("%s with logs %+v", job.StageOf(facts), facts.Logs)
	}
	w.contractor.post("/jobs/1/sown/1/remove").mustLead(t, "/jobs/1/sown?done=kept")
	facts = w.facts(t, 1)
	if len(facts.Logs) != 0 || job.StageOf(facts) != job.Agreed {
		t.Errorf("without its log the job is %s: %+v", job.StageOf(facts), facts.Sown)
	}
	w.contractor.get("/jobs/1/invoice").mustShow(t, 409, "Nothing is measured yet")
	w.contractor.post("/jobs/1/sown/1/remove").mustShow(t, 404)
	w.sound(t)
}

// Of two logs one is taken out, and the other stands for the rows that it covers.
func TestTheLogsLeftAreMatchedAnew(t *testing.T) {
	w := sownOver(t)
	whole := w.facts(t, 1).Sown.CoveredM
	w.contractor.post("/jobs/1/sown/1/remove").mustLead(t, "/jobs/1/sown?done=kept")
	halves := strings.SplitAfterN(w.drive(t), "]],[[", 13)
	first := strings.TrimSuffix(strings.Join(halves[:12], ""), ",[[") + "]}"
	second := `{"type":"MultiLineString","coordinates":[[[` + halves[12]
	w.contractor.upload("/jobs/1/sown", "log", "day 1.geojson", first, loggedWith...).mustLead(t, "/jobs/1/sown?done=loaded")
	w.contractor.upload("/jobs/1/sown", "log", "day 2.geojson", second, loggedWith...).mustLead(t, "/jobs/1/sown?done=loaded")
	if got := w.facts(t, 1).Sown.CoveredM; got < whole-1 || got > whole+1 {
		t.Errorf("the two halves cover %v m, the whole %v", got, whole)
	}
	w.contractor.post("/jobs/1/sown/2/remove").mustLead(t, "/jobs/1/sown?done=kept")
	if got := w.facts(t, 1).Sown.CoveredM; got < 0.4*whole || got > 0.6*whole {
		t.Errorf("half the log covers %v m of %v", got, whole)
	}
}

// A log is taken out of its own job alone.
func TestALogOfAnotherJobStaysWhereItIs(t *testing.T) {
	w := sownOver(t)
	w.contractor.post("/jobs/new", jobForm...).mustLead(t, "/jobs/2")
	w.contractor.post("/jobs/2/rows", layoutForm...).mustLead(t, "/jobs/2?done=kept#rows")
	w.contractor.post("/jobs/2/sown/1/remove").mustShow(t, 404)
	if facts := w.facts(t, 1); len(facts.Logs) != 1 || facts.Sown == nil {
		t.Errorf("job 1 has %d logs", len(facts.Logs))
	}
}

func TestTheSameLogTwiceIsRefused(t *testing.T) {
	w := sownOver(t)
	before := w.facts(t, 1)
	w.contractor.upload("/jobs/1/sown", "log", "copy.geojson", w.drive(t), loggedWith...).mustRefuse(t, "", "This log is already loaded for J-01")
	after := w.facts(t, 1)
	if len(after.Logs) != 1 || after.Sown.DoubledM != before.Sown.DoubledM || after.Sown.CoveredM != before.Sown.CoveredM {
		t.Errorf("after a copy of the log: %+v", after.Sown)
	}
}

func TestALogFormSaysWhatToChangeAndKeepsNothing(t *testing.T) {
	w := agreed(t)
	drive := w.drive(t)
	upload := func(name, content string, pairs ...string) page {
		return w.contractor.upload("/jobs/1/sown", "log", name, content, pairs...)
	}
	w.contractor.post("/jobs/1/sown", loggedWith...).mustRefuse(t, "log", "Choose the log's file.")
	for _, c := range []struct{ name, content, says string }{
		{"empty.csv", "", "empty.csv is empty"},
		{"torn.gpx", "<gpx><trk>", "torn.gpx"},
		{"notes.csv", "a,b\n1,2\n", "notes.csv"},
		{"far.geojson", strings.ReplaceAll(drive, "-36.", "-35."), "far.geojson"},
		{"<b>.nmea", "x", "<b>.nmea"},
	} {
		p := upload(c.name, c.content, loggedWith...)
		p.mustRefuse(t, "log", c.says)
		p.mustKeep(t, "row_gap_m", "2")
		if strings.Contains(p.text, "<b>.nmea") {
			t.Error("the file's name is written raw")
		}
	}
	for _, c := range []struct{ field, value, says string }{
		{"rows", "", "Enter a whole number"}, {"rows", "0", "0 is outside what is possible"}, {"rows", "51", "51 is outside"},
		{"row_gap_m", "", "Enter a number"}, {"row_gap_m", "-2", "-2 is outside what is possible"},
		{"offset_right_m", "x", "“x” is not a number"}, {"offset_right_m", "60", "60 is outside what is possible"},
	} {
		p := upload("day 1.geojson", drive, with(loggedWith, c.field, c.value)...)
		p.mustRefuse(t, c.field, c.says)
		p.mustKeep(t, c.field, c.value)
	}
	if facts := w.facts(t, 1); len(facts.Logs) != 0 || facts.Sown != nil {
		t.Errorf("kept %+v", facts.Logs)
	}
}

// A second log may be of another machine; each is matched with the rows of its own.
func TestASecondLogMayBeOfAnotherMachine(t *testing.T) {
	w := sownOver(t)
	before := w.facts(t, 1).Sown
	other := strings.Replace(w.drive(t), "[[", "[ [", 1) // other bytes, the same drive
	w.contractor.upload("/jobs/1/sown", "log", "day 2.geojson", other, "rows", "1", "offset_right_m", "1", "behind_m", "0").mustLead(t, "/jobs/1/sown?done=loaded")
	facts := w.facts(t, 1)
	if len(facts.Logs) != 2 || facts.Logs[1].PassRows != 1 || facts.Logs[1].OffsetRightM != 1 {
		t.Fatalf("%+v", facts.Logs)
	}
	if half := before.SownM / 2; facts.Sown.DoubledM < before.DoubledM+0.95*half || facts.Sown.DoubledM > before.DoubledM+1.05*half {
		t.Errorf("one row of two again: %v m doubled, %v before", facts.Sown.DoubledM, before.DoubledM)
	}
	w.contractor.upload("/jobs/1/sown", "log", "day 3.geojson", other+" ", "rows", "3", "row_gap_m", "30").mustRefuse(t, "row_gap_m", "no wider than 50 m")
}
