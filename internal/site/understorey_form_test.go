package site

import (
	"testing"

	"rowtally/internal/job"
)

// sownBetween is a town with an agreed job and a clover to sow between its rows.
func sownBetween(t *testing.T) town {
	t.Helper()
	w := agreed(t)
	lot := with(with(with(with(with(with(lotForm, "code", "U26-03"), "species", "Trifolium michelianum"), "common_name", "balansa clover"), "layer", "understorey"), "count_hard", "yes"), "thousand_g", "0.9")
	w.contractor.post("/shed/lots/new", lot...).mustLead(t, "/shed/lots/2")
	w.contractor.post("/shed/lots/2/tests/new", testForm...).mustLead(t, "/shed/lots/2?done=tested")
	return w
}

var understoreyForm = []string{"over", "gross", "rate_0", "1", "rate_of_0", "live", "hard_0", "counted", "group_0", "C", "inoculant_0", "10", "hours_0", "24", "lot_2", "on"}

func TestAnUnderstoreyIsKeptAndHeldBack(t *testing.T) {
	w := sownBetween(t)
	w.contractor.get("/jobs/1/understorey").mustShow(t, 200, "balansa clover", "U26-03 was tested at", `<option value="counted" selected>`)
	w.contractor.post("/jobs/1/understorey", understoreyForm...).mustLead(t, "/jobs/1?done=kept#understorey")
	f := w.facts(t, 1)
	want := job.UnderstoreySpecies{Species: "Trifolium michelianum", RateKgPerHa: 1, RateIsLive: true, CountHard: true, InoculantGroup: "C", InoculantGPerKg: 10, InoculantHours: 24}
	if f.Understorey == nil || len(f.Understorey.Species) != 1 {
		t.Fatalf("kept %+v", f.Understorey)
	}
	got := f.Understorey.Species[0]
	if len(got.LotIDs) != 1 || got.LotIDs[0] != 2 {
		t.Errorf("its lots are %v", got.LotIDs)
	}
	got.LotIDs = nil
	if f.Understorey.HectaresOf != job.GrossHa || got.Species != want.Species || got.RateKgPerHa != want.RateKgPerHa || got.RateIsLive != want.RateIsLive ||
		got.CountHard != want.CountHard || got.InoculantGroup != want.InoculantGroup || got.InoculantGPerKg != want.InoculantGPerKg || got.InoculantHours != want.InoculantHours {
		t.Errorf("kept %+v, want %+v", got, want)
	}
	worked, err := f.WorkUnderstorey()
	if err != nil {
		t.Fatal(err)
	}
	held := int64(0)
	for _, h := range f.Held {
		if h.StockID == 2 && h.StockKind == job.LotStock {
			held = h.Held
		}
	}
	if grams := int64(worked.Kg * 1000); held < grams || held > grams+1 {
		t.Errorf("%d g are held back, want %v kg", held, worked.Kg)
	}
	w.contractor.get("/jobs/1").mustShow(t, 200, "ha gross", "of group C, 10 g to a kg of seed; sown within 24 h of mixing")
	w.contractor.get("/jobs/1/quote").mustShow(t, 200, "kg/ha of pure live seed", "the paddock&#39;s gross hectares")
	w.contractor.get("/jobs/1/understorey").mustShow(t, 200, `value="C"`, `name="lot_2" checked`)
	// with nothing chosen, the understorey and what it held back are let go
	w.contractor.post("/jobs/1/understorey", "over", "gross").mustLead(t, "/jobs/1?done=kept#understorey")
	if f := w.facts(t, 1); f.Understorey != nil {
		t.Errorf("kept %+v", f.Understorey)
	}
	w.contractor.get("/shed/lots/2").mustShow(t, 200, "U26-03")
	w.sound(t)
}

func TestAnUnderstoreyFormSaysWhatToChange(t *testing.T) {
	w := sownBetween(t)
	for _, c := range []struct{ field, typed, at, says string }{
		{"over", "net", "over", "Choose one of the list."},
		{"rate_0", "none", "rate_0", "is not a number"},
		{"rate_0", "0", "rate_0", "outside what is possible"},
		{"rate_0", "", "rate_0", "Enter a number"},
		{"rate_of_0", "?", "rate_of_0", "Choose one of the list."},
		{"hard_0", "?", "hard_0", "Choose one of the list."},
		{"group_0", "", "group_0", "Enter the inoculant"},
		{"inoculant_0", "", "inoculant_0", "as its label says"},
		{"lot_2", "", "rate_0", "Tick at least one lot of Trifolium michelianum."},
	} {
		w.contractor.post("/jobs/1/understorey", with(understoreyForm, c.field, c.typed)...).mustRefuse(t, c.at, c.says)
	}
	if f := w.facts(t, 1); f.Understorey != nil {
		t.Errorf("refused forms kept %+v", f.Understorey)
	}
}
