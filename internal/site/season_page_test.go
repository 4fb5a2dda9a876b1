package site

import (
	"strings"
	"testing"
)

func TestAnEmptySeasonBeginsWithAPaddock(t *testing.T) {
	w := newTown(t)
	w.contractor.get("/").mustShow(t, 200, "Monday 20 July 2026", "0 jobs being sown", "Nothing is due and nothing is short.", `href="/jobs/new"`)
	w.contractor.get("/jobs").mustShow(t, 200, "No job is kept yet.")
	w.contractor.get("/farms").mustShow(t, 200, "No farm is kept yet.")
	w.contractor.get("/jobs/new").mustLead(t, "/farms?done=first")
	w.contractor.get("/farms?done=first").mustShow(t, 200, "Add the farm and its paddock first.")
	w.operator.get("/truck").mustShow(t, 200, "No job to sow")
}

// At each stage the first page names the job with its figure and the page where it goes on.
func TestTheSeasonLeadsOn(t *testing.T) {
	for _, c := range []struct {
		stage string
		at    func(testing.TB) town
		leads string
	}{
		{"Looked at", jobbed, `href="/jobs/1/rows"`},
		{"Looked at", priced, `href="/jobs/1/quote"`},
		{"Quoted", quoted, `href="/farms/1#link"`},
		{"Agreed", agreed, `href="/truck/1"`},
		{"Sown", sownOver, `href="/jobs/1/invoice"`},
	} {
		w := c.at(t)
		p := w.contractor.get("/")
		p.mustShow(t, 200, c.stage, "Bore at Example Farm", c.leads, "from 13 Jul 2026", "<svg")
		w.contractor.get("/jobs").mustShow(t, 200, "1 of 1 jobs still want something.", c.leads)
		w.contractor.get("/farms").mustShow(t, 200, "1 of 1 farm waits for something")
	}
}

func TestABilledSeasonIsQuiet(t *testing.T) {
	w := sownOver(t)
	w.contractor.post("/jobs/1/invoice").mustShow(t, 303)
	if p := w.contractor.get("/"); strings.Contains(p.mainText(), "Bore at") || p.status != 200 {
		t.Errorf("answered %d: %s", p.status, p.mainText())
	}
	w.contractor.get("/jobs").mustShow(t, 200, "Nothing is open: every job is billed or declined.")
	w.contractor.get("/farms").mustShow(t, 200, "No farm waits for anything.")
}

func TestTheSeasonSaysWhatStandsInTheWay(t *testing.T) {
	w := agreed(t)
	w.contractor.post("/shed/lots/1/hold", "reason", "failed its retest").mustShow(t, 303)
	w.contractor.get("/").mustShow(t, 200, "Bore at Example Farm", "Lot D26-01 is on hold: failed its retest", `href="/jobs/1/mix"`)
	w.contractor.post("/shed/lots/1/free").mustShow(t, 303)
	w.contractor.post("/shed/media/1/stock", "what", counted, "quantity", "200", "place", "shed", "note", "counted").mustShow(t, 303)
	w.contractor.get("/").mustShow(t, 200, "agreed jobs need more vermiculite, medium grade than is free", `href="/shed/media/1/stock"`)
}

// The season's day is the business's: at half past nine in Adelaide it is still Sunday in
// New York and noon in Auckland.
func TestTheDayIsTheBusinesses(t *testing.T) {
	w := newTown(t)
	for zone, day := range map[string]string{"Australia/Adelaide": "Monday 20 July 2026", "America/New_York": "Sunday 19 July 2026", "Pacific/Auckland": "Monday 20 July 2026"} {
		form := []string{"name", "Example Rows", "abn", "", "registered", "no", "registered_on", "", "currency", "AUD", "tax_label", "GST",
			"tax_percent", "10", "zone", zone, "terms_days", "14", "valid_days", "30"}
		w.contractor.post("/business", form...).mustShow(t, 303)
		w.contractor.get("/").mustShow(t, 200, day)
	}
}
