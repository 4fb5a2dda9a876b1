package job

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
)

// near tells whether a figure is the one printed with so many decimals.
func near(got, printed float64, decimals int) bool {
	return math.Abs(got-printed) <= 0.5*math.Pow(10, -float64(decimals))+1e-9
}

// The rows of the scene are as long as the paddock was made for.
func TestRowsOfARectangleAreAsLongAsByHand(t *testing.T) {
	for _, rowKm := range []float64{24.0, 24.8, 34.9, 35.0} {
		laid, err := sceneOf(t, rowKm).Rows()
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(laid.RowM-1000*rowKm) > 0.01 || laid.RowCount != 79 || laid.BeltCount != 40 {
			t.Errorf("%v row-km: %v m in %d rows and %d belts, want 79 and 40", rowKm, laid.RowM, laid.RowCount, laid.BeltCount)
		}
	}
}

// Worked by hand: 1000 / 3 placements to the row-km; live to the gram is 1000 / 12.00 x
// 0.92 x 0.34 and 1000 / 2.10 x 0.95 x 0.51.
func TestAMixOfThirtyAndTwentyLive(t *testing.T) {
	f := sceneOf(t, 34.9)
	w, err := f.WorkRecipe(34_900)
	if err != nil {
		t.Fatal(err)
	}
	oldMan, wavy := w.Mix.Species[0].Lots[0], w.Mix.Species[1].Lots[0]
	for _, c := range []struct {
		what         string
		got, printed float64
		decimals     int
	}{
		{"placements to the row-km", w.Mix.PlacementsPerKm, 333.3, 1},
		{"L to the row-km", w.Mix.MixLPerKm, 15.00, 2},
		{"L in all", w.Mix.MixL, 523.5, 1},
		{"old man, live to the g", oldMan.LivePerKg / 1000, 26.07, 2},
		{"wavy leaf, live to the g", wavy.LivePerKg / 1000, 230.7, 1},
		{"old man, g to a placement", 30 / (oldMan.LivePerKg / 1000), 1.151, 3},
		{"old man, kg to the row-km", oldMan.KgPerKm, 0.384, 3},
		{"wavy leaf, kg to the row-km", wavy.KgPerKm, 0.0289, 4},
		{"old man, kg", oldMan.WeighedKg, 13.39, 2},
		{"wavy leaf, kg", wavy.WeighedKg, 1.01, 2},
		{"old man, cost of a row-km", 48 * oldMan.KgPerKm, 18.41, 2},
		{"wavy leaf, cost of a row-km", 65 * wavy.KgPerKm, 1.88, 2},
		{"filled at 5 in 100", w.Filled, 1 - math.Exp(-2.5), 9},
	} {
		if !near(c.got, c.printed, c.decimals) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.printed)
		}
	}
	if w.Refusal != "" || len(w.Short) != 0 {
		t.Errorf("refused %q, short %v", w.Refusal, w.Short)
	}
}

func TestTheMixingSheetOfThreeFullTubsAndAPart(t *testing.T) {
	sheet, err := MixingSheetOf(sceneOf(t, 34.9))
	if err != nil {
		t.Fatal(err)
	}
	if len(sheet.Tubs) != 4 || len(sheet.Lots) != 2 || sheet.Mixed != 0 {
		t.Fatalf("%d tubs of %d lots after %d, want 4 of 2 after none", len(sheet.Tubs), len(sheet.Lots), sheet.Mixed)
	}
	for i, want := range []struct {
		mixL, rowKm, oldManG, wavyG float64
	}{{160, 10.67, 4092, 308}, {160, 10.67, 4092, 308}, {160, 10.67, 4092, 308}, {43.5, 2.90, 1113, 84}} {
		tub := sheet.Tubs[i]
		if tub.Number != i+1 || !near(tub.MixL, want.mixL, 1) || !near(tub.RowM/1000, want.rowKm, 2) {
			t.Errorf("tub %d: number %d, %v L, %v m, want %v L and %v row-km", i+1, tub.Number, tub.MixL, tub.RowM, want.mixL, want.rowKm)
		}
		if math.Abs(tub.Grams[0]-want.oldManG) > 1 || math.Abs(tub.Grams[1]-want.wavyG) > 1 {
			t.Errorf("tub %d takes %v g, want %v and %v", i+1, tub.Grams, want.oldManG, want.wavyG)
		}
	}
	if sheet.Lots[0].Code != "D26-01" || !near(sheet.Lots[0].Grams/1000, 13.39, 2) || !near(sheet.Lots[1].Grams/1000, 1.01, 2) {
		t.Errorf("the lots come to %+v", sheet.Lots)
	}
}

// 50.4 kg of the lot at 9 % are 16.8 kg at the 27 % it stood at: a third.
func TestALotOnHoldIsRefusedWithTheWayOut(t *testing.T) {
	f := sceneOf(t, 35.0)
	f.Recipe = recipeOf(heldID)
	w, err := f.WorkRecipe(35_000)
	if err != nil {
		t.Fatal(err)
	}
	if need := w.Mix.Species[0].Lots[0]; !near(need.WeighedKg, 50.4, 1) || !near(need.KgPerKm, 1.441, 3) {
		t.Errorf("the lot at 9 %% gives %v kg, %v to the row-km, want 50.4 and 1.441", need.WeighedKg, need.KgPerKm)
	}
	for _, says := range []string{"D25-11 is on hold: failed its retest", "50.43 kg", "22.00 kg are free", "Nothing may be mixed from it", "D26-01 has enough free live seed"} {
		if !strings.Contains(w.Refusal, says) {
			t.Errorf("the refusal lacks %q: %s", says, w.Refusal)
		}
	}
	_, err = MixingSheetOf(f)
	if fault.KindOf(err) != fault.Clash || err.Error() != w.Refusal {
		t.Errorf("the mixing sheet is refused with %v, want a clash: %s", err, w.Refusal)
	}
}

