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

// The second lot is half as dear for what lives in it.
func TestUnderstoreyLotsAreProposedAndNotKept(t *testing.T) {
	w := sownBetween(t)
	lot := with(with(with(with(with(with(with(with(lotForm, "code", "U26-04"), "species", "Trifolium michelianum"), "common_name", "balansa clover"), "layer", "understorey"), "count_hard", "yes"), "thousand_g", "0.9"), "cost_per_kg", "1"), "kg", "3")
	w.contractor.post("/shed/lots/new", lot...).mustLead(t, "/shed/lots/3")
	w.contractor.post("/shed/lots/3/tests/new", testForm...).mustLead(t, "/shed/lots/3?done=tested")
	form := with(understoreyForm, "rate_0", "0.5")[:len(understoreyForm)-2] // no lot ticked
	p := w.contractor.post("/jobs/1/understorey", append(form, "propose", "1")...)
	p.mustShow(t, 200, `name="lot_2" checked`, `name="lot_3" checked`, "Nothing is kept until you keep the understorey", "kg of pure live seed wanted; has all it asks for", "U26-04")
	if w.facts(t, 1).Understorey != nil {
		t.Error("a proposal was kept")
	}
	w.contractor.post("/jobs/1/understorey", form...).mustShow(t, 422, "Tick at least one lot")
	w.contractor.post("/jobs/1/understorey", append(form, "lot_2", "on", "lot_3", "on", "share_2", "80", "share_3", "30")...).mustRefuse(t, "share_2", "The shares make 110 %, not 100")
	w.contractor.post("/jobs/1/understorey", append(form, "lot_2", "on", "lot_3", "on", "share_2", "80", "share_3", "20")...).mustLead(t, "/jobs/1?done=kept#understorey")
	f := w.facts(t, 1)
	if shares := f.Understorey.Species[0].SharePercents; len(shares) != 2 || shares[0] != 80 || shares[1] != 20 {
		t.Errorf("the shares are kept as %v", shares)
	}
	worked, err := f.WorkUnderstorey()
	if err != nil {
		t.Fatal(err)
	}
	if first, second := worked.Species[0].Lots[0].LiveKgPerHa, worked.Species[0].Lots[1].LiveKgPerHa; first < 0.39999 || first > 0.40001 || second < 0.09999 || second > 0.10001 {
		t.Errorf("of 0.5 kg/ha live %v and %v come from the two", first, second)
	}
	w.contractor.get("/jobs/1/understorey").mustShow(t, 200, `value="80"`, `value="20"`)
	w.contractor.get("/shed/allot").mustShow(t, 200, "Between the rows", `href="/jobs/1/understorey?allot=1"`)
	w.contractor.get("/jobs/1/understorey?allot=1").mustShow(t, 200, `name="lot_3" checked`, "Nothing is kept until you keep the understorey")
	w.sound(t)
}
