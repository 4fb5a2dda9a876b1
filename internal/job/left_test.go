package job

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
)

// caughtAt is a catch test that found so many mL to a placement, over 47.2 m of run at the
// planned spacing.
func caughtAt(placementML float64) mix.Catch {
	return mix.Catch{ID: 1, CaughtML: placementML * 47.2 / 3, RunM: 47.2, Outlets: 1, SpacingM: 3}
}

// 45 / 58 of 34.9 row-km: where a mix made for 45 mL ends when the meter drops 58.
func TestWhereAMixEndsWhenTheMeterIsHeavy(t *testing.T) {
	f := sceneOf(t, 34.9).mixed(t, 9)
	if len(f.Tubs) != 4 || !near(f.MixedM()/1000, 34.9, 3) || f.LeftM(34_900) > 1 {
		t.Fatalf("%d tubs last %v m and leave %v m, want 4, 34 900 and 0", len(f.Tubs), f.MixedM(), f.LeftM(34_900))
	}
	f.Catches = []mix.Catch{caughtAt(58)}
	if got := f.MixedM() / 1000; !near(got, 27.1, 1) {
		t.Errorf("at 58 mL the mix lasts %v row-km, want 27.1", got)
	}
	f = f.logged(27.08)
	if got := f.LeftM(34_900); !near(got/1000, 7.82, 2) || !f.RanOut(34_900) {
		t.Errorf("%v m are left to mix for, ran out %v; want 7 820 and true", got, f.RanOut(34_900))
	}
	sheet, err := MixingSheetOf(f)
	if err != nil {
		t.Fatal(err)
	}
	// 7.82 row-km at 1000/3 x 58 mL: 151.2 L; 30 live a placement as before: 0.3836 kg a row-km.
	if len(sheet.Tubs) != 1 || sheet.Tubs[0].Number != 5 || !near(sheet.Tubs[0].MixL, 151.2, 1) || math.Abs(sheet.Tubs[0].Grams[0]-3000) > 2 {
		t.Errorf("the tubs left are %+v, want number 5 of 151.2 L with 3 000 g", sheet.Tubs)
	}
	if !near(sheet.PlacementML, 58, 9) || sheet.IntendedML != 45 || sheet.Mixed != 4 {
		t.Errorf("%v mL for %v intended after %d tubs, want 58, 45 and 4", sheet.PlacementML, sheet.IntendedML, sheet.Mixed)
	}
}

func TestTheChainSaysThatTheMixRanOut(t *testing.T) {
	f := sceneOf(t, 34.9).quoted(t, 1, "2026-05-07").agreed(1, "2026-05-09").mixed(t, 9)
	f.Catches = []mix.Catch{caughtAt(58)}
	c := ChainOf(f.logged(27.08))
	want := "Bore ran out of mix at 27.08 of 34.90 row-km. The meter drops 58 mL for 45. Mix for the 7.82 row-km left."
	if len(c.Trouble) != 1 || c.Trouble[0] != want || c.Next.Path != "/truck/3" || c.Stage != Sowing {
		t.Errorf("at stage %s the chain says %q and leads to %+v, want %q", c.Stage, c.Trouble, c.Next, want)
	}
	if says := c.Links[3].Says; !strings.Contains(says, "as caught; 45 mL were intended, so the meter drops 28.9 % heavy") {
		t.Errorf("the mix says %q", says)
	}
}

// A worked example of the trade: 720 mL caught over 47.2 m, 16 placements of 2.95 m, is 45 mL.
func TestACatchIsJudgedByTheSpacingOfItsRun(t *testing.T) {
	found, err := JudgeCatch(mix.Catch{CaughtML: 720, RunM: 47.2, Outlets: 1, SpacingM: 2.95}, *recipeOf(oldManID))
	if err != nil || !near(found.PlacementVolumeML, 45.0, 9) || !near(found.MixLPerKm, 15.25, 2) || !found.WithinTolerance {
		t.Errorf("%+v, %v; want 45 mL and 15.25 L", found, err)
	}
	if !near(*found.LiveSeedsPerTub, 50*160_000/45.0, 6) {
		t.Errorf("%v live seeds to a tub, want 50 to each of 160 L / 45 mL", *found.LiveSeedsPerTub)
	}
}

