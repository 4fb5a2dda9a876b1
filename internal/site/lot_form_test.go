package site

import (
	"context"
	"net/http"
	"strings"
	"testing"

	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// lotForm is a new lot as it may be typed.
var lotForm = []string{
	"code", "D26-01", "species", "Atriplex nummularia", "common_name", "old man saltbush", "form", "fruit, bracts on",
	"layer", "shrub", "purity_percent", "92.0", "unit", "fruit", "thousand_g", "12", "units_per_kg", "", "count_hard", "no",
	"retest_months", "12", "bulk_density", "0.18", "received_on", "2026-01-10", "origin", "private land", "supplier", "collector",
	"supplier_lot", "K-118", "treatment", "", "cost_per_kg", "48.00", "note", "", "kg", "64.0",
}

// testForm is a germination test with four replicates that agree.
var testForm = []string{
	"tested_on", "2026-02-10", "laboratory", "district laboratory", "reference", "S-2026-14", "method", "top of paper", "note", "",
	"seeds_1", "100", "normal_1", "31", "abnormal_1", "3", "hard_1", "0", "fresh_1", "1", "dead_1", "65",
	"seeds_2", "100", "normal_2", "36", "abnormal_2", "3", "hard_2", "0", "fresh_2", "1", "dead_2", "60",
	"seeds_3", "100", "normal_3", "35", "abnormal_3", "3", "hard_3", "0", "fresh_3", "1", "dead_3", "61",
	"seeds_4", "100", "normal_4", "34", "abnormal_4", "3", "hard_4", "0", "fresh_4", "1", "dead_4", "62",
}

// lotted is a town with the lot of lotForm, number 1.
func lotted(t *testing.T) town {
	t.Helper()
	w := newTown(t)
	w.contractor.post("/shed/lots/new", lotForm...).mustLead(t, "/shed/lots/1")
	return w
}

func TestANewLotIsKeptAsTyped(t *testing.T) {
	w := lotted(t)
	got, err := w.store.Lot(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	want := seed.Lot{
		ID: 1, Code: "D26-01", Species: "Atriplex nummularia", CommonName: "old man saltbush", Form: "fruit, bracts on", Unit: "fruit",
		Layer: seed.Shrub, Origin: "private land", Supplier: "collector", SupplierLot: "K-118", ReceivedOn: "2026-01-10",
		PurityPercent: 92, UnitsPerKg: got.UnitsPerKg, BulkDensityKgPerL: 0.18, CostPerKg: got.CostPerKg, TreatmentPerKg: got.TreatmentPerKg, RetestMonths: 12,
	}
	if got != want || got.CostPerKg.Fixed(2) != "48.00" || got.TreatmentPerKg.Sign() != 0 {
		t.Errorf("kept %+v, want %+v", got, want)
	}
	if got.UnitsPerKg < 83333.3 || got.UnitsPerKg > 83333.4 {
		t.Errorf("12 g a thousand gave %v units per kg, want 83333.33", got.UnitsPerKg)
	}
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "D26-01, old man saltbush", "Never tested", "64.0", "Atriplex nummularia")
}

func TestALotFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := newTown(t)
	for _, c := range []struct{ field, value, says string }{
		{"purity_percent", "0", "Purity is 0 %, enter a figure above 0 and up to 100."},
		{"purity_percent", "140", "Purity is 140 %, enter a figure above 0 and up to 100."},
		{"purity_percent", "-3", "Purity is -3 %"},
		{"purity_percent", "", "Enter the purity of the certificate."},
		{"purity_percent", "ninety", "“ninety” is not a number"},
		{"purity_percent", "NaN", "“NaN” is not a number"},
		{"code", "", "Enter the lot"},
		{"species", "", "Enter the botanical name."},
		{"unit", "", "Enter what the test counted"},
		{"layer", "tree", "Choose one of the list."},
		{"kg", "-5", "-5 is outside what is possible"},
		{"kg", "1000000", "1000000 is outside what is possible"},
		{"kg", "1e999", "is not a number"},
		{"kg", "", "Enter a number from 0"},
		{"thousand_g", "", "Enter the weight of 1000 units, or the units per kg."},
		{"thousand_g", "0", "0 is outside what is possible"},
		{"units_per_kg", "83333", "leave one empty"},
		{"retest_months", "0", "enter a whole number from 1 to 120"},
		{"received_on", "2026-07-21", "21 Jul 2026 is after today, 20 Jul 2026"},
		{"received_on", "31 Feb", "is not a day"},
		{"cost_per_kg", "a lot", "“a lot” is not an amount"},
		{"cost_per_kg", "-1", "-1 is below zero"},
		{"bulk_density", "40", "40 is outside what is possible"},
	} {
		p := w.contractor.post("/shed/lots/new", with(lotForm, c.field, c.value)...)
		p.mustShow(t, 422, c.says, `value="K-118"`, `aria-invalid="true"`)
		if c.value != "" && !strings.Contains(c.field, "layer") {
			p.mustShow(t, 422, `value="`+c.value+`"`)
		}
	}
	if lots, err := w.store.Lots(context.Background()); err != nil || len(lots) != 0 {
		t.Errorf("%d lots kept by refused forms, %v", len(lots), err)
	}
}

