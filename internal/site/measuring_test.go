package site

import (
	"strings"
	"testing"

	"rowtally/internal/job"
)

// measured is the form of how rows are measured, as it begins.
func measured(pairs ...string) []string {
	form := []string{"hold_fixes", "3"}
	for name, value := range measuringTyped(job.UsualMeasuring) {
		if name != "hold_fixes" {
			form = append(form, name, value)
		}
	}
	for i := 0; i < len(pairs); i += 2 {
		form = with(form, pairs[i], pairs[i+1])
	}
	return form
}

// A job's own settings match its logs anew, and taken away again the business's do.
func TestAJobsOwnSettingsMatchItsLogsAnew(t *testing.T) {
	w := sownOver(t)
	whole := w.facts(t, 1).Sown.CoveredM
	w.contractor.get("/jobs/1/sown").mustShow(t, 200, "a pass counts within 3 m and 15° of a row and from 2 m on", "None of them is published")
	w.contractor.get("/jobs/1/measuring").mustShow(t, 200, "our own choice", "At first 15.")
	w.contractor.post("/jobs/1/measuring", measured("least_pass_m", "800")...).mustLead(t, "/jobs/1/sown?done=measured")
	facts := w.facts(t, 1)
	if facts.Sown.CoveredM != 0 || facts.Measuring.JobID != 1 || facts.Measuring.LeastPassM != 800 {
		t.Errorf("passes under 800 m left out: %v m covered by %+v", facts.Sown.CoveredM, facts.Measuring)
	}
	w.contractor.get("/jobs/1/sown").mustShow(t, 200, "For this job alone.", "from 800 m on", "in passes shorter than 800 m were left out")
	w.contractor.post("/jobs/1/measuring/usual").mustLead(t, "/jobs/1/sown?done=measured")
	if facts = w.facts(t, 1); facts.Sown.CoveredM != whole || facts.Measuring.JobID != 0 {
		t.Errorf("as usual again: %v m covered, %v before", facts.Sown.CoveredM, whole)
	}
	w.sound(t)
}

// The business's settings hold from the next match on: the page says that the record was
// made with others, and matching again mends it.
func TestTheBusinesssSettingsHoldFromTheNextMatchOn(t *testing.T) {
	w := sownOver(t)
	w.contractor.post("/measuring", measured("bridge_m", "40")...).mustLead(t, "/business?done=kept")
	w.contractor.get("/jobs/1/sown").mustShow(t, 200, "was matched with other settings", "dropouts up to 40 m")
	w.contractor.post("/jobs/1/sown/again").mustLead(t, "/jobs/1/sown?done=matched")
	if p := w.contractor.get("/jobs/1/sown"); strings.Contains(p.text, "other settings") || strings.Contains(p.text, "up to 100 m") {
		t.Error("the record is still said to be of other settings")
	}
}

func TestTheSettingsFormSaysWhatToChange(t *testing.T) {
	w := sownOver(t)
	before := w.facts(t, 1)
	for _, path := range []string{"/measuring", "/jobs/1/measuring"} {
		for _, c := range []struct{ field, value, says string }{
			{"heading_deg", "90", "90 is outside what is possible: enter a number from 1 to 45"},
			{"cross_track_m", "x", "“x” is not a number"}, {"bridge_m", "", "Enter a number from 0 to 1"},
			{"hold_fixes", "2.5", "is not a whole number"}, {"mix_err_percent", "-1", "-1 is outside"},
			{"spacing_m", "0.01", "enter 0.1 to 100"}, {"speed_min_kmh", "30", "enter less than 25 km/h"},
		} {
			p := w.contractor.post(path, measured(c.field, c.value)...)
			p.mustRefuse(t, c.field, c.says)
			p.mustKeep(t, c.field, c.value)
		}
	}
	// a lag in seconds cannot be taken off a log without times
	w.contractor.post("/jobs/1/measuring", measured("flag_lag_s", "1")...).mustRefuse(t, "", "without a time")
	if after := w.facts(t, 1); after.Measuring != before.Measuring || after.Sown.CoveredM != before.Sown.CoveredM {
		t.Errorf("kept %+v", after.Measuring)
	}
}

// The counter of a day sheet and the tubs are set beside the log, and where they part the
// page says what to look at.
func TestTheRowKmAreToldThreeWays(t *testing.T) {
	w := sownOver(t)
	later := func(from, to, placements string) []string {
		return with(with(with(dayForm, "meter_from", from), "meter_to", to), "placements", placements)
	}
	w.contractor.get("/jobs/1/sown").mustShow(t, 200, "Only the log tells the row-km", "No day sheet has a reading of the counter", "No tub is mixed")
	w.contractor.post("/truck/1/day", with(dayForm, "placements", "5300")...).mustLead(t, "/truck/1?done=day")
	w.contractor.get("/jobs/1/sown").mustShow(t, 200, "They agree within what each may err", "placements ± 2 % × 3 m ± 3 %, as laid, not measured", "counter 15.90 ± 0.58 row-km")
	w.contractor.post("/truck/1/day", later("4820", "4821", "x")...).mustRefuse(t, "placements", "is not a whole number")
	w.contractor.post("/truck/1/day", later("4820", "4821", "1000")...).mustLead(t, "/truck/1?done=day")
	w.contractor.get("/jobs/1/sown").mustShow(t, 200, "They differ by 2.", "Two alone do not tell which is wrong")
	w.contractor.post("/truck/1/day", later("4821", "4822", "")...).mustLead(t, "/truck/1?done=day")
	w.contractor.get("/jobs/1/sown").mustShow(t, 200, "The counter was read on 2 of 3 day sheets", "Only the log tells")
}