func TestACatchWithdrawnNoLongerCounts(t *testing.T) {
	f := sceneOf(t, 10)
	light := caughtAt(40)
	f.Catches = []mix.Catch{light, caughtAt(58)}
	if !near(f.placementML(), 58, 9) {
		t.Errorf("%v mL, want the last catch's 58", f.placementML())
	}
	f.Catches[1].Withdrawn = true
	if !near(f.placementML(), 40, 9) {
		t.Errorf("%v mL, want the earlier catch's 40", f.placementML())
	}
	f.Catches[0].Withdrawn = true
	if f.placementML() != 45 {
		t.Errorf("%v mL, want the recipe's 45", f.placementML())
	}
}

func TestNothingLeftIsSaidSo(t *testing.T) {
	f := sceneOf(t, 10).logged(10)
	if _, err := MixingSheetOf(f); fault.KindOf(err) != fault.Clash || !strings.Contains(err.Error(), "There is no tub to mix") {
		t.Errorf("got %v", err)
	}
	f = sceneOf(t, 10)
	f.Recipe = nil
	if _, err := MixingSheetOf(f); fault.KindOf(err) != fault.Clash || !strings.Contains(err.Error(), "No lots are chosen yet") {
		t.Errorf("without a recipe: %v", err)
	}
}

// What is mixed beyond the row-km is mixed in whatever tubs it takes: all of them together
// hold the litres that the recipe asks for, whether read off one sheet or mixed one by one.
func TestTheSpareIsMixedToo(t *testing.T) {
	f := sceneOf(t, 34.9)
	f.Recipe.SparePercent = 5
	w, err := f.WorkRecipe(34_900)
	if err != nil || !near(w.Mix.MixL, 523.5*1.05, 2) {
		t.Fatalf("%v L, %v; want 5 %% more than 523.5", w.Mix.MixL, err)
	}
	var ml int64
	for _, tub := range f.mixed(t, 9).Tubs {
		ml += tub.MixML
	}
	if !near(float64(ml)/1000, w.Mix.MixL, 2) {
		t.Errorf("mixed one by one the tubs hold %d mL, the recipe asks for %v L", ml, w.Mix.MixL)
	}
}

// A lot of which a tub takes less than half a step of the scale is left out of that tub:
// nothing is weighed, and nothing is drawn.
func TestATubKeepsOnlyWhatIsWeighed(t *testing.T) {
	f := sceneOf(t, 10).logged(9.94)
	f.Recipe.ScaleStepG = 10
	sheet, err := MixingSheetOf(f)
	if err != nil || len(sheet.Tubs) != 1 || sheet.Tubs[0].Grams[1] != 0 {
		t.Fatalf("%+v, %v; want one tub without wavy leaf", sheet.Tubs, err)
	}
	tub := TubOf(f, sheet)
	if len(tub.Ingredient) != 1 || tub.Ingredient[0] != (mix.Ingredient{LotID: oldManID, Grams: 20}) {
		t.Errorf("the tub keeps %+v, want 20 g of old man alone", tub.Ingredient)
	}
}

// drawnRecipe is the scene's recipe with other settings, all within what a person may type.
func drawnRecipe(t *rapid.T) *Recipe {
	r := recipeOf(oldManID)
	r.TubL = rapid.Float64Range(20, 400).Draw(t, "tub, L")
	r.PlacementML = rapid.Float64Range(20, 120).Draw(t, "placement, mL")
	r.SparePercent = rapid.SampledFrom([]float64{0, 3, 10}).Draw(t, "spare, %")
	r.ScaleStepG = rapid.SampledFrom([]float64{0.5, 1, 5, 20, 100}).Draw(t, "scale step, g")
	r.Species[0].LivePerPlacement = rapid.Float64Range(1, 60).Draw(t, "old man, live")
	return r
}

