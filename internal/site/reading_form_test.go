package site

import (
	"strings"
	"testing"

	"rowtally/internal/job"
)

// wet is a paddock of a farm with a job that was looked at, and no rows.
func (w town) wet(t *testing.T) (paddockID, jobID int64) {
	t.Helper()
	ctx := t.Context()
	farm, err := w.store.AddFarm(ctx, w.act(), job.Farm{Name: "Example Farm"})
	if err != nil {
		t.Fatal(err)
	}
	p := job.Paddock{FarmID: farm, Name: "Corner"}
	square := `{"type":"Polygon","coordinates":[[[140.1,-36.41],[140.11,-36.41],[140.11,-36.4],[140.1,-36.4],[140.1,-36.41]]]}`
	if err := job.ReadBoundary(&p, "corner.geojson", []byte(square), "2026-07-01"); err != nil {
		t.Fatal(err)
	}
	if paddockID, err = w.store.AddPaddock(ctx, w.act(), p); err != nil {
		t.Fatal(err)
	}
	jobID, err = w.store.AddJob(ctx, w.act(), job.Job{FarmID: farm, PaddockID: paddockID, Season: 2026, AskedOn: "2026-07-01", VisitedOn: "2026-07-02"})
	if err != nil {
		t.Fatal(err)
	}
	return paddockID, jobID
}

// saltRead is the form of a subsoil reading; pairs after it replace what it says.
func saltRead(pairs ...string) []string {
	typed := map[string]string{"kind": "ECe", "value": "34", "unit": "dS/m", "from_cm": "25", "to_cm": "50", "taken_on": "2026-06-11",
		"method": "saturation extract, laboratory", "said_by": "agronomist", "place": "-36.405, 140.105"}
	for i := 0; i < len(pairs); i += 2 {
		typed[pairs[i]] = pairs[i+1]
	}
	var out []string
	for name, value := range typed {
		out = append(out, name, value)
	}
	return out
}

func TestReadingsRuleShrubsOutAndDecliningComesNext(t *testing.T) {
	w := newTown(t)
	paddockID, jobID := w.wet(t)
	page, jobPage := "/paddocks/"+itoa(paddockID), "/jobs/"+itoa(jobID)
	w.contractor.get(page).mustShow(t, 200, "Nothing is read yet")

	w.contractor.post(page+"/readings/new", saltRead()...).mustLead(t, page+"?done=kept#readings")
	w.contractor.post(page+"/readings/new", "kind", "winter watertable", "value", "0.2", "unit", "m", "taken_on", "2026-06", "method", "hand auger hole", "said_by", "the owner").
		mustLead(t, page+"?done=kept#readings")

	w.contractor.get(page).mustShow(t, 200, "34 dS/m", "25–50 cm", "11 Jun 2026", "saturation extract, laboratory; agronomist",
		"extreme salinity, above 32 dS/m", "Barrett-Lennard, Bennett & Colmer 2008", "extremely saline, above 16 dS/m", "WA 1998, in FAO Y4263E",
		"fence and leave to volunteer plants", "No shrub rows: ECe 34 dS/m at 25–50 cm, 11 Jun 2026", "A drainage authority, agronomist or adviser decides.", `<circle class="dot"`)

	shown := w.contractor.get(jobPage)
	shown.mustShow(t, 200, "looked at", "No shrub rows: ECe 34 dS/m", "winter watertable 0.2 m, Jun 2026", `class="btn" href="`+jobPage+`/decline">Decline</a>`, "None are laid: the readings rule them out.")
	w.contractor.get("/").mustShow(t, 200, "Corner at Example Farm:", "No shrub rows", `href="`+jobPage+`/decline">Decline</a>`)
	if strings.Contains(w.contractor.get("/").text, "Lay the rows") {
		t.Error("the season page offers rows where they are ruled out")
	}
	w.contractor.get(jobPage+"/decline").mustShow(t, 200, "extreme salinity, above 32 dS/m by Barrett-Lennard")

	w.contractor.post(page+"/readings/1/withdraw").mustShow(t, 422, "Say what was wrong with it")
	w.contractor.post(page+"/readings/1/withdraw", "why", "a sample of the drain's bank").mustLead(t, page+"?done=kept#readings")
	w.contractor.post(page+"/readings/2/withdraw", "why", "after a flood").mustLead(t, page+"?done=kept#readings")
	w.contractor.get(page).mustShow(t, 200, "Withdrawn on 20 Jul 2026: a sample of the drain's bank")
	w.contractor.get("/").mustShow(t, 200, "Lay the rows")
	w.contractor.post(page+"/readings/2/withdraw", "why", "again").mustShow(t, 422, "withdrawn already")
	w.contractor.get("/paddocks/999/readings/1/withdraw").mustShow(t, 404)
}

