package site

import (
	"context"
	"strings"
	"testing"
)

func TestAGerminationTestCountsFromTheDayItIsKept(t *testing.T) {
	w := lotted(t)
	w.contractor.post("/shed/lots/1/tests/new", testForm...).mustLead(t, "/shed/lots/1?done=tested")
	tests, err := w.store.Tests(context.Background(), 1)
	if err != nil || len(tests) != 1 || len(tests[0].Replicates) != 4 || *tests[0].Replicates[3].Dead != 62 {
		t.Fatalf("kept %+v, %v", tests, err)
	}
	// 136 of 400 normal seedlings; (1000 / 12) x 0.92 x 0.34 = 26.07 live per g. The 95 %
	// limits of 136 in 400 are 29.37 and 38.87 %, solved by bisection on the binomial tails.
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "<b>26.1</b> live per g", "29.4", "38.9", "Ready to mix. Its test counts until 10 Feb 2027.",
		"yes, as the last one", "S-2026-14", "<details", "pure live seed")
	w.operator.get("/shed").mustShow(t, 200, "26.1", "10 Feb 2026", "10 Feb 2027", "ready to mix", "No lot is due a retest.")
}

func TestATestFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := lotted(t)
	for _, c := range []struct{ field, value, says string }{
		{"dead_2", "50", "Normal 36 + abnormal 3 + hard 0 + fresh 1 + dead 50 = 90, not 100"},
		{"normal_3", "101", "Normal is 101 of 100 seeds"},
		{"normal_1", "-1", "-1 is outside what is possible"},
		{"normal_1", "31.5", "“31.5” is not a whole number"},
		{"normal_1", "", "Enter a whole number"},
		{"seeds_4", "", "Enter a whole number from 1"},
		{"seeds_4", "0", "0 is outside what is possible"},
		{"tested_on", "2026-07-21", "21 Jul 2026 is after today, 20 Jul 2026"},
		{"tested_on", "", "Enter a day."},
		{"laboratory", "", "Enter who tested it."},
	} {
		p := w.contractor.post("/shed/lots/1/tests/new", with(testForm, c.field, c.value)...)
		p.mustShow(t, 422, c.says, `value="S-2026-14"`, `name="dead_4" value="62"`)
	}
	if tests, err := w.store.Tests(context.Background(), 1); err != nil || len(tests) != 0 {
		t.Errorf("%d tests kept by refused forms, %v", len(tests), err)
	}
}

func TestASlipStandsInTheRowItWasTypedIn(t *testing.T) {
	w := lotted(t)
	form := []string{"tested_on", "2026-02-10", "laboratory", "lab", "seeds_1", "100", "seeds_2", "100", "normal_2", "120", "seeds_3", "100", "seeds_4", "100"}
	p := w.contractor.post("/shed/lots/1/tests/new", form...)
	p.mustShow(t, 422, `id="normal_2-says"`, "Normal is 120 of 100 seeds")
	if strings.Contains(p.text, `id="normal_1-says"`) {
		t.Error("the slip of the second row stands in the first")
	}
}

func TestATestWithoutCountsIsRefused(t *testing.T) {
	w := lotted(t)
	p := w.contractor.post("/shed/lots/1/tests/new", "tested_on", "2026-02-10", "laboratory", "lab", "seeds_1", "100", "seeds_2", "100")
	p.mustShow(t, 422, "Enter the counts of at least one replicate.")
}

func TestMoreThanFourReplicatesAndNormalSeedlingsAlone(t *testing.T) {
	w := lotted(t)
	form := []string{"tested_on", "2026-02-10", "laboratory", "lab"}
	for n := 1; n <= mostReplicates; n++ {
		form = append(form, cell("seeds", n), "50", cell("normal", n), "17")
	}
	w.contractor.post("/shed/lots/1/tests/new", form...).mustLead(t, "/shed/lots/1?done=tested")
	tests, err := w.store.Tests(context.Background(), 1)
	if err != nil || len(tests) != 1 || len(tests[0].Replicates) != mostReplicates || tests[0].Replicates[0].Hard != nil {
		t.Fatalf("kept %+v, %v", tests, err)
	}
	p := w.contractor.post("/shed/lots/1/tests/new", with(form, "normal_7", "x")...)
	p.mustShow(t, 422, `<details open>`, "“x” is not a whole number")
}

func TestReplicatesTooFarApartAreSaidSo(t *testing.T) {
	w := lotted(t)
	apart := with(with(testForm, "normal_1", "14"), "dead_1", "82")
	apart = with(with(apart, "normal_2", "53"), "dead_2", "43")
	w.contractor.post("/shed/lots/1/tests/new", apart...).mustLead(t, "/shed/lots/1?done=tested")
	// Average 34 %: four replicates of 100 may span 18 (7 CFR 201.55); these span 39.
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "too far apart", "differ by 39 %, at most 18 % allowed")
	w.contractor.get("/shed").mustShow(t, 200, "One lot is due a retest", "retest: replicates too far apart")
}

func TestALaterTestTakesOver(t *testing.T) {
	w := lotted(t)
	w.contractor.post("/shed/lots/1/tests/new", with(testForm, "tested_on", "2025-05-04")...).mustLead(t, "/shed/lots/1?done=tested")
	w.contractor.get("/shed").mustShow(t, 200, "retest overdue since 4 May 2026", "One lot is due a retest.")
	w.contractor.post("/shed/lots/1/tests/new", testForm...).mustLead(t, "/shed/lots/1?done=tested")
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "no: a later test counts", "<svg", "over 2 tests")
}
