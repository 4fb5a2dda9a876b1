package site

import (
	"strings"
	"testing"
)

func TestTermsAreTheBusinessesUntilAJobHasItsOwn(t *testing.T) {
	w := priced(t)
	w.contractor.get("/terms").mustShow(t, 200, "85", "115", "What the farmer sees to", "AUD ex GST")
	w.contractor.post("/terms", "minimum", "1,500", "standby", "165", "standby_free", "1", "access", "Dogs tied up.").mustLead(t, "/terms?done=kept")
	w.contractor.get("/jobs/1/quote").mustShow(t, 200, "$1,500.00 ex GST at least", "Dogs tied up.", "after the first 1 h of the job")
	w.contractor.post("/jobs/1/terms", "access", "Mind the dam.").mustLead(t, "/jobs/1?done=kept#money")
	own := w.contractor.get("/jobs/1/quote")
	own.mustShow(t, 200, "Mind the dam.")
	if strings.Contains(own.text, "Dogs tied up") || strings.Contains(own.text, "1,500.00 ex GST at least") {
		t.Error("the job's quote states the business's terms beside its own")
	}
	w.contractor.get("/jobs/1/terms").mustShow(t, 200, "This job has terms of its own.", "Go by the business's terms again")
	w.contractor.post("/jobs/1/terms", "act", "drop").mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.get("/jobs/1/quote").mustShow(t, 200, "Dogs tied up.")
}

func TestATermsFormSaysWhatToChange(t *testing.T) {
	w := newTown(t)
	for _, c := range []struct{ field, value, says string }{
		{"minimum", "-5", "-5 is below zero"},
		{"deposit", "101", "101 % is more than the whole"},
		{"guard_low", "101", "enter a number from 0 to 100"},
		{"guard_high", "99", "enter a number from 100 to"},
		{"standby", "much", "is not an amount"},
		{"work_days", "-1", "enter a number from 0 to 365"},
		{"other", strings.Repeat("long ", 500), "shorten it to 2000"},
	} {
		p := w.contractor.post("/terms", c.field, c.value, "supplies", "kept as typed")
		p.mustRefuse(t, c.field, c.says)
		p.mustShow(t, 422, "kept as typed")
	}
	w.contractor.post("/terms", "guard_low", "90").mustRefuse(t, "guard_high", "enter one from 100")
	w.contractor.get("/terms").mustShow(t, 200, "The contractor brings seed") // nothing was kept
}

// The farmer ticks what is wanted; what is not ticked is not billed.
func TestAYesMayIncludeOptionalLines(t *testing.T) {
	w := priced(t)
	roller := []string{"what_2", "Roller over the alleys", "unit_2", "ha", "basis_2", "fixed", "quantity_2", "10", "price_2", "18.00", "counts_2", "optional"}
	w.contractor.post("/jobs/1/rates", append(roller, ratesForm...)...).mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.get("/jobs/1/rates").mustShow(t, 200, `<option value="optional" selected>`)
	w.contractor.post("/jobs/1/rates", append([]string{"counts_0", "optional", "counts_1", "optional"}, append(roller, ratesForm...)...)...).mustRefuse(t, "counts_0", "let at least one count")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	w.contractor.get("/papers/1").mustShow(t, 200, "if wanted, not in the total")
	w.nobody.get(farmJob).mustShow(t, 200, "Roller over the alleys, $180.00 more ex GST", `name="option_3"`, "1,673.70")
	w.nobody.post(farmJob+"/yes", "name", " ", "quote", "1", "option_3", "on").mustShow(t, 422, `name="option_3" value="on" checked`)
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1", "option_3", "on").mustLead(t, farmJob+"?done=agreed")
	w.nobody.get(farmJob).mustShow(t, 200, "With Roller over the alleys.")
	agreed, _, ok := w.facts(t, 1).Agreed()
	if !ok || len(agreed.Lines) != 3 || agreed.NetTotal != agreed.Lines[0].Net+agreed.Lines[1].Net+180_00 {
		t.Errorf("agreed %d lines, %s", len(agreed.Lines), agreed.NetTotal)
	}
	w.contractor.get("/jobs/1").mustShow(t, 200, "$"+agreed.Total.Shown(), "agreed by the manager")
	w.sound(t)
}

func TestAJobsDaysCannotLieBeforeItWasAskedFor(t *testing.T) {
	w := jobbed(t)
	w.contractor.post("/jobs/1/edit", with(jobForm, "visited_on", "2026-04-19")...).mustRefuse(t, "visited_on", "is before the farmer asked on 20 Apr 2026")
	w.contractor.post("/jobs/1/edit", with(with(jobForm, "window_from", "2026-03-01"), "window_to", "2026-03-09")...).mustRefuse(t, "window_to", "before the farmer asked on 20 Apr 2026")
}
