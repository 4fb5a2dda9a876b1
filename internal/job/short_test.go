package job

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/machine"
)

// 3 kg of the 5.21 that are still to go in: a tub of 117.3 L takes them, at 4 092 g to 160 L.
func TestTheTubIsNoLargerThanWhatTheLotHolds(t *testing.T) {
	f := sceneOf(t, 34.9).mixed(t, 2)
	f.Shelf.Balances[0].OnHand = 3_000
	sheet, err := MixingSheetOf(f)
	if err != nil {
		t.Fatal(err)
	}
	if len(sheet.Tubs) != 1 || sheet.Tubs[0].Grams[0] != 3_000 || !near(sheet.Tubs[0].MixL, 160*3_000/4_091.55, 1) {
		t.Errorf("the tubs are %+v, want one of 117.3 L with 3 000 g", sheet.Tubs)
	}
	for _, says := range []string{"What is free mixes 117.3 L, which last 7.82 of the 13.57 row-km left", "no larger than that"} {
		if !strings.Contains(sheet.Short, says) {
			t.Errorf("the sheet lacks %q: %s", says, sheet.Short)
		}
	}
	f.Shelf.Balances[0].OnHand = 0
	if _, err := MixingSheetOf(f); fault.KindOf(err) != fault.Clash || !strings.Contains(err.Error(), "D26-01 is short by 5.21 kg") {
		t.Errorf("with an empty bag: %v", err)
	}
}

// Every tub of a sheet can be drawn, whatever is short, and the chain still warns.
func TestLawNoTubTakesMoreThanIsFree(t *testing.T) {
	base := sceneOf(t, 34.9)
	rapid.Check(t, func(t *rapid.T) {
		f := base
		f.Recipe = drawnRecipe(t)
		f.Shelf.Balances = append([]Balance(nil), base.Shelf.Balances...)
		for i, most := range map[int]int64{0: 30_000, 1: 3_000, 3: 1_000_000} {
			f.Shelf.Balances[i].OnHand = rapid.Int64Range(0, most).Draw(t, "on hand")
		}
		sheet, err := MixingSheetOf(f)
		if err != nil {
			if fault.KindOf(err) != fault.Clash {
				t.Fatal(err)
			}
			return
		}
		drawn := map[ofStock]float64{}
		for _, tub := range sheet.Tubs {
			drawn[ofStock{MediumStock, vermiculiteID}] += tub.MediumL * 1000
			for i, lot := range sheet.Lots {
				drawn[ofStock{LotStock, lot.LotID}] += tub.Grams[i]
			}
		}
		reaches := 0.0
		for _, tub := range sheet.Tubs {
			reaches += tub.RowM
		}
		for what, taken := range drawn {
			if free := float64(f.Shelf.Free(what.kind, what.id, f.Job.ID)); taken > free+0.6 {
				t.Fatalf("the tubs take %v of %v, and %v are free", taken, what, free)
			}
		}
		if whole := 34_900 * (1 + f.Recipe.SparePercent/100); sheet.Short == "" && math.Abs(reaches-whole) > 1 {
			t.Fatalf("nothing is short, and the tubs reach %v of %v m", reaches, whole)
		}
	})
}

func TestTheSheetKnowsTheMachineThatSows(t *testing.T) {
	f := sceneOf(t, 34.9)
	sheet, err := MixingSheetOf(f)
	if err != nil || sheet.Catch != nil || sheet.HopperL(sheet.Tubs[0]) != 0 {
		t.Errorf("without a machine: %+v, %v", sheet.Catch, err)
	}
	f.Sower = &machine.Machine{Name: "mounder-seeder", Rows: 2, HopperUsableL: 160, Hoppers: 2, WheelM: 2.36}
	sheet, err = MixingSheetOf(f)
	if err != nil {
		t.Fatal(err)
	}
	if sheet.HopperL(sheet.Tubs[0]) != 80 || !near(sheet.HopperL(sheet.Tubs[3]), 21.75, 2) {
		t.Errorf("%v and %v L a hopper, want 80 and 21.75", sheet.HopperL(sheet.Tubs[0]), sheet.HopperL(sheet.Tubs[3]))
	}
	// 20 turns of 2.36 m are 47.2 m: 15.73 placements of 45 mL
	if c := sheet.Catch; c.Turns != 20 || !near(c.RunM, 47.2, 1) || !near(c.CatchML, 708, 0) {
		t.Errorf("the catch is %+v", c)
	}
	if sheet.Lots[0].Species != "Atriplex nummularia" || !near(sheet.MediumL(), 523.5, 1) {
		t.Errorf("%+v, %v L of medium", sheet.Lots[0], sheet.MediumL())
	}
}
