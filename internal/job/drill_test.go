package job

import (
	"strings"
	"testing"

	"rowtally/internal/mix"
)

func TestWhatIsLoadedIsNotClaimedAgain(t *testing.T) {
	f := betweenRows(t)
	whole := claimed(t, f)
	grass := whole[stockKey{LotStock, grassID}]
	f.DrillLoads = []DrillLoad{{Ha: 10, Lots: []mix.Ingredient{{LotID: grassID, Grams: grass - 1_500}}}}
	f.Moved = []Movement{{StockKind: LotStock, StockID: grassID, Quantity: 1_500 - grass, DrillLoadID: 1}}
	if got := claimed(t, f); got[stockKey{LotStock, grassID}] != 1_500 || got[stockKey{LotStock, cloverID}] != whole[stockKey{LotStock, cloverID}] {
		t.Errorf("with all but 1.5 kg of the grass loaded it claims %v, whole %v", got, whole)
	}
	d, err := DrillOf(f)
	if err != nil || len(d.Lines) != 2 || d.Lines[0].Left() != 1_500 || d.Lines[0].Unaccounted() != 0 || d.LoadedHa != 10 || !near(d.LeftHa(), d.Ha-10, 9) {
		t.Errorf("%+v, %v", d, err)
	}
	f.DrillLoads = append(f.DrillLoads, DrillLoad{Ha: 1e4, Lots: []mix.Ingredient{{LotID: grassID, Grams: 9_000}}})
	if got := claimed(t, f); len(got) != 1 || got[stockKey{LotStock, grassID}] != 0 {
		t.Errorf("with more than enough grass loaded it claims %v", got)
	}
	if d, err = DrillOf(f); err != nil || d.Lines[0].Left() != 0 || d.LeftHa() != 0 || d.Lines[0].Unaccounted() != -9_000 {
		t.Errorf("%+v, %v", d, err)
	}
}

// What lies in the drill is not short any more, and a lot held since stops nothing.
func TestTheChainTellsWhatIsLoaded(t *testing.T) {
	f := betweenRows(t)
	if says := ChainOf(f).Links[4].Says; strings.Contains(says, "Loaded") {
		t.Errorf("before a load it says %q", says)
	}
	whole := claimed(t, f)
	f.DrillLoads = []DrillLoad{{Ha: 10}}
	for _, id := range []int64{grassID, cloverID} {
		f.DrillLoads[0].Lots = append(f.DrillLoads[0].Lots, mix.Ingredient{LotID: id, Grams: whole[stockKey{LotStock, id}]})
	}
	f.Shelf.Balances = nil
	f.Shelf.Lots[len(f.Shelf.Lots)-1].HoldReason = "weevils"
	link := ChainOf(f).Links[4]
	sum := grams(whole[stockKey{LotStock, grassID}] + whole[stockKey{LotStock, cloverID}])
	if link.Warning != "" || !strings.Contains(link.Says, "Loaded into the drill: "+sum+" of "+sum+" kg.") {
		t.Errorf("it warns %q and says %q", link.Warning, link.Says)
	}
}

func TestALotThatIsNoLongerChosenStaysInTheBalance(t *testing.T) {
	f := betweenRows(t)
	f.DrillLoads = []DrillLoad{{Ha: 10, Lots: []mix.Ingredient{{LotID: grassID, Grams: 400}}}}
	f.Understorey = nil
	d, err := DrillOf(f)
	if err != nil || len(d.Lines) != 1 || d.Lines[0].Code != "U26-01" || d.Lines[0].Need != 0 || d.Lines[0].Loaded != 400 {
		t.Errorf("%+v, %v", d, err)
	}
	f.DrillLoads = nil
	if _, err := DrillOf(f); err == nil || !strings.Contains(err.Error(), "Choose an understorey first") {
		t.Errorf("without an understorey: %v", err)
	}
}
