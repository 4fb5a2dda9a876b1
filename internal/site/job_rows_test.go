package site

import "testing"

func TestClearancesPhaseAndRateSayWhatToChange(t *testing.T) {
	w := jobbed(t)
	for _, c := range []struct{ field, value, at, says string }{
		{"edges", "A to Z: 12, drain", "edges", "There is no corner Z"},
		{"edges", "the drain: 12", "edges", "is not understood, write it as C to E: 12 m, drain"},
		{"no_go_margins", "9: 30, bore", "no_go_margins", "There is no no-go 9"},
		{"phase", "middle", "phase", "Choose where the first row stands"},
		{"phase", "typed", "phase_m", "Enter a number"},
		{"headland_passes", "21", "headland_passes", "21 is outside what is possible"},
		{"speed_kmh", "fast", "speed_kmh", "“fast” is not a number"},
		{"turn_s", "20", "speed_kmh", "Enter the speed too"},
	} {
		w.contractor.post("/jobs/1/rows", with(layoutForm, c.field, c.value)...).mustRefuse(t, c.at, c.says)
	}
	if w.facts(t, 1).Layout != nil {
		t.Error("a refused layout was kept")
	}
}

func TestRowsAreKeptWithTheirClearancesAndRate(t *testing.T) {
	w := jobbed(t)
	full := append([]string{}, layoutForm...)
	full = append(full, "edges", "A to B: 30 m, drain", "phase", "best", "from_side", "right", "headland_passes", "1", "count_headlands", "on",
		"speed_kmh", "6", "turn_s", "25", "other_efficiency_percent", "85")
	w.contractor.post("/jobs/1/rows", full...).mustLead(t, "/jobs/1?done=kept#rows")
	l := w.facts(t, 1).Layout
	if l == nil || !l.FromRight || l.HeadlandPasses != 1 || !l.CountHeadlands || l.Phase != "best" || l.SpeedKmh != 6 || l.TurnS != 25 || l.OtherEfficiencyPercent != 85 {
		t.Fatalf("%+v", l)
	}
	w.contractor.get("/jobs/1/rows").mustShow(t, 200, "A to B: 30 m, drain", "machine hours at", "1 pass round the headland", "in the row-km", "Letters are corners")
}
