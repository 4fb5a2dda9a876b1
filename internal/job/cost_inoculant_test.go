package job

import (
	"strings"
	"testing"

	"rowtally/internal/money"
	"rowtally/internal/seed"
)

func inoculated(t testing.TB, keeps bool) Facts {
	f := betweenRows(t)
	f.Costs.Inoculants = []seed.Inoculant{{ID: 7, ForGroup: "c", Product: "peat (example)", PackG: 250, PackPrice: money.MustFactor("14.50"), Keeps: keeps}}
	return f
}

func treatmentLine(t *testing.T, c Cost) CostLine {
	t.Helper()
	for _, l := range c.Lines {
		if l.Kind == TreatmentCost {
			return l
		}
	}
	t.Fatalf("no seed treatment in %+v", c.Lines)
	return CostLine{}
}

// The clover's kilograms at 10 g each, by hand: packs begun count whole, or in parts where the
// rest keeps.
func TestInoculantIsReckonedInPacks(t *testing.T) {
	for _, keeps := range []bool{false, true} {
		f := inoculated(t, keeps)
		worked, err := f.WorkUnderstorey()
		if err != nil {
			t.Fatal(err)
		}
		grams := 10 * worked.Species[1].Lots[0].Kg
		packs := grams / 250
		if !keeps {
			packs = float64(int(packs) + 1)
		}
		c, err := CostOf(f)
		if err != nil {
			t.Fatal(err)
		}
		l := treatmentLine(t, c)
		if d := l.Quantity.Float() - packs; d > 0.001 || d < -0.001 || l.Unit != "packs" || l.ID != 7 || l.Amount != money.FactorOf(packs, 3).Times(money.MustFactor("14.50")).Cents() {
			t.Errorf("keeps %v: %+v, want %v packs of %v g", keeps, l, packs, grams)
		}
	}
}

func TestAnInoculantWithoutAPriceIsSaid(t *testing.T) {
	f := betweenRows(t)
	c, err := CostOf(f)
	if says := strings.Join(c.LeftOut, "\n"); err != nil || !strings.Contains(says, "The inoculant of group C has no price yet") {
		t.Errorf("leaves out %q, %v", says, err)
	}
}

// Half the clover drawn takes half the grams; planned and spent meet in one row.
func TestInoculantStandsInPlannedAgainstSpent(t *testing.T) {
	f := inoculated(t, true)
	f.Moved = []Movement{{StockKind: LotStock, StockID: cloverID, Quantity: -20_000}, {StockKind: LotStock, StockID: grassID, Quantity: -30_000}}
	f.DrillLoads = []DrillLoad{{Ha: 10}}
	spent, err := SpentOn(f)
	if err != nil {
		t.Fatal(err)
	}
	if l := treatmentLine(t, spent); l.Quantity.Compare(money.MustFactor("0.8")) != 0 || l.Amount != 11_60 {
		t.Errorf("20 kg drawn take %+v, want 0.8 packs for 11.60", l)
	}
	check, err := CheckCost(f)
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for _, r := range check.Rows {
		if r.Kind == TreatmentCost {
			rows++
			if r.PlannedQuantity.Sign() <= 0 || r.ActualQuantity.Compare(money.MustFactor("0.8")) != 0 || r.Variance.Price != 0 {
				t.Errorf("compared as %+v", r)
			}
		}
	}
	if rows != 1 {
		t.Errorf("%d rows of seed treatment", rows)
	}
}

// Treating 9.207 kg at 3.20 a kg costs 29.46 beside the seed, and the allowance to sow again
// counts it.
func TestTreatedSeedCostsItsTreatment(t *testing.T) {
	f := costed(t)
	f.Shelf.Lots[0].Treatment, f.Shelf.Lots[0].TreatmentPerKg = "seed coat (example)", money.MustFactor("3.20")
	c, err := CostOf(f)
	if err != nil {
		t.Fatal(err)
	}
	if l := treatmentLine(t, c); l.Amount != 29_46 || l.ID != oldManID || l.Unit != "kg" {
		t.Errorf("treated for %+v", l)
	}
	if c.Of(ResowCost) != 46_48 { // 5 % of 900.04 + 29.46
		t.Errorf("to sow again %s", c.Of(ResowCost))
	}
}
