package job

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
)

// drawnFor is the ledger that the job's tubs leave behind.
func (f Facts) drawnFor() Facts {
	f.Moved = nil
	for i, tub := range f.Tubs {
		f.Moved = append(f.Moved, Movement{Kind: "drawn", StockKind: MediumStock, StockID: tub.ProductID, Quantity: -tub.MediumML, TubID: int64(i + 1)})
		for _, in := range tub.Ingredient {
			f.Moved = append(f.Moved, Movement{Kind: "drawn", StockKind: LotStock, StockID: in.LotID, Quantity: -in.Grams, TubID: int64(i + 1)})
		}
	}
	return f
}

func balanced(t testing.TB, f Facts) MassBalance {
	t.Helper()
	b, err := MassBalanceOf(f)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// 34.9 row-km at 15 L: what was mixed is what the rows take, and each placement got its 45 mL
// and 50 live seeds.
func TestAJobSownAsPlannedBalances(t *testing.T) {
	b := balanced(t, sceneOf(t, 34.9).mixed(t, 9).drawnFor().logged(34.9))
	if !near(float64(b.MixedML), 523_500, -1) || !near(float64(b.SownML), 523_500, -1) || b.RestML() > 10 || b.RestML() < -10 {
		t.Errorf("%d mL mixed, %d sown", b.MixedML, b.SownML)
	}
	if !near(b.PlacementML, 45.0, 2) || !near(b.LivePerPlacement, 50.0, 1) {
		t.Errorf("a placement got %v mL and %v live seeds, want 45 and 50", b.PlacementML, b.LivePerPlacement)
	}
	for _, l := range b.Lines {
		if l.Unaccounted > 8 || l.Unaccounted < -8 || l.Drawn != l.Mixed {
			t.Errorf("%+v", l)
		}
	}
}

// The mix of 34.9 row-km that ran out at 27.08 gave each placement 58 mL and 64.4 live seeds;
// a catch test of 58 mL accounts for all of it.
func TestAHeavyMeterIsSeenInTheBalance(t *testing.T) {
	f := sceneOf(t, 34.9).mixed(t, 9).drawnFor().logged(27.08)
	b := balanced(t, f)
	if !near(b.PlacementML, 45*34.9/27.08, 2) || !near(b.LivePerPlacement, 50*34.9/27.08, 1) {
		t.Errorf("a placement got %v mL and %v live seeds, want 58.0 and 64.4", b.PlacementML, b.LivePerPlacement)
	}
	if says := b.Says(); !strings.Contains(says, "117.3 L of mix, 22.4 %, are not in the rows by the sown log: still in the hoppers") {
		t.Errorf("it says %q", says)
	}
	f.Catches = []mix.Catch{caughtAt(58)}
	if b := balanced(t, f); math.Abs(float64(b.RestML())) > 0.001*float64(b.MixedML) {
		t.Errorf("at the 58 mL caught %d mL are not accounted for", b.RestML())
	}
}

// drawn = sown + kept + wasted for every lot and the medium, whatever was measured.
func TestLawEveryGramIsAccountedFor(t *testing.T) {
	base := sceneOf(t, 34.9)
	rapid.Check(t, func(t *rapid.T) {
		f := base
		for range rapid.IntRange(1, 4).Draw(t, "tubs") {
			sheet, err := MixingSheetOf(f)
			if err != nil {
				t.Fatal(err)
			}
			f.Tubs = append(f.Tubs[:len(f.Tubs):len(f.Tubs)], TubOf(f, sheet))
		}
		f = f.drawnFor()
		for range rapid.IntRange(0, 3).Draw(t, "clean-outs") {
			out, err := RemainsOf(f, rapid.Int64Range(1, 200_000).Draw(t, "left, mL"), rapid.Bool().Draw(t, "kept"))
			if err == nil {
				f.CleanOuts = append(f.CleanOuts[:len(f.CleanOuts):len(f.CleanOuts)], out)
			} else if fault.KindOf(err) != fault.Refused {
				t.Fatal(err)
			}
		}
		if rapid.Bool().Draw(t, "sown") {
			f.Sown = &Sown{CoveredM: rapid.Float64Range(0, 40_000).Draw(t, "covered, m")}
		}
		b, err := MassBalanceOf(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range b.Lines {
			if l.Drawn != l.Sown+l.Kept+l.Wasted() {
				t.Fatalf("%+v does not balance", l)
			}
			if l.Kept < 0 || l.ThrownAway < 0 || l.Kept+l.ThrownAway > l.Mixed {
				t.Fatalf("more came back than went in: %+v", l)
			}
			// what is not accounted for is the same share of every lot, to a gram of each act
			share := float64(b.RestML()) / float64(b.MixedML) * float64(l.Mixed)
			if off := math.Abs(float64(l.Unaccounted) - share); off > 8+0.001*float64(l.Mixed) {
				t.Fatalf("%d of %s are not accounted for, its share is %v", l.Unaccounted, l.Name, share)
			}
		}
	})
}

func TestWhatRemainsIsSplitAsTheLastTubHeldIt(t *testing.T) {
	f := sceneOf(t, 34.9).mixed(t, 9).drawnFor()
	// the last tub of 43.5 L and 36.5 L of the one before, at 4 092 g to 160 L
	out, err := RemainsOf(f, 80_000, true)
	if err != nil {
		t.Fatal(err)
	}
	if out.Ingredient[0].LotID != oldManID || math.Abs(float64(out.Ingredient[0].Grams)-4092.0/2) > 2 || !near(float64(out.MediumML)/80_000, 1, 1) {
		t.Errorf("80 L hold %+v and %d mL of medium", out.Ingredient, out.MediumML)
	}
	for _, wrong := range []int64{0, -5, 523_600} {
		if _, err := RemainsOf(f, wrong, true); fault.Fields(err)["left_l"] == "" {
			t.Errorf("%d mL: %v", wrong, err)
		}
	}
	f.CleanOuts = []mix.CleanOut{out}
	if _, err := RemainsOf(f, 450_000, false); fault.Fields(err)["left_l"] == "" {
		t.Errorf("more than is left: %v", err)
	}
	b := balanced(t, f)
	if b.InHoppers() || b.KeptML != 80_000 || b.Lines[0].Kept != out.Ingredient[0].Grams {
		t.Errorf("%+v", b)
	}
}

func TestThereIsNoBalanceBeforeTheFirstTub(t *testing.T) {
	if _, err := MassBalanceOf(sceneOf(t, 10)); fault.KindOf(err) != fault.Clash {
		t.Errorf("got %v", err)
	}
	b := balanced(t, sceneOf(t, 10).mixed(t, 1).drawnFor())
	if b.PlacementML != 0 || b.SownML != 0 || len(b.Working()) != 3 || !strings.Contains(b.Says(), "no row is measured yet") {
		t.Errorf("before a row is sown: %+v, %q", b, b.Says())
	}
}

// Mix that was cleaned out sows no row: the 2 row-km that it was meant for are mixed again.
func TestWhatWasCleanedOutIsMixedAgain(t *testing.T) {
	f := sceneOf(t, 10).mixed(t, 9).drawnFor().logged(8)
	if left := f.LeftM(10_000); left > 1 {
		t.Errorf("with 30 L in the hoppers %v m are left to mix for", left)
	}
	out, err := RemainsOf(f, 30_000, false)
	if err != nil {
		t.Fatal(err)
	}
	f.CleanOuts = []mix.CleanOut{out}
	sheet, err := MixingSheetOf(f)
	if err != nil || len(sheet.Tubs) != 1 || !near(sheet.Tubs[0].MixL, 30, 1) || !near(sheet.LeftM/1000, 2, 2) {
		t.Errorf("the sheet is %+v, %v; want a tub of 30 L for 2 row-km", sheet.Tubs, err)
	}
	if b := balanced(t, f); !near(b.PlacementML, 45, 2) || b.RestML() > 10 || b.RestML() < -10 {
		t.Errorf("a placement got %v mL, %d mL are not accounted for", b.PlacementML, b.RestML())
	}
}
