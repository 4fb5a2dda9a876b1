package site

import (
	"strings"
	"testing"

	"rowtally/internal/job"
	"rowtally/internal/mix"
)

func TestTubsAreMixedOneByOne(t *testing.T) {
	w := agreed(t) // 15.94 row-km: 239.2 L, a full tub and a part tub
	w.operator.get("/").mustLead(t, "/truck")
	w.operator.get("/truck").mustShow(t, 200, "Bore", "Example Farm")
	w.operator.get("/truck/1").mustShow(t, 200, "Tub 1 of 2", "4\u2009092", "160.0", "D26-01", "P2 mask", "Tub 1 is mixed")
	w.operator.post("/truck/1/tub", "number", "1", "key", "k1").mustLead(t, "/truck/1?done=mixed")
	w.operator.get("/truck/1?done=mixed").mustShow(t, 200, "Tub mixed. The stock is drawn.", "Tub 2", "Undo tub 1")
	w.operator.post("/truck/1/tub", "number", "2", "key", "k2").mustLead(t, "/truck/1?done=mixed")
	w.operator.get("/truck/1").mustShow(t, 200, "There is no tub to mix", "Undo tub 2")
	tubs := w.facts(t, 1).Tubs
	if len(tubs) != 2 || tubs[0].MixML != 160_000 || tubs[0].PersonID != 2 || len(tubs[0].Ingredient) != 1 {
		t.Fatalf("mixed %+v", tubs)
	}
	drawn := tubs[0].Ingredient[0].Grams + tubs[1].Ingredient[0].Grams
	if left := w.onHand(t, job.LotStock, job.Shed); left != 64_000-drawn {
		t.Errorf("%d g are left of 64 000 after %d", left, drawn)
	}
	if left := w.onHand(t, job.MediumStock, job.Shed); left != 4_780_000-tubs[0].MediumML-tubs[1].MediumML {
		t.Errorf("%d mL of medium are left", left)
	}
	w.sound(t)
}

// A second press, a slow line that sends again, or a page that is out of date draws nothing.
func TestATubIsDrawnOnce(t *testing.T) {
	w := agreed(t)
	first := []string{"number", "1", "key", "k1"}
	w.operator.post("/truck/1/tub", first...).mustLead(t, "/truck/1?done=mixed")
	left := w.onHand(t, job.LotStock, job.Shed)
	for _, again := range [][]string{first, {"number", "1", "key", "k9"}, {"number", "1"}, {"number", "3"}, {"number", ""}, {"number", "x"}, nil} {
		w.operator.post("/truck/1/tub", again...).mustLead(t, "/truck/1")
	}
	w.contractor.post("/truck/1/tub", "number", "1", "key", "k1").mustLead(t, "/truck/1")
	if got := w.onHand(t, job.LotStock, job.Shed); got != left || len(w.facts(t, 1).Tubs) != 1 {
		t.Errorf("%d g are left where %d were, after %d tubs", got, left, len(w.facts(t, 1).Tubs))
	}
}

// The last tub sent twice is one tub, and the page says that none is left.
func TestTheLastTubTwiceIsOneTub(t *testing.T) {
	w := agreed(t)
	w.operator.post("/truck/1/tub", "number", "1", "key", "k1").mustLead(t, "/truck/1?done=mixed")
	w.operator.post("/truck/1/tub", "number", "2", "key", "k2").mustLead(t, "/truck/1?done=mixed")
	w.operator.post("/truck/1/tub", "number", "2", "key", "k2").mustLead(t, "/truck/1")
	if tubs := w.facts(t, 1).Tubs; len(tubs) != 2 {
		t.Errorf("%d tubs are mixed", len(tubs))
	}
}

