package site

import (
	"context"
	"net/url"
	"strings"
	"testing"

	"rowtally/internal/job"
)

func TestAJobFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := jobbed(t)
	for _, path := range []string{"/jobs/new", "/jobs/1/edit"} {
		for _, c := range []struct{ field, value, says string }{
			{"paddock", "", "Choose the paddock."},
			{"paddock", "x", "Choose the paddock."},
			{"season", "", "Enter a whole number from 1990 to 2200."},
			{"season", "26", "26 is outside what is possible"},
			{"asked_on", "", "Enter a day."},
			{"asked_on", "2026-02-30", "is not a day"},
			{"asked_on", "2026-07-21", "21 Jul 2026 is still to come"},
			{"visited_on", "yesterday", "is not a day"},
			{"visited_on", "2026-07-21", "21 Jul 2026 is after today"},
			{"window_to", "2026-07-12", "The window ends on 12 Jul 2026, before it begins"},
			{"note", strings.Repeat("x", 2001), "shorten it to 2000"},
		} {
			p := w.contractor.post(path, with(jobForm, c.field, c.value)...)
			p.mustRefuse(t, c.field, c.says)
			p.mustShow(t, 422, "ECe 11 dS/m", `value="2026-07-13"`)
		}
	}
	jobs, err := w.store.Jobs(context.Background(), 0)
	if err != nil || len(jobs) != 1 || jobs[0].VisitNote != "ECe 11 dS/m" || jobs[0].Season != 2026 || jobs[0].Name != "Bore" {
		t.Errorf("kept %+v, %v", jobs, err)
	}
}

func TestAJobStaysOnItsFarm(t *testing.T) {
	w := jobbed(t)
	w.contractor.post("/farms/new", with(farmForm, "name", "Other Farm")...).mustLead(t, "/farms/2")
	w.contractor.post("/farms/2/paddocks/new", "name", "Hut", "boundary_text", square).mustLead(t, "/paddocks/2")
	w.contractor.post("/jobs/1/edit", with(jobForm, "paddock", "2")...).mustRefuse(t, "paddock", "Hut is a paddock of another farm")
	if got := w.facts(t, 1); got.Paddock.Name != "Bore" || got.Farm.Name != "Example Farm" {
		t.Errorf("the job is on %s of %s", got.Paddock.Name, got.Farm.Name)
	}
	w.contractor.post("/jobs/new", with(jobForm, "paddock", "99")...).mustShow(t, 404)
}

func TestADeclinedJobKeepsItsReason(t *testing.T) {
	w := agreed(t)
	if held := w.facts(t, 1).Held; len(held) == 0 {
		t.Fatal("the yes holds nothing back")
	}
	for _, c := range []struct{ field, value, says string }{
		{"why", "", "Say why"}, {"on", "", "Enter a day."}, {"on", "soon", "is not a day"}, {"on", "2026-07-21", "21 Jul 2026 is after today"},
	} {
		w.contractor.post("/jobs/1/decline", with([]string{"on", "2026-07-20", "why", "too wet"}, c.field, c.value)...).mustRefuse(t, c.field, c.says)
	}
	w.contractor.post("/jobs/1/decline", "on", "2026-07-19", "why", "too wet, fence & leave").mustLead(t, "/jobs/1?done=kept")
	w.contractor.get("/jobs/1").mustShow(t, 200, "too wet, fence & leave")
	facts := w.facts(t, 1)
	if job.StageOf(facts) != job.Declined || len(facts.Held) != 0 || len(facts.Papers) != 1 {
		t.Errorf("%s, holds %v back, %d papers", job.StageOf(facts), facts.Held, len(facts.Papers))
	}
	w.nobody.get(farmJob).mustShow(t, 200, "You said yes to Q2026-0001")
	w.contractor.post("/jobs/1/mix", recipeForm...).mustLead(t, "/jobs/1?done=kept#seed")
	if held := w.facts(t, 1).Held; len(held) != 0 {
		t.Errorf("a change of its lots holds %v back again", held)
	}
	w.sound(t)
}

func TestARowsFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := jobbed(t)
	for _, c := range []struct{ field, value, says string }{
		{"bearing_deg", "", "Enter a number from 0 to 360."},
		{"bearing_deg", "361", "361 is outside what is possible"},
		{"bearing_deg", "north", "“north” is not a number"},
		{"rows_per_belt", "0", "0 is outside what is possible"},
		{"rows_per_belt", "2.5", "“2.5” is not a whole number"},
		{"row_gap_m", "", "Enter a number"},
		{"row_gap_m", "0", "0 is outside what is possible"},
		{"alley_m", "-12", "-12 is outside what is possible"},
		{"headland_m", "200", "No row fits"},
		{"headland_m", "-1", "-1 is outside what is possible"},
		{"no_go_margin_m", "x", "“x” is not a number"},
		{"spacing_m", "0", "0 is outside what is possible"},
		{"spacing_m", "Inf", "“Inf” is not a number"},
		{"least_row_m", "-1", "-1 is outside what is possible"},
	} {
		p := w.contractor.post("/jobs/1/rows", with(layoutForm, c.field, c.value)...)
		p.mustRefuse(t, c.field, c.says)
		if c.field != "alley_m" {
			p.mustKeep(t, "alley_m", "12")
		}
		p.mustKeep(t, c.field, c.value)
	}
	if w.facts(t, 1).Layout != nil {
		t.Error("a refused layout was kept")
	}
	preview := "/jobs/1/rows/preview?" + url.Values{"bearing_deg": {"10"}, "rows_per_belt": {"1"}, "alley_m": {"4"}, "headland_m": {"5"}, "spacing_m": {"3"}}.Encode()
	if part := w.contractor.get(preview); part.status != 200 || !strings.Contains(part.text, "<svg") || strings.Contains(part.text, "<html") {
		t.Errorf("a script is answered %d: %s", part.status, part.text)
	}
	w.contractor.get("/jobs/1/rows/preview?bearing_deg=900").mustShow(t, 200, "900 is outside what is possible")
	w.contractor.post("/jobs/1/rows", with(layoutForm, "act", "draw")...).mustShow(t, 200, "What this lays", "row-km", "<svg")
	if w.facts(t, 1).Layout != nil {
		t.Error("a layout that was only drawn was kept")
	}
}

func TestRowsAreNotLaidWithoutABoundary(t *testing.T) {
	w := jobbed(t)
	w.contractor.post("/farms/1/paddocks/new", "name", "Hut").mustLead(t, "/paddocks/2")
	w.contractor.post("/jobs/new", with(jobForm, "paddock", "2")...).mustLead(t, "/jobs/2")
	w.contractor.post("/jobs/2/rows", layoutForm...).mustRefuse(t, "", "Hut has no boundary yet")
	w.contractor.get("/jobs/2").mustShow(t, 200, "No boundary is read yet.")
	w.contractor.get("/jobs/2/rows").mustShow(t, 200)
	w.contractor.get("/jobs/2/sown").mustShow(t, 409, "No boundary of Hut is read yet")
}

func TestAMixFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := jobbed(t)
	w.contractor.post("/jobs/1/rows", layoutForm...).mustLead(t, "/jobs/1?done=kept#rows")
	for _, c := range []struct{ field, value, says string }{
		{"placement_ml", "", "Enter a number"},
		{"placement_ml", "0", "0 is outside what is possible"},
		{"tub_l", "-160", "-160 is outside what is possible"},
		{"spare_percent", "101", "101 is outside what is possible"},
		{"scale_step_g", "0", "0 is outside what is possible"},
		{"product", "", "Choose the medium"},
		{"product", "99", ""},
		{"live_0", "0", "0 is outside what is possible"},
		{"live_0", "", "Enter a number"},
		{"live_0", "100 %", "100 is outside what is possible"},
		{"emergence_0", "", "Enter a number"},
		{"emergence_0", "101", "101 is outside what is possible"},
	} {
		p := w.contractor.post("/jobs/1/mix", with(recipeForm, c.field, c.value)...)
		if c.value == "99" {
			p.mustRefuse(t, "", "names no bulking medium that is kept")
			continue
		}
		p.mustRefuse(t, c.field, c.says)
		if c.field != "product" {
			p.mustKeep(t, c.field, c.value)
		}
		p.mustShow(t, 422, `name="lot_1" checked`)
	}
	w.contractor.post("/jobs/1/mix", with(recipeForm, "lot_1", "")...).mustRefuse(t, "live_0", "Tick at least one lot of Atriplex nummularia.")
	w.contractor.post("/jobs/1/mix", with(with(recipeForm, "lot_1", ""), "live_0", "")...).mustRefuse(t, "", "Enter live seeds a placement for at least one species")
	if w.facts(t, 1).Recipe != nil {
		t.Error("a refused recipe was kept")
	}
	w.contractor.post("/jobs/1/mix", with(recipeForm, "live_0", "78 %")...).mustLead(t, "/jobs/1?done=kept#seed")
	if got := w.facts(t, 1).Recipe.Species[0]; got.TargetFilledPercent != 78 || got.LivePerPlacement != 0 {
		t.Errorf("78 %% of placements to fill are kept as %+v", got)
	}
	w.contractor.get("/jobs/1/mix").mustShow(t, 200, `value="78 %"`)
}

func TestARatesFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := priced(t)
	for _, c := range []struct{ field, value, says string }{
		{"what_0", "", "Say what is charged."},
		{"price_0", "-1", "-1 is below zero"},
		{"price_0", "", "is not an amount"},
		{"price_0", "1e9", "is not an amount"},
		{"price_0", "1000000001", "more than anybody could charge"},
		{"price_0", strings.Repeat("9", 60), ""},
		{"price_0", "105,00", "“105,00” is not an amount: enter it as 12.50."},
		{"price_0", "1,25", "is not an amount"},
		{"price_0", "1250,500", "is not an amount"},
		{"quantity_0", "", "is not an amount"},
		{"quantity_0", "-1", "-1 is below zero"},
		{"unit_0", "furlong", "Choose one of the list."},
		{"basis_0", "", "Choose one of the list."},
		{"unit_1", "ha", "A line that follows the row-km sown is priced by the row-km."},
		{"price_0", "1000001", "more than anybody charges for one unit"},
	} {
		p := w.contractor.post("/jobs/1/rates", with(ratesForm, c.field, c.value)...)
		p.mustRefuse(t, c.field, c.says)
		p.mustKeep(t, "what_1", "Seeding rows on mounds", "price_1", "105.00")
		if !strings.HasPrefix(c.field, "unit") && !strings.HasPrefix(c.field, "basis") {
			p.mustKeep(t, c.field, c.value)
		}
	}
	w.contractor.post("/jobs/1/rates").mustRefuse(t, "", "Enter at least one line")
	rates := w.facts(t, 1).Rates
	if len(rates) != 2 || rates[0].UnitPrice.Plain() != "380.00" || rates[1].UnitPrice.Plain() != "105.00" {
		t.Errorf("kept %+v", rates)
	}
	w.contractor.get("/jobs/1/rates").mustShow(t, 200, `value="105.00"`, `value="380.00"`, "15.94 row-km planned")
}

func TestAPriceMayBeTypedAsPeopleWriteIt(t *testing.T) {
	w := priced(t)
	for typed, want := range map[string]string{"1250.5": "1250.50", "1,250.50": "1250.50", "1,250": "1250.00", "1 250.50": "1250.50", "$1250.50": "1250.50", "22.7248": "22.7248", "0": "0.00", "+5": "5.00"} {
		w.contractor.post("/jobs/1/rates", with(ratesForm, "price_0", typed)...).mustLead(t, "/jobs/1?done=kept#money")
		if got := w.facts(t, 1).Rates[0].UnitPrice.Plain(); got != want {
			t.Errorf("%q is kept as %s, want %s", typed, got, want)
		}
	}
}

// A price that fits into no bill is refused before it is kept, not when the bill is made.
func TestRatesThatNoBillCouldHoldAreRefused(t *testing.T) {
	w := priced(t)
	huge := with(with(ratesForm, "price_0", "999999"), "quantity_0", "999999999")
	w.contractor.post("/jobs/1/rates", huge...).mustRefuse(t, "", "too large for a line")
	w.contractor.get("/jobs/1").mustShow(t, 200)
	w.contractor.get("/jobs/1/quote").mustShow(t, 200, "380.00")
}
