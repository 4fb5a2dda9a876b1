package site

import (
	"strings"
	"testing"

	"rowtally/internal/job"
)

func TestAPriceIsBuiltFromCost(t *testing.T) {
	w := priced(t)
	w.contractor.get("/jobs/1/rates").mustShow(t, 200, "The planned cost is", "of the cost, and the margin", "Price from cost")
	w.contractor.get("/jobs/1/quote").mustShow(t, 200, "For you alone.", "and the margin")
	w.contractor.get("/jobs/1/from-cost").mustShow(t, 200, "a margin, % of the price", "As the rates stand.")
	for _, c := range []struct{ way, percent, says string }{
		{"margin", "100", "no price is high enough"}, {"margin", "-5", "-5 is below zero"}, {"mark-up", "1001", "more than anybody adds"}, {"mark-up", "", "is not an amount"},
	} {
		w.contractor.post("/jobs/1/from-cost", "act", "keep", "way", c.way, "percent", c.percent).mustRefuse(t, "percent", c.says)
	}
	w.contractor.post("/jobs/1/from-cost", "act", "keep", "way", "guess", "percent", "5").mustRefuse(t, "way", "Choose one of the list.")
	if rates := w.facts(t, 1).Rates; len(rates) != 2 || rates[1].UnitPrice.Plain() != "105.00" {
		t.Errorf("what was refused has changed the rates: %+v", rates)
	}
	w.contractor.post("/jobs/1/from-cost", "act", "show", "way", "margin", "percent", "20").mustShow(t, 200, "the mark-up is 25.0 % of the cost, and the margin 20.0 % of the price", "Keep them as the rates")
	w.contractor.post("/jobs/1/from-cost", "act", "keep", "way", "margin", "percent", "20").mustLead(t, "/jobs/1?done=kept#money")
	facts := w.facts(t, 1)
	draft, err := job.QuoteDraft(facts)
	if err != nil {
		t.Fatal(err)
	}
	marked, err := job.MarkedAt(facts, draft.NetTotal)
	if err != nil || marked.MarginPercent.Fixed(1) != "20.0" {
		t.Errorf("kept at a margin of %s %%, %v", marked.MarginPercent, err)
	}
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	if p := w.nobody.get(farmJob); strings.Contains(p.text, "margin") || strings.Contains(p.text, "mark-up") || strings.Contains(p.text, "cost") {
		t.Error("the farmer reads of the cost")
	}
}

func TestAJobWithoutACostHasNoPriceFromIt(t *testing.T) {
	w := jobbed(t)
	w.contractor.get("/jobs/1/from-cost").mustShow(t, 409, "Enter the cost")
}