func TestNothingIsMixedFromALotOnHold(t *testing.T) {
	w := agreed(t)
	w.contractor.post("/shed/lots/1/hold", "reason", "failed its retest").mustShow(t, 303)
	w.operator.get("/truck/1").mustShow(t, 200, "Lot D26-01 is on hold: failed its retest", "Nothing may be mixed from it", "No other lot of the species")
	p := w.operator.post("/truck/1/tub", "number", "1", "key", "k1")
	p.mustShow(t, 409, "Lot D26-01 is on hold: failed its retest", "Nothing may be mixed from it", "No other lot of the species", `href="/truck"`)
	if left := w.onHand(t, job.LotStock, job.Shed); left != 64_000 || len(w.facts(t, 1).Tubs) != 0 {
		t.Errorf("%d g are left, %d tubs mixed", left, len(w.facts(t, 1).Tubs))
	}
	// The way out: another lot of the species takes its place.
	w.contractor.post("/shed/lots/new", with(lotForm, "code", "D26-09")...).mustLead(t, "/shed/lots/2")
	w.contractor.post("/shed/lots/2/tests/new", testForm...).mustLead(t, "/shed/lots/2?done=tested")
	w.operator.get("/truck/1").mustShow(t, 200, "D26-09 has enough free live seed.")
	w.contractor.post("/jobs/1/mix", with(with(recipeForm, "lot_1", ""), "lot_2", "on")...).mustLead(t, "/jobs/1?done=kept#seed")
	w.operator.post("/truck/1/tub", "number", "1", "key", "k1").mustLead(t, "/truck/1?done=mixed")
	w.sound(t)
}

// A tub is no larger than what its lot still holds, and what is short is said; from an empty
// bag nothing is mixed.
func TestATubIsNoLargerThanWhatTheLotHolds(t *testing.T) {
	w := agreed(t)
	w.contractor.post("/shed/lots/1/stock", "what", counted, "quantity", "2.0", "place", "shed", "note", "weighed").mustShow(t, 303)
	w.operator.get("/jobs/1/mixing").mustShow(t, 200, "Lot D26-01 is short by", "2.00 kg are free", "the tubs here are no larger than that")
	w.operator.get("/truck/1").mustShow(t, 200, "Lot D26-01 is short by", "no larger than that", "Tub 1 is mixed")
	w.operator.post("/truck/1/tub", "number", "1", "key", "k1").mustLead(t, "/truck/1?done=mixed")
	tubs := w.facts(t, 1).Tubs
	if left := w.onHand(t, job.LotStock, job.Shed); left != 0 || len(tubs) != 1 || tubs[0].Ingredient[0].Grams != 2_000 {
		t.Errorf("%d g are left, the tubs are %+v", left, tubs)
	}
	medium := w.onHand(t, job.MediumStock, job.Shed)
	p := w.operator.post("/truck/1/tub", "number", "2", "key", "k2")
	p.mustShow(t, 409, "Lot D26-01 is short by", "0.00 kg are free")
	if left := w.onHand(t, job.MediumStock, job.Shed); left != medium || len(w.facts(t, 1).Tubs) != 1 {
		t.Errorf("%d mL of medium are left of %d: it was drawn without the seed", left, medium)
	}
	w.sound(t)
}

// Medium that is short makes the tub smaller too; the rest is mixed when more has come in.
func TestATubIsNoLargerThanTheMedium(t *testing.T) {
	w := agreed(t)
	w.contractor.post("/shed/media/1/stock", "what", counted, "quantity", "100", "place", "shed", "note", "counted").mustShow(t, 303)
	w.operator.get("/jobs/1/mixing").mustShow(t, 200, "Vermiculite, medium grade is short: the job still takes", "100.0 L are free")
	w.operator.post("/truck/1/tub", "number", "1", "key", "k1").mustLead(t, "/truck/1?done=mixed")
	if left, tubs := w.onHand(t, job.MediumStock, job.Shed), w.facts(t, 1).Tubs; left > 1 || tubs[0].MediumML < 99_998 {
		t.Errorf("%d mL are left, the tub took %d", left, tubs[0].MediumML)
	}
	w.contractor.post("/shed/media/1/stock", "what", received, "quantity", "200", "place", "shed").mustShow(t, 303)
	w.operator.post("/truck/1/tub", "number", "2", "key", "k2").mustLead(t, "/truck/1?done=mixed")
	w.sound(t)
}

