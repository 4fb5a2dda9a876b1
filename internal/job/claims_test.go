package job

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/bill"
	"rowtally/internal/mix"
)

// stockKey names a lot or a medium.
type stockKey struct {
	kind StockKind
	id   int64
}

// claimed is what the claims want of a lot or a medium, in g or mL.
func claimed(t testing.TB, f Facts) map[stockKey]int64 {
	t.Helper()
	claims, err := Claims(f)
	if err != nil {
		t.Fatal(err)
	}
	out := map[stockKey]int64{}
	for _, c := range claims {
		if c.JobID != f.Job.ID || c.Held != 0 || out[stockKey{c.StockKind, c.StockID}] != 0 {
			t.Errorf("a claim of %+v", c)
		}
		out[stockKey{c.StockKind, c.StockID}] = c.Wanted
	}
	return out
}

func TestAYesClaimsWhatTheRecipeTakes(t *testing.T) {
	got := claimed(t, sceneOf(t, 34.9))
	want := map[stockKey]int64{{LotStock, oldManID}: 13_387, {LotStock, wavyID}: 1_009, {MediumStock, vermiculiteID}: 523_500}
	for key, quantity := range want {
		if d := got[key] - quantity; d < -2 || d > 2 {
			t.Errorf("%v %d: claims %d, want %d within 2", key.kind, key.id, got[key], quantity)
		}
	}
	if len(got) != len(want) {
		t.Errorf("claims %v", got)
	}
}

func TestALotOnHoldIsNotClaimed(t *testing.T) {
	f := sceneOf(t, 35)
	f.Recipe = recipeOf(heldID)
	got := claimed(t, f)
	if _, ok := got[stockKey{LotStock, heldID}]; ok || len(got) != 2 {
		t.Errorf("claims %v", got)
	}
}

func TestAJobWithoutARecipeClaimsNothing(t *testing.T) {
	f := sceneOf(t, 35)
	f.Recipe = nil
	if got := claimed(t, f); len(got) != 0 {
		t.Errorf("claims %v", got)
	}
	f.Layout = nil
	if got := claimed(t, f); len(got) != 0 {
		t.Errorf("without rows it claims %v", got)
	}
}

// What is mixed already is not claimed again.
func TestClaimsShrinkAsTubsAreMixed(t *testing.T) {
	f := sceneOf(t, 34.9).mixed(t, 2)
	got := claimed(t, f)
	if d := got[stockKey{LotStock, oldManID}] - (13_387 - 2*4_092); d < -3 || d > 3 {
		t.Errorf("after two tubs the job claims %d g of old man, want 13 387 less two times 4 092", got[stockKey{LotStock, oldManID}])
	}
	if got := claimed(t, f.mixed(t, 9)); len(got) != 0 {
		t.Errorf("with every tub mixed it claims %v", got)
	}
}

// The mix of 34.9 row-km ran out at 27.1: the 7.82 row-km left take seed and medium again.
func TestAJobThatRanOutClaimsWhatIsStillToBeMixed(t *testing.T) {
	f := sceneOf(t, 34.9).mixed(t, 9)
	f.Catches = []mix.Catch{caughtAt(58)}
	f = f.logged(27.08)
	got := claimed(t, f)
	for key, quantity := range map[stockKey]int64{{LotStock, oldManID}: 3_000, {LotStock, wavyID}: 226, {MediumStock, vermiculiteID}: 151_190} {
		if d := float64(got[key] - quantity); math.Abs(d) > 0.002*float64(quantity)+2 {
			t.Errorf("%v %d: claims %d, want %d", key.kind, key.id, got[key], quantity)
		}
	}
}