func TestACodeAlreadyUsedIsRefusedBesideItsField(t *testing.T) {
	w := lotted(t)
	w.contractor.post("/shed/lots/new", lotForm...).mustShow(t, 422, "A lot has the number D26-01 already", `value="D26-01"`, `id="code-says"`)
}

func TestARepeatedKeyAddsOneLotOnly(t *testing.T) {
	w := newTown(t)
	once := append([]string{"key", "a-key-made-by-the-browser"}, lotForm...)
	for range 3 {
		w.contractor.post("/shed/lots/new", once...).mustLead(t, "/shed/lots/1")
	}
	lots, err := w.store.Lots(context.Background())
	if err != nil || len(lots) != 1 {
		t.Errorf("%d lots after the same form three times, %v", len(lots), err)
	}
	moved, err := w.store.Movements(context.Background(), job.LotStock, 1)
	if err != nil || len(moved) != 1 {
		t.Errorf("%d movements after the same form three times, %v", len(moved), err)
	}
}

func TestAChangedLotKeepsItsHoldAndItsStock(t *testing.T) {
	w := lotted(t)
	w.contractor.post("/shed/lots/1/hold", "reason", "weevils").mustLead(t, "/shed/lots/1?done=held")
	page := w.contractor.get("/shed/lots/1/edit")
	page.mustShow(t, 200, `value="D26-01"`, `value="92"`, `value="0.18"`, `value="83333.33`)
	changed := with(with(with(lotForm, "purity_percent", "90.5"), "thousand_g", ""), "units_per_kg", "84000")
	w.contractor.post("/shed/lots/1/edit", changed...).mustLead(t, "/shed/lots/1?done=kept")
	w.contractor.get("/shed/lots/1?done=kept").mustShow(t, 200, "Kept.", "weevils", "90.5", "64.0")
	w.contractor.post("/shed/lots/1/edit", with(changed, "purity_percent", "140")...).mustShow(t, 422, "Purity is 140 %")
}

func TestALotIsHeldAndFreedWithItsReason(t *testing.T) {
	w := lotted(t)
	w.contractor.post("/shed/lots/1/hold", "reason", " ").mustShow(t, 422, "Say why nothing may be mixed from it", "D26-01, old man saltbush")
	w.contractor.post("/shed/lots/1/hold", "reason", "failed its retest").mustLead(t, "/shed/lots/1?done=held")
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "On hold since 20 Jul 2026: failed its retest")
	w.operator.get("/shed").mustShow(t, 200, "on hold: failed its retest", "one is on hold")
	w.contractor.post("/shed/lots/1/free").mustLead(t, "/shed/lots/1?done=freed")
	w.contractor.post("/shed/lots/1/free").mustShow(t, http.StatusConflict, "The lot D26-01 is not on hold")
}

func TestTheOperatorReadsAndChangesNothing(t *testing.T) {
	w := lotted(t)
	p := w.operator.get("/shed/lots/1")
	p.mustShow(t, 200, "D26-01")
	for _, way := range []string{"/edit", "/stock", "/tests/new", "/hold"} {
		if strings.Contains(p.text, "/shed/lots/1"+way) {
			t.Errorf("the operator is shown the way to %s, which is closed to them", way)
		}
	}
}

func TestWhatIsTypedIsShownAsText(t *testing.T) {
	w := newTown(t)
	w.contractor.post("/shed/lots/new", with(lotForm, "common_name", `<script>alert("x")</script>`)...).mustLead(t, "/shed/lots/1")
	for _, path := range []string{"/shed", "/shed/lots/1", "/shed/lots/1/edit"} {
		if p := w.contractor.get(path); strings.Contains(p.text, "<script>alert") {
			t.Errorf("%s runs what was typed", path)
		}
	}
}