// Undoing names its tub: a page that is out of date takes no other tub back.
func TestATubIsTakenBackOnce(t *testing.T) {
	w := agreed(t)
	w.operator.post("/truck/1/tub", "number", "1", "key", "k1").mustLead(t, "/truck/1?done=mixed")
	w.operator.post("/truck/1/tub", "number", "2", "key", "k2").mustLead(t, "/truck/1?done=mixed")
	undo := []string{"number", "2", "key", "k3"}
	w.operator.get("/truck/1").mustShow(t, 200, `name="number" value="2"`)
	w.operator.post("/truck/1/tub/undo", undo...).mustLead(t, "/truck/1?done=undone")
	w.operator.post("/truck/1/tub/undo", undo...).mustLead(t, "/truck/1")
	w.operator.post("/truck/1/tub/undo", "number", "2", "key", "k4").mustLead(t, "/truck/1")
	tubs := w.facts(t, 1).Tubs
	if len(tubs) != 1 || tubs[0].Number != 1 || w.onHand(t, job.LotStock, job.Shed) != 64_000-tubs[0].Ingredient[0].Grams {
		t.Errorf("after undoing tub 2 the tubs are %+v, %d g are left", tubs, w.onHand(t, job.LotStock, job.Shed))
	}
	w.operator.post("/truck/1/tub/undo", "number", "1").mustLead(t, "/truck/1?done=undone")
	w.operator.post("/truck/1/tub/undo", "number", "1").mustLead(t, "/truck/1")
	if left := w.onHand(t, job.LotStock, job.Shed); left != 64_000 {
		t.Errorf("%d g are left of 64 000", left)
	}
	w.sound(t)
}

func TestACatchTestChangesTheTubsToCome(t *testing.T) {
	w := agreed(t)
	w.operator.get("/truck/1/catch").mustShow(t, 200, "Intended: 45 mL a placement.", `value="3"`)
	w.operator.post("/truck/1/catch", append(with(catchForm, "caught_ml", "928"), "key", "k1")...).mustLead(t, "/truck/1?done=caught")
	w.operator.post("/truck/1/catch", append(with(catchForm, "caught_ml", "928"), "key", "k1")...).mustLead(t, "/truck/1?done=caught")
	// 928 mL over 47.2 m at 2.95 m: 58 mL, 29 % heavy; 15.94 row-km take 308.3 L.
	w.operator.get("/truck/1").mustShow(t, 200, "58.0 mL a placement for 45.0 intended", "Heavy by 29 %", "Tub 1 of 2")
	w.contractor.get("/jobs/1").mustShow(t, 200, "302")
	if catches := w.facts(t, 1).Catches; len(catches) != 1 || catches[0].PersonID != 2 {
		t.Errorf("kept %+v", catches)
	}
	w.operator.post("/truck/1/catch/undo").mustLead(t, "/truck/1?done=undone")
	if p := w.operator.get("/truck/1"); strings.Contains(p.text, "Catch test:") {
		t.Error("the withdrawn catch still counts")
	}
}

func TestACatchFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := agreed(t)
	for _, c := range []struct{ field, value, says string }{
		{"caught_ml", "", "Enter a number"}, {"caught_ml", "0", "0 is outside what is possible"}, {"caught_ml", "a cup", "“a cup” is not a number"},
		{"run_m", "-1", "-1 is outside what is possible"}, {"run_m", "20000", "20000 is outside"}, {"outlets", "0", "0 is outside what is possible"},
		{"outlets", "1.5", "“1.5” is not a whole number"}, {"spacing_m", "0", "0 is outside what is possible"},
	} {
		p := w.operator.post("/truck/1/catch", with(catchForm, c.field, c.value)...)
		p.mustRefuse(t, c.field, c.says)
		p.mustKeep(t, c.field, c.value)
	}
	if len(w.facts(t, 1).Catches) != 0 {
		t.Error("a refused catch was kept")
	}
	bare := jobbed(t)
	bare.operator.get("/truck/1/catch").mustShow(t, 409, "judged by the job's rows and recipe")
}

func TestADaySheetIsKeptAndMovesTheMeter(t *testing.T) {
	w := agreed(t)
	w.operator.get("/truck/1/day").mustShow(t, 200, "blue tractor", `value="4812.4"`, `value="2026-07-20"`)
	w.operator.post("/truck/1/day", append(dayForm, "key", "k1")...).mustLead(t, "/truck/1?done=day")
	w.operator.post("/truck/1/day", append(dayForm, "key", "k1")...).mustLead(t, "/truck/1?done=day")
	sheets := w.facts(t, 1).DaySheets
	if len(sheets) != 1 || sheets[0].RunMin() != 456 || sheets[0].RowM != 16_000 || sheets[0].FuelML != 92_500 || sheets[0].StandbyMin != 30 || sheets[0].PersonID != 2 {
		t.Errorf("kept %+v", sheets)
	}
	w.contractor.get("/machines/1").mustShow(t, 200, "4\u2009820.0")
	w.operator.get("/truck/1").mustShow(t, 200, "16.00 row-km sown")
}