// Two tubs are mixed and 5.2 kg are still to go in: 3 kg are too little, and the sheet says
// so before anybody weighs.
func TestAShortageOfWhatIsLeftToMixIsSeen(t *testing.T) {
	f := sceneOf(t, 34.9).mixed(t, 2)
	f.Shelf.Balances[0].OnHand = 3_000
	sheet, err := MixingSheetOf(f)
	if err != nil || !strings.Contains(sheet.Short, "D26-01 is short by 2.21 kg: the job still takes 5.21 kg and 3.00 kg are free") {
		t.Errorf("the sheet says %q, %v", sheet.Short, err)
	}
	if c := ChainOf(f); len(c.Trouble) == 0 || !strings.Contains(c.Trouble[0], "short by 2.21 kg") {
		t.Errorf("the chain says %q", c.Trouble)
	}
	f.Shelf.Balances[0].OnHand = 5_300
	if _, err := MixingSheetOf(f); err != nil {
		t.Errorf("5.3 kg are enough: %v", err)
	}
}

func TestALotHeldAfterTheLastTubStopsNothing(t *testing.T) {
	f := sceneOf(t, 10).quoted(t, 1, "2026-05-07").agreed(1, "2026-05-09").mixed(t, 9)
	f.Shelf.Lots[0].HoldReason = "mice"
	for _, trouble := range ChainOf(f).Trouble {
		t.Errorf("nothing is left to mix, and the chain says %q", trouble)
	}
}

// Half a kilometre of row ends was left out: nobody mixes for it any more, and no lot that
// went on hold since stands in the way of anything.
func TestAJobThatIsOverWantsNothingOfTheShed(t *testing.T) {
	agreed := sceneOf(t, 35).quoted(t, 1, "2026-05-07").agreed(1, "2026-05-09")
	agreed.Shelf.Lots[0].HoldReason = "mice"
	declined := agreed
	declined.Job.DeclinedOn = "2026-07-01"
	billed := agreed.logged(30)
	billed.Papers = append(billed.Papers, bill.Paper{ID: 2, Kind: bill.Invoice, RowM: 30_000})
	for what, f := range map[string]Facts{"sown": agreed.logged(34.5), "declined": declined, "billed": billed} {
		if got := claimed(t, f); len(got) != 0 {
			t.Errorf("%s, it claims %v", what, got)
		}
		for _, trouble := range ChainOf(f).Trouble {
			if strings.Contains(trouble, "on hold") {
				t.Errorf("%s, its chain says %q", what, trouble)
			}
		}
	}
	if got := claimed(t, agreed.logged(30)); len(got) == 0 {
		t.Error("with five row-km to go it claims nothing")
	}
}

func TestTheMediumThatIsShortIsSaid(t *testing.T) {
	f := sceneOf(t, 34.9)
	f.Shelf.Balances[3].OnHand = 500_000
	c := ChainOf(f)
	if len(c.Trouble) != 1 || c.Trouble[0] != "Vermiculite is short: the job still takes 523.5 L and 500.0 L are free. Order before mixing." {
		t.Errorf("the chain says %q", c.Trouble)
	}
}

// A job's tubs and its claims together are what its recipe takes, to half a scale step and
// a gram or two for each tub.
func TestTubsAndClaimsAreTheRecipe(t *testing.T) {
	base := sceneOf(t, 34.9)
	whole := claimed(t, base)
	rapid.Check(t, func(t *rapid.T) {
		f := base
		tubs := rapid.IntRange(0, 4).Draw(t, "tubs")
		for range tubs {
			sheet, err := MixingSheetOf(f)
			if err != nil {
				t.Fatal(err)
			}
			f.Tubs = append(f.Tubs[:len(f.Tubs):len(f.Tubs)], TubOf(f, sheet))
		}
		claims, err := Claims(f)
		if err != nil {
			t.Fatal(err)
		}
		got := map[stockKey]int64{}
		for _, c := range claims {
			got[stockKey{c.StockKind, c.StockID}] += c.Wanted
		}
		for _, tub := range f.Tubs {
			got[stockKey{MediumStock, tub.ProductID}] += tub.MediumML
			for _, part := range tub.Ingredient {
				got[stockKey{LotStock, part.LotID}] += part.Grams
			}
		}
		for key, want := range whole {
			if d := got[key] - want; d < -int64(2+2*tubs) || d > int64(2+2*tubs) {
				t.Fatalf("%v %d: tubs and claims come to %d, the recipe takes %d", key.kind, key.id, got[key], want)
			}
		}
	})
}
