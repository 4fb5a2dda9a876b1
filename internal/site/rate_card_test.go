package site

import "testing"

// A job's rates begin from a card; nothing is kept until the contractor keeps it, and a card
// that changes later changes no job.
func TestRatesBeginFromACard(t *testing.T) {
	w := jobbed(t)
	w.contractor.get("/cards").mustShow(t, 200, "No rate card is kept yet.")
	w.contractor.post("/cards/new", ratesForm...).mustRefuse(t, "name", "Give the card a name")
	w.contractor.post("/cards/new", "name", "Twin rows").mustRefuse(t, "", "Enter at least one line")
	w.contractor.post("/cards/new", with(append([]string{"name", "Twin rows"}, ratesForm...), "price_1", "-105")...).mustRefuse(t, "price_1", "-105 is below zero")
	w.contractor.post("/cards/new", append([]string{"name", "Twin rows", "note", "2026"}, ratesForm...)...).mustLead(t, "/cards?done=kept")
	w.contractor.post("/cards/new", append([]string{"name", "twin rows"}, ratesForm...)...).mustRefuse(t, "name", "There is a rate card")
	w.contractor.get("/cards").mustShow(t, 200, "Twin rows", "<b>2</b> lines")
	w.contractor.get("/jobs/1/rates").mustShow(t, 200, `href="/jobs/1/rates?card=1"`, "Begin from Twin rows")
	w.contractor.get("/jobs/1/rates?card=1").mustShow(t, 200, `value="105.00"`, `value="Seeding rows on mounds"`)
	w.contractor.get("/jobs/1/rates?card=9").mustShow(t, 404)
	if rates := w.facts(t, 1).Rates; len(rates) != 0 {
		t.Errorf("looking at a card has priced the job: %+v", rates)
	}
	w.contractor.post("/jobs/1/rates?card=1", ratesForm...).mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.post("/cards/1", with(append([]string{"name", "Twin rows, dearer"}, ratesForm...), "price_1", "112")...).mustLead(t, "/cards?done=kept")
	w.contractor.get("/cards/1").mustShow(t, 200, `value="112.00"`, "Take the card off")
	if rates := w.facts(t, 1).Rates; len(rates) != 2 || rates[1].UnitPrice.Plain() != "105.00" {
		t.Errorf("the job is priced %+v", rates)
	}
	w.contractor.post("/cards/1", "act", "drop").mustLead(t, "/cards?done=off")
	w.contractor.get("/cards/1").mustShow(t, 404)
	w.sound(t)
}
