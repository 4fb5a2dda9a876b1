package site

import (
	"testing"

	"rowtally/internal/money"
)

var costingForm = []string{"hand_h", "6.5", "hand_done_h", "", "float_km", "164", "float_share_percent", "50", "float_share_why", "with the neighbour's", "float_done_km", "",
	"what_0", "spray", "quantity_0", "18.5", "unit_0", "ha", "price_0", "14.20", "billed_0", "", "resow_percent", "5", "resow_why", "late window"}

func TestAJobsCostIsEnteredAndShown(t *testing.T) {
	w := agreed(t)
	w.contractor.get("/jobs/1").mustShow(t, 200, `href="/jobs/1/cost"`)
	w.contractor.get("/jobs/1/cost").mustShow(t, 200, "As planned", "enter how many hours each is planned to run", "Nothing of this job is done yet")
	w.contractor.post("/business/costs", "labour_per_h", "42.50", "float_per_km", "1.85", "overhead_percent", "12", "overhead_per_row_km", "0").mustLead(t, "/business/costs?done=kept")
	w.contractor.post("/jobs/1/costs", costingForm...).mustLead(t, "/jobs/1/cost?done=kept")
	f := w.facts(t, 1)
	c := f.Costs.Costing
	if c == nil || c.HandH.Compare(money.MustFactor("6.5")) != 0 || c.HandDoneH != nil || len(c.Others) != 1 || c.FloatShareWhy != "with the neighbour's" || len(c.Machines) != 0 {
		t.Fatalf("kept %+v", c)
	}
	// 82 km at 1.85, 6.5 h at 42.50, 18.5 ha at 14.20
	w.contractor.get("/jobs/1/cost").mustShow(t, 200, "151.70", "276.25", "262.70", "allowance to sow again", "late window", "of the price", "on the cost")
	w.contractor.get("/jobs/1/costs").mustShow(t, 200, `value="6.5"`, `value="14.20"`, `value="late window"`)
}

func TestACostFormSaysWhatToChange(t *testing.T) {
	w := agreed(t)
	for _, c := range []struct{ field, typed, at, says string }{
		{"hand_h", "many", "hand_h", "is not an amount"},
		{"hand_h", "-2", "hand_h", "below zero"},
		{"float_share_percent", "130", "float_share_percent", "enter a figure from 0 to 100"},
		{"float_share_percent", "0", "float_share_percent", "enter 100 for all of it"},
		{"float_share_why", "", "float_share_why", "which jobs bear the rest"},
		{"resow_why", "", "resow_why", "keeps its reason"},
		{"what_0", "", "what_0", "Say what others do."},
		{"quantity_0", "0", "quantity_0", "above 0"},
		{"unit_0", "acre", "unit_0", "Choose one of the list."},
		{"billed_0", "a lot", "billed_0", "is not an amount"},
	} {
		w.contractor.post("/jobs/1/costs", with(costingForm, c.field, c.typed)...).mustRefuse(t, c.at, c.says)
	}
	if c := w.facts(t, 1).Costs.Costing; c != nil {
		t.Errorf("refused forms kept %+v", c)
	}
	w.contractor.post("/business/costs", "labour_per_h", "42.50", "float_per_km", "", "overhead_percent", "140", "overhead_per_row_km", "0").mustRefuse(t, "float_per_km", "is not an amount")
	w.contractor.post("/business/costs", "labour_per_h", "42.50", "float_per_km", "2", "overhead_percent", "140", "overhead_per_row_km", "0").mustRefuse(t, "overhead_percent", "enter 0 to 100")
}