func TestAReadingThatCannotBeIsRefusedBesideItsField(t *testing.T) {
	w := newTown(t)
	paddockID, _ := w.wet(t)
	page := "/paddocks/" + itoa(paddockID)
	for says, pairs := range map[string][]string{
		"Choose sand, loam or clay":       {"kind", "EC1:5"},
		"is no kind of reading":           {"kind", "pH"},
		"Enter the figure that was read.": {"value", ""},
		"Enter 0 to 300 dS/m":             {"value", "3400"},
		"choose m":                        {"kind", "winter watertable", "from_cm", "", "to_cm", ""},
		"has no depth":                    {"from_cm", "50", "to_cm", "25"},
		"is after today":                  {"taken_on", "2026-08"},
		"neither a day nor a month":       {"taken_on", "June"},
		"Say how it was measured":         {"method", ""},
		"Say who measured or told it":     {"said_by", ""},
		"is not a place":                  {"place", "the gate"},
		"latitude first":                  {"place", "-36.9, 140.1"},
		"look swapped":                    {"place", "140.105, -36.405"},
	} {
		p := w.contractor.post(page+"/readings/new", saltRead(pairs...)...)
		if !strings.Contains(strings.ToLower(p.text), strings.ToLower(says)) {
			t.Errorf("%q lacks %q: %s", pairs, says, p.mainText())
		}
		p.mustShow(t, 422)
	}
	if readings, err := w.store.Readings(t.Context(), 0); err != nil || len(readings) != 0 {
		t.Errorf("kept all the same: %v, %v", readings, err)
	}
}

func TestHeightsGiveTheFallOfPaddockAndRows(t *testing.T) {
	w := newTown(t)
	paddockID, jobID := w.wet(t)
	page := "/paddocks/" + itoa(paddockID)
	w.contractor.get(page).mustShow(t, 200, "No heights are read yet")
	w.contractor.post(page+"/heights").mustShow(t, 422, "Choose a file or type the heights.")
	w.contractor.post(page+"/heights", "heights_text", "-36.405, 140.101, 20\n-36.405, 140.105, 20.5\n-36.405, 140.109, 21").mustShow(t, 422, "nearly on one line", "-36.405, 140.101, 20")
	w.contractor.post(page+"/heights", "heights_text", "-35.405, 140.101, 20\n-35.4, 140.105, 20.5\n-35.405, 140.109, 21").mustShow(t, 422, "from the middle of Corner")
	// 0.009 degrees of latitude are 998.6 m here (GeodSolve), 4 m of fall to the north over them
	w.contractor.post(page+"/heights", "heights_text", "-36.4095, 140.101, 24\n-36.4095, 140.109, 24\n-36.4005, 140.101, 20\n-36.4005, 140.109, 20").mustLead(t, page+"?done=kept#fall")
	w.contractor.get(page).mustShow(t, 200, "Falls 0.40 % towards 0°, R² 1.000 from 4 heights", `class="falls"`, "read 4 heights")

	rows := "/jobs/" + itoa(jobID) + "/rows"
	w.contractor.post(rows, "bearing_deg", "180", "rows_per_belt", "1", "alley_m", "10", "headland_m", "10", "spacing_m", "3", "act", "keep").mustLead(t, "/jobs/"+itoa(jobID)+"?done=kept#rows")
	w.contractor.get(rows).mustShow(t, 200, "Rows fall 0.40 % along 0°.")
	w.contractor.get("/jobs/"+itoa(jobID)).mustShow(t, 200, "Rows fall 0.40 % along 0°.", "rise along the rows")
}

func TestEveryBearingIsTriedAndLaidByALink(t *testing.T) {
	w := newTown(t)
	paddockID, jobID := w.wet(t)
	page, rows, bearing := "/paddocks/"+itoa(paddockID), "/jobs/"+itoa(jobID)+"/rows", "/jobs/"+itoa(jobID)+"/bearing"
	w.contractor.get(bearing).mustShow(t, 409, "are not laid yet")
	w.contractor.post(rows, "bearing_deg", "20", "rows_per_belt", "1", "alley_m", "50", "headland_m", "10", "spacing_m", "3", "act", "keep").mustLead(t, "/jobs/"+itoa(jobID)+"?done=kept#rows")
	w.contractor.get(rows).mustShow(t, 200, `href="`+bearing+`">Try every bearing`)
	w.contractor.get(bearing).mustShow(t, 200, "The best few", "Of all 180 bearings", "no heights of the paddock are read", "no machine's width is entered", `class="line"`)

	w.contractor.post(page+"/heights", "heights_text", "-36.4095, 140.101, 24\n-36.4095, 140.109, 24\n-36.4005, 140.101, 20\n-36.4005, 140.109, 20").mustLead(t, page+"?done=kept#fall")
	w.contractor.get(bearing+"?least_fall=0.39&most_fall=1&width_m=3&water=1&turns=3&alleys=0").mustShow(t, 200, "Of the bearings whose rows fall 0.39 to 1 %, those that score most", "over its own, counted 3",
		"fall along the rows, %", `class="band"`, `href="`+rows+`?bearing=`, "Lay along this bearing")
	w.contractor.get(bearing+"?least_fall=0.5&most_fall=1").mustShow(t, 200, "No bearing falls 0.5 to 1 %")
	w.contractor.get(bearing+"?least_fall=2&most_fall=1").mustShow(t, 422, "is below the least")
	w.contractor.get(bearing+"?width_m=many").mustShow(t, 422, "is not a number")
	w.contractor.get(bearing+"?water=9").mustShow(t, 422, "is outside what is possible")
	w.contractor.get(rows+"?bearing=90").mustShow(t, 200, `value="90"`, "along 90° true")
	w.contractor.get(rows+"?bearing=north").mustShow(t, 200, `value="20"`)
}
