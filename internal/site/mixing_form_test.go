package site

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/job"
)

func TestTheMixIsShownTubByTubToTheCrew(t *testing.T) {
	w := agreed(t)
	for _, b := range []*browser{w.contractor, w.operator} {
		b.get("/jobs/1/mixing").mustShow(t, 200, "The mix of", "When the meter is off", "58.5", "Tub by tub", "Tub labels", "It is not measured yet.")
		if p := b.get("/jobs/1/labels.pdf"); p.status != 200 || !strings.HasPrefix(p.text, "%PDF-") || p.header.Get("Content-Disposition") != `inline; filename="J-01 tub labels.pdf"` {
			t.Errorf("the labels answer %d, %q", p.status, p.header.Get("Content-Disposition"))
		}
	}
	w.contractor.get("/jobs/1").mustShow(t, 200, `href="/jobs/1/mixing"`, `href="/jobs/1/labels.pdf"`)
}

// The lot is 0.18 kg to the litre: its 4 092 g in a tub of 160 L are 22.7 L, so a first tub
// that took 150 L shows that 56 % of them fill voids.
func TestTheFirstTubIsMeasured(t *testing.T) {
	w := agreed(t)
	before := w.facts(t, 1)
	for typed, says := range map[string]string{"": "Enter a number", "some": "is not a number", "161": "takes from", "100": "takes from"} {
		p := w.operator.post("/jobs/1/mixing", "medium_l", typed)
		p.mustRefuse(t, "medium_l", says)
	}
	w.operator.post("/jobs/1/mixing", "medium_l", "150").mustLead(t, "/jobs/1/mixing?done=voids")
	after := w.facts(t, 1)
	first, err := before.FirstTub(150)
	if err != nil {
		t.Fatal(err)
	}
	want := 1 - (160-150)/(float64(job.TubOf(before, sheetOf(t, before)).Ingredient[0].Grams)/1000/0.18)
	if got := after.Recipe.VoidsFraction; math.Abs(got-want) > 1e-9 || after.Recipe.FirstTubMediumL != 150 || first.TubL != 160 {
		t.Errorf("the recipe keeps %v of %v L, want %v", got, after.Recipe.FirstTubMediumL, want)
	}
	if tub := sheetOf(t, after).Tubs[0]; math.Abs(tub.MediumL-150) > 0.05 {
		t.Errorf("the next tub takes %v L of medium, want 150", tub.MediumL)
	}
	claimed := func(f job.Facts) (mL int64) {
		for _, h := range f.Held {
			if h.StockKind == job.MediumStock {
				mL = h.Wanted
			}
		}
		return mL
	}
	if claimed(after) <= claimed(before) {
		t.Errorf("%d mL of medium are claimed, %d before", claimed(after), claimed(before))
	}
	w.operator.get("/jobs/1/mixing").mustShow(t, 200, "It took 150.0 L")
	// the recipe form keeps what was measured, until another share is typed
	w.contractor.post("/jobs/1/mix", with(recipeForm, "voids_percent", voidsTyped(*after.Recipe))...).mustLead(t, "/jobs/1?done=kept#seed")
	if r := w.facts(t, 1).Recipe; r.FirstTubMediumL != 150 || r.VoidsFraction != after.Recipe.VoidsFraction {
		t.Errorf("kept anew, the recipe has %v of %v L", r.VoidsFraction, r.FirstTubMediumL)
	}
	w.contractor.post("/jobs/1/mix", with(recipeForm, "voids_percent", "20")...).mustLead(t, "/jobs/1?done=kept#seed")
	if r := w.facts(t, 1).Recipe; r.FirstTubMediumL != 0 || r.VoidsFraction != 0.2 {
		t.Errorf("typed over, the recipe has %v of %v L", r.VoidsFraction, r.FirstTubMediumL)
	}
	w.sound(t)
}