func TestTheSameLotBeforeItsRetest(t *testing.T) {
	f := sceneOf(t, 35.0)
	f.Recipe, f.Today, f.Shelf.Lots[2].HoldReason = recipeOf(heldID), "2026-04-14", ""
	w, err := f.WorkRecipe(35_000)
	if err != nil {
		t.Fatal(err)
	}
	if need := w.Mix.Species[0].Lots[0]; !near(need.WeighedKg, 16.8, 1) || !near(need.KgPerKm, 0.480, 3) || w.Refusal != "" {
		t.Errorf("at 27 %% it gives %v kg, %v to the row-km, refused %q; want 16.8 and 0.480", need.WeighedKg, need.KgPerKm, w.Refusal)
	}
}

func TestALotThatIsShortIsRefusedWithTheWayOut(t *testing.T) {
	f := sceneOf(t, 35.0)
	f.Recipe, f.Shelf.Lots[2].HoldReason = recipeOf(heldID), ""
	w, err := f.WorkRecipe(35_000)
	if err != nil {
		t.Fatal(err)
	}
	if want := "Lot D25-11 is short by 28.43 kg: the job still takes 50.43 kg and 22.00 kg are free. D26-01 has enough free live seed."; w.Refusal != want {
		t.Errorf("%q, want %q", w.Refusal, want)
	}
	f.Shelf.Held = []Held{{JobID: 8, StockKind: LotStock, StockID: oldManID, Wanted: 30_000, Held: 30_000}}
	if w, err = f.WorkRecipe(35_000); err != nil || !strings.Contains(w.Refusal, "No other lot of the species has enough free live seed") {
		t.Errorf("with 30 kg of the other lot held back: %q, %v", w.Refusal, err)
	}
}

func TestWhatOtherJobsHoldBackIsNotFree(t *testing.T) {
	f := sceneOf(t, 34.9)
	f.Shelf.Held = []Held{
		{JobID: 8, StockKind: LotStock, StockID: oldManID, Wanted: 28_000, Held: 28_000},
		{JobID: f.Job.ID, StockKind: LotStock, StockID: oldManID, Wanted: 13_500, Held: 13_500},
	}
	w, err := f.WorkRecipe(34_900)
	if err != nil || w.Refusal != "" {
		t.Errorf("13.5 kg are free for the job that takes 13.39: %q, %v", w.Refusal, err)
	}
	f.Shelf.Held[0].Held = 29_000
	if w, err = f.WorkRecipe(34_900); err != nil || !strings.Contains(w.Refusal, "12.50 kg are free") {
		t.Errorf("12.5 kg are free for the job that takes 13.39: %q, %v", w.Refusal, err)
	}
}

func TestARecipeThatCannotBeWorkedSaysWhy(t *testing.T) {
	for _, c := range []struct {
		spoil func(*Facts)
		says  string
	}{
		{func(f *Facts) { f.Recipe = nil }, "No lots are chosen yet"},
		{func(f *Facts) { f.Recipe.ProductID = 99 }, "names no bulking medium that is kept"},
		{func(f *Facts) { f.Recipe.Species[0].LotIDs[0] = 99 }, "names a lot that is no longer kept"},
		{func(f *Facts) { f.Shelf.Tests = nil }, "D26-01 has no germination test"},
		{func(f *Facts) { f.Recipe.PlacementML = 1 }, "enter a larger placement"},
	} {
		f := sceneOf(t, 34.9)
		f.Shelf.Lots[0].BulkDensityKgPerL = 0.14
		c.spoil(&f)
		if _, err := f.WorkRecipe(34_900); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("got %v, want %q", err, c.says)
		}
	}
}

// A share of placements to fill rules where no live seeds are given: 1 - exp(-live x 0.05)
// is 0.78 at 30.28 live seeds.
func TestAShareToFillRules(t *testing.T) {
	f := sceneOf(t, 10)
	f.Recipe.Species = []RecipeSpecies{{Species: "Atriplex nummularia", EmergencePercent: 5, TargetFilledPercent: 78, LotIDs: []int64{oldManID}}}
	w, err := f.WorkRecipe(10_000)
	if err != nil {
		t.Fatal(err)
	}
	if live := w.Mix.Species[0].LiveSeedsPerPlacement; !near(live, -math.Log(1-0.78)/0.05, 9) || !near(w.Filled, 0.78, 9) {
		t.Errorf("%v live seeds fill %v", live, w.Filled)
	}
}

// Two lots of a species give the same number of live seeds, not the same weight.
func TestLotsOfASpeciesShareItsLiveSeed(t *testing.T) {
	f := sceneOf(t, 10)
	f.Shelf.Lots[2].HoldReason = ""
	f.Recipe.Species[0].LotIDs = []int64{oldManID, heldID}
	w, err := f.WorkRecipe(10_000)
	if err != nil {
		t.Fatal(err)
	}
	lots := w.Mix.Species[0].Lots
	if a, b := liveOf(lots[0]), liveOf(lots[1]); math.Abs(a-b) > 1e-6*a || math.Abs(a+b-30*1e4/3) > 1 {
		t.Errorf("%v and %v live seeds, want half of 100 000 each", a, b)
	}
}

func liveOf(l mix.LotMix) float64 { return l.Kg * l.LivePerKg }
