package site

import (
	"context"
	"strings"
	"testing"

	"rowtally/internal/job"
)

// twoLots is priced with a second lot of the species: of another origin, 40 kg, 20 % alive
// and dearer to the live seed.
func twoLots(t *testing.T) town {
	t.Helper()
	w := priced(t)
	second := with(with(with(with(lotForm, "code", "D26-02"), "origin", "river flat"), "kg", "40"), "cost_per_kg", "40")
	w.contractor.post("/shed/lots/new", second...).mustLead(t, "/shed/lots/2")
	w.contractor.post("/shed/lots/2/tests/new", ofDay("2026-03-02", "20", "80")...).mustLead(t, "/shed/lots/2?done=tested")
	return w
}

// untick is recipeForm without its lot, with other fields beside it.
func untick(pairs ...string) []string {
	return append(append([]string{}, recipeForm[:len(recipeForm)-2]...), pairs...)
}

func (w town) recipe(t *testing.T) job.Recipe {
	t.Helper()
	recipe, ok, err := w.store.Recipe(context.Background(), 1)
	if err != nil || !ok {
		t.Fatalf("no recipe, %v", err)
	}
	return recipe
}

func TestProposedLotsAreTickedAndNotKept(t *testing.T) {
	w := twoLots(t)
	before := w.recipe(t)
	p := w.contractor.post("/jobs/1/mix", untick("propose", "1")...)
	p.mustShow(t, 200, `name="lot_1" checked`, "Nothing is kept until you keep the recipe", "has all it asks for", "D26-01")
	if strings.Contains(p.text, `name="lot_2" checked`) {
		t.Error("the dearer lot is ticked too")
	}
	p = w.contractor.post("/jobs/1/mix", untick("propose", "1", "largest_share", "60")...)
	p.mustShow(t, 200, `name="lot_1" checked`, `name="lot_2" checked`, `name="share_1" type="text"`, `value="60"`, `value="40"`)
	w.contractor.post("/jobs/1/mix", untick("propose", "1", "origin_contains", "river")...).
		mustShow(t, 200, `name="lot_2" checked`, "its origin does not name “river”")
	w.contractor.post("/jobs/1/mix", untick("propose", "1", "least_germination", "90")...).mustShow(t, 200, "short of", "at least 90.0 % is asked for")
	w.contractor.post("/jobs/1/mix", untick("propose", "1", "largest_share", "0.5")...).mustShow(t, 422, "0.5 is outside what is possible")
	w.contractor.post("/jobs/1/mix", untick()...).mustShow(t, 422, "Tick at least one lot")
	if after := w.recipe(t); len(after.Species[0].LotIDs) != len(before.Species[0].LotIDs) || after.Limits != before.Limits {
		t.Errorf("a proposal was kept: %+v", after)
	}
}

func TestSharesAndChoiceAreKeptWithTheRecipe(t *testing.T) {
	w := twoLots(t)
	form := untick("lot_1", "on", "lot_2", "on", "share_1", "75", "share_2", "25", "live_by", "safe side", "oldest_first", "yes",
		"least_germination", "15", "largest_share", "80", "origin_contains", "land")
	w.contractor.post("/jobs/1/mix", form...).mustLead(t, "/jobs/1?done=kept#seed")
	got := w.recipe(t)
	want := job.LotLimits{LeastGerminationPercent: 15, LargestSharePercent: 80, OriginContains: "land", OldestFirst: true}
	if s := got.Species[0]; got.LiveBy != job.BySafeSide || got.Limits != want || len(s.SharePercents) != 2 || s.SharePercents[0] != 75 {
		t.Errorf("kept %+v", got)
	}
	w.contractor.get("/jobs/1/mix").mustShow(t, 200, `value="75"`, `value="25"`, `value="safe side" selected`, `value="yes" selected`)
	// 34 % has 29.37 % as its lower limit: 22.5 live per g of D26-01 in place of 26.1
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	w.contractor.get("/papers/1").mustShow(t, 200, "mixed by 29.4 %, the safe side, as tested, nothing is foreseen: 22.5 live per g")
	for _, c := range []struct{ field, value, says string }{
		{"share_2", "20", "The shares make 95 %, not 100"}, {"share_2", "", "enter this one's, or leave all empty"},
		{"share_1", "nought", "is not a number"}, {"live_by", "hope", "Choose one of the list."},
	} {
		w.contractor.post("/jobs/1/mix", with(form, c.field, c.value)...).mustShow(t, 422, c.says)
	}
}

func TestLotsAreAllottedToTheAgreedJobs(t *testing.T) {
	w := twoLots(t)
	w.contractor.get("/shed/allot").mustShow(t, 200, "No agreed job wants seed")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustLead(t, farmJob+"?done=agreed")
	p := w.contractor.get("/shed/allot")
	p.mustShow(t, 200, "Every agreed job has its lots.", "J-01 Bore", "old man saltbush", "/jobs/1/mix?allot=1", "26.1", "100.0")
	w.contractor.get("/jobs/1/mix?allot=1").mustShow(t, 200, `name="lot_1" checked`, "Proposed, and ticked below")
	w.contractor.post("/shed/lots/1/hold", "reason", "weevils").mustLead(t, "/shed/lots/1?done=held")
	w.contractor.post("/shed/lots/2/hold", "reason", "weevils").mustLead(t, "/shed/lots/2?done=held")
	w.contractor.get("/shed/allot").mustShow(t, 200, "Old man saltbush is short of", "as alive as D26-01", "J-01, D26-01: on hold: weevils", "say trouble")
}