// 1.001 L is no whole binary thousandth: it is kept to the millilitre all the same.
func TestFuelIsKeptToTheMillilitre(t *testing.T) {
	w := agreed(t)
	days := map[string]int64{"1.001": 1_001, "4.35": 4_350, "0.57": 570, "": 0}
	for typed, want := range days {
		w.operator.post("/truck/1/day", with(with(dayForm, "fuel_l", typed), "note", typed)...).mustLead(t, "/truck/1?done=day")
		for _, sheet := range w.facts(t, 1).DaySheets {
			if sheet.Note == typed && sheet.FuelML != want {
				t.Errorf("%s L are kept as %d mL", typed, sheet.FuelML)
			}
		}
	}
	if kept := w.facts(t, 1).DaySheets; len(kept) != len(days) {
		t.Errorf("%d sheets are kept, want %d", len(kept), len(days))
	}
}

func TestADayFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := agreed(t)
	for _, c := range []struct{ field, value, says string }{
		{"machine", "", "Choose the machine."}, {"machine", "x", "Choose the machine."},
		{"day", "", "Enter a day."}, {"day", "2026-07-21", "21 Jul 2026 is still to come"},
		{"meter_from", "", "Enter a number"}, {"meter_to", "4812.3", "The meter went from 4812.4 h back to 4812.3 h"},
		{"meter_to", "4840", "The meter ran 27.6 h in one day"}, {"row_km", "-1", "-1 is outside what is possible"},
		{"row_km", "501", "501 is outside what is possible"}, {"fuel_l", "x", "“x” is not a number"}, {"standby_min", "1441", "1441 is outside"},
		{"note", strings.Repeat("x", 2001), "shorten it to 2000"},
	} {
		p := w.operator.post("/truck/1/day", with(dayForm, c.field, c.value)...)
		p.mustRefuse(t, c.field, c.says)
		if c.field != "machine" {
			p.mustKeep(t, c.field, c.value)
		}
	}
	w.operator.post("/truck/1/day", with(dayForm, "machine", "99")...).mustShow(t, 404)
	if len(w.facts(t, 1).DaySheets) != 0 {
		t.Error("a refused sheet was kept")
	}
}

// The recipe is worked out from what the tub took in the books, whoever mixed it.
func TestTheTruckAndTheBooksNameTheSameTub(t *testing.T) {
	w := agreed(t)
	sheet, err := job.MixingSheetOf(w.facts(t, 1))
	if err != nil {
		t.Fatal(err)
	}
	w.operator.post("/truck/1/tub", "number", "1").mustLead(t, "/truck/1?done=mixed")
	got := w.facts(t, 1).Tubs[0]
	want := mix.Ingredient{LotID: 1, Grams: int64(sheet.Tubs[0].Grams[0])}
	if got.Ingredient[0] != want || got.RowM != sheet.Tubs[0].RowM {
		t.Errorf("the books have %+v, the sheet said %+v", got, sheet.Tubs[0])
	}
}

// The page leads to no sheet that there is none of, and says a refusal once.
func TestTheTruckLeadsOnlyToWhatIsThere(t *testing.T) {
	w := agreed(t)
	w.operator.get("/truck/1").mustShow(t, 200, `href="/truck/1/catch"`, `href="/jobs/1/mixing-sheet.pdf"`)
	w.contractor.post("/shed/lots/1/hold", "reason", "mice").mustShow(t, 303)
	for _, p := range []page{w.operator.get("/truck/1"), w.operator.post("/truck/1/tub", "number", "1")} {
		if strings.Contains(p.text, "mixing-sheet.pdf") || strings.Count(p.text, "is on hold: mice") != 1 {
			t.Errorf("answered %d: %s", p.status, p.mainText())
		}
	}
	bare := jobbed(t)
	if p := bare.operator.get("/truck/1"); p.status != 200 || strings.Contains(p.text, "/catch") {
		t.Errorf("without rows the page leads to a catch test: %d %s", p.status, p.mainText())
	}
}