func TestTubsAddUpToTheRecipe(t *testing.T) {
	f := sceneOf(t, 34.9)
	rapid.Check(t, func(t *rapid.T) {
		f.Recipe = drawnRecipe(t)
		sheet, err := MixingSheetOf(f)
		if err != nil {
			t.Fatal(err)
		}
		w, err := f.WorkRecipe(f.LeftM(sheet.RowM))
		if err != nil {
			t.Fatal(err)
		}
		for k := range sheet.Lots {
			sum := 0.0
			for _, tub := range sheet.Tubs {
				sum += tub.Grams[k]
				if steps := tub.Grams[k] / f.Recipe.ScaleStepG; math.Abs(steps-math.Round(steps)) > 1e-6 {
					t.Fatalf("%v g is no whole step of %v g", tub.Grams[k], f.Recipe.ScaleStepG)
				}
			}
			if exact := 1000 * w.Mix.Species[k].Lots[0].Kg; math.Abs(sum-exact) > f.Recipe.ScaleStepG/2+1e-6 {
				t.Fatalf("the tubs hold %v g of %s, the recipe takes %v g", sum, sheet.Lots[k].Code, exact)
			}
		}
	})
}

// Whatever is mixed, caught and sown, what is left to mix lies between nothing and the
// rows that are not sown, and mixing more never makes it more.
func TestWhatIsLeftToMixStaysWithinTheRows(t *testing.T) {
	base := sceneOf(t, 34.9)
	rapid.Check(t, func(t *rapid.T) {
		f := base
		f.Recipe = drawnRecipe(t)
		const plannedM = 34_900.0
		for range rapid.IntRange(0, 30).Draw(t, "tubs") {
			f.Tubs = append(f.Tubs, mix.Tub{MixML: rapid.Int64Range(1, 400_000).Draw(t, "mix, mL")})
		}
		if rapid.Bool().Draw(t, "caught") {
			f.Catches = []mix.Catch{caughtAt(rapid.Float64Range(10, 200).Draw(t, "caught, mL"))}
		}
		if rapid.Bool().Draw(t, "sown") {
			f.Sown = &Sown{CoveredM: rapid.Float64Range(0, 40_000).Draw(t, "covered, m")}
		}
		left, sownM := f.LeftM(plannedM), 0.0
		if f.Sown != nil {
			sownM = f.Sown.CoveredM
		}
		if left < 0 || left > max(0, plannedM-sownM)+1e-6 {
			t.Fatalf("%v m left to mix for, with %v m of %v sown", left, sownM, plannedM)
		}
		f.Tubs = append(f.Tubs, mix.Tub{MixML: 100_000})
		if more := f.LeftM(plannedM); more > left+1e-6 {
			t.Fatalf("one tub more and %v m are left where %v m were", more, left)
		}
	})
}

// Mixed tub by tub the job ends, with the litres of the recipe and every lot within half a
// scale step and half a gram for each tub.
func TestMixingTubByTubEndsWithTheRecipe(t *testing.T) {
	base := sceneOf(t, 34.9)
	rapid.Check(t, func(t *rapid.T) {
		f := base
		f.Recipe = drawnRecipe(t)
		w, err := f.WorkRecipe(34_900)
		if err != nil {
			t.Fatal(err)
		}
		var mixML int64
		grams := map[int64]int64{}
		for range len(w.Mix.Batches) + 1 {
			sheet, err := MixingSheetOf(f)
			if err != nil {
				break
			}
			tub := TubOf(f, sheet)
			f.Tubs = append(f.Tubs[:len(f.Tubs):len(f.Tubs)], tub)
			mixML += tub.MixML
			for _, part := range tub.Ingredient {
				grams[part.LotID] += part.Grams
			}
		}
		tubs := float64(len(f.Tubs))
		if _, err := MixingSheetOf(f); fault.KindOf(err) != fault.Clash {
			t.Fatalf("%v tubs and still %v m left", tubs, f.LeftM(34_900))
		}
		unmixedKm := leastLeftM / 1000 * (1 + f.Recipe.SparePercent/100) // the last metres are not worth a tub
		if off := math.Abs(float64(mixML)/1000 - w.Mix.MixL); off > 0.001*tubs+w.Mix.MixLPerKm*unmixedKm {
			t.Fatalf("%v tubs hold %d mL, the recipe asks for %v L", tubs, mixML, w.Mix.MixL)
		}
		for i, id := range []int64{oldManID, wavyID} {
			lot := w.Mix.Species[i].Lots[0]
			exact := 1000 * lot.Kg
			if off := math.Abs(float64(grams[id]) - exact); off > tubs*(f.Recipe.ScaleStepG/2+0.5)+1000*lot.KgPerKm*unmixedKm {
				t.Fatalf("%v tubs hold %d g of lot %d, the recipe takes %v g", tubs, grams[id], id, exact)
			}
		}
	})
}