func sheetOf(t testing.TB, f job.Facts) job.MixingSheet {
	t.Helper()
	sheet, err := job.MixingSheetOf(f)
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

func TestTheRecipeNamesItsMachineAndItsSeasons(t *testing.T) {
	w := agreed(t)
	w.contractor.post("/machines/new", with(with(with(with(with(machineForm, "name", "seeder"), "rows", "2"), "hopper_l", "160"), "hoppers", "2"), "wheel_m", "2.36")...).mustShow(t, 303)
	machines, err := w.store.Machines(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var sower string
	for _, m := range machines {
		if m.Name == "seeder" && m.Hoppers == 2 {
			sower = itoa(m.ID)
		}
	}
	form := with(with(with(with(recipeForm, "sower", sower), "tub_l", ""), "poor_0", "2"), "good_0", "9")
	w.contractor.post("/jobs/1/mix", with(form, "poor_0", "6")...).mustRefuse(t, "poor_0", "at or below the usual 5 in 100")
	w.contractor.post("/jobs/1/mix", with(form, "good_0", "4")...).mustRefuse(t, "good_0", "at or above the usual 5 in 100")
	w.contractor.post("/jobs/1/mix", with(form, "good_0", "")...).mustRefuse(t, "good_0", "Enter a number")
	w.contractor.post("/jobs/1/mix", with(form, "sower", "99")...).mustRefuse(t, "sower", "Choose one of the list")
	w.contractor.post("/jobs/1/mix", with(with(form, "sower", ""), "tub_l", "")...).mustRefuse(t, "tub_l", "Enter a number")
	w.contractor.post("/jobs/1/mix", form...).mustLead(t, "/jobs/1?done=kept#seed")
	f := w.facts(t, 1)
	if s := f.Recipe.Species[0]; f.Recipe.TubL != 160 || s.EmergenceLowPercent != 2 || s.EmergenceHighPercent != 9 || f.Sower == nil || f.Sower.WheelM != 2.36 {
		t.Errorf("kept %+v, sown with %+v", f.Recipe, f.Sower)
	}
	w.contractor.get("/jobs/1/mix").mustShow(t, 200, `id="poor_0" name="poor_0"`, `value="2"`)
	w.contractor.get("/jobs/1/mixing").mustShow(t, 200, "20 turns of the driving wheel are 47.2 m. One outlet should drop 708 mL; 673 to 743 mL pass.", "the share that becomes plants", "80.0")
}

func TestWhatRemainsIsEnteredAndTakenBack(t *testing.T) {
	w := agreed(t)
	w.operator.get("/jobs/1/balance").mustShow(t, 409, "No tub of")
	w.operator.get("/jobs/1/clean-out").mustShow(t, 409, "nothing can remain")
	w.operator.post("/truck/1/tub", "number", "1", "key", "k1").mustLead(t, "/truck/1?done=mixed")
	tub := w.facts(t, 1).Tubs[0]
	for typed, says := range map[string]string{"": "Enter a number", "0": "outside what is possible", "161": "cannot remain"} {
		w.operator.post("/jobs/1/clean-out", "left_l", typed, "fate", thrownAway).mustRefuse(t, "left_l", says)
	}
	w.operator.post("/jobs/1/clean-out", "left_l", "16", "fate", "sold").mustRefuse(t, "fate", "Choose one of the list.")
	w.operator.post("/jobs/1/clean-out", "left_l", "16", "fate", keptBack, "act", "split").mustShow(t, 200, "D26-01", "409", "Keep the clean-out")
	if n := len(w.facts(t, 1).CleanOuts); n != 0 {
		t.Errorf("splitting kept %d clean-outs", n)
	}
	kept := []string{"left_l", "16", "fate", keptBack, "note", "in a bag", "act", "keep", "key", "c1"}
	w.operator.post("/jobs/1/clean-out", kept...).mustLead(t, "/jobs/1/balance?done=cleaned")
	w.operator.post("/jobs/1/clean-out", kept...).mustLead(t, "/jobs/1/balance?done=cleaned")
	w.contractor.post("/jobs/1/clean-out", "left_l", "8", "fate", thrownAway).mustLead(t, "/jobs/1/balance?done=cleaned")
	f := w.facts(t, 1)
	if len(f.CleanOuts) != 2 || f.CleanOuts[0].Ingredient[0].Grams != int64(math.Round(float64(tub.Ingredient[0].Grams)/10)) {
		t.Errorf("kept %+v of a tub of %+v", f.CleanOuts, tub.Ingredient)
	}
	if truck := w.onHand(t, job.LotStock, job.Truck); truck != f.CleanOuts[0].Ingredient[0].Grams {
		t.Errorf("%d g are on the truck", truck)
	}
	w.contractor.get("/jobs/1/balance").mustShow(t, 200, "160.0", "16.0 L of mix remained, kept", "in a bag", "8.0 L of mix remained, thrown away", "no row is measured yet")
	w.sound(t)
	w.operator.post("/jobs/1/clean-out/1/undo").mustLead(t, "/jobs/1/balance?done=undone")
	w.operator.post("/jobs/1/clean-out/1/undo").mustShow(t, 404, "There is no such clean-out")
	if truck := w.onHand(t, job.LotStock, job.Truck); truck != 0 {
		t.Errorf("taken back, %d g are on the truck", truck)
	}
	w.sound(t)
}
