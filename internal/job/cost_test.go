package job

import (
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/published"
)

// costed is a job over 24 row-km with a medium of 4720 L that cost 1793.60, and with hours,
// way, others' work, allowance and overhead entered. All of it is invented.
func costed(t testing.TB) Facts {
	f := sceneOf(t, 24)
	f.Shelf.Worths = []StockWorth{{MediumStock, vermiculiteID, 1793_60}}
	f.Costs.Rates = CostRates{LabourPerH: money.MustFactor("42.50"), FloatPerKm: money.MustFactor("1.85"), OverheadPercent: money.MustFactor("12"), OverheadPerRowKm: money.MustFactor("1.50")}
	f.Costs.Costing = &Costing{JobID: 3, HandH: money.MustFactor("6.5"), FloatKm: money.MustFactor("164"), FloatSharePercent: money.MustFactor("50"), FloatShareWhy: "with J-04 on the same trip",
		Others: []OthersWork{{What: "spray before mounding", Quantity: money.MustFactor("18.5"), Unit: "ha", UnitPrice: money.MustFactor("14.20")}}, ResowPercent: money.MustFactor("5"), ResowWhy: "late window"}
	return f
}

// Reckoned by hand beside the recipe: 24 row-km are 8 000 placements. Old man saltbush at 30
// live of 26.0667 a gram is 9.207 kg, wavy leaf at 20 live of 230.714 a gram 0.693 kg.
func TestAJobsCostIsReckonedLineByLine(t *testing.T) {
	c, err := CostOf(costed(t))
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		kind     CostKind
		quantity string
		price    string
		amount   money.Cents
	}{
		{SeedCost, "9.207", "48", 441_94},
		{SeedCost, "0.693", "65", 45_05},
		{MediumCost, "360", "0.38", 136_80},
		{FloatCost, "82", "1.85", 151_70},
		{LabourCost, "6.5", "42.50", 276_25},
		{OthersCost, "18.5", "14.20", 262_70},
	}
	for i, w := range want {
		got := c.Lines[i]
		if got.Kind != w.kind || got.Quantity.Compare(money.MustFactor(w.quantity)) != 0 || got.Price.Compare(money.MustFactor(w.price)) != 0 || got.Amount != w.amount {
			t.Errorf("line %d is %s %s × %s = %s, want %+v", i, got.Kind, got.Quantity, got.Price, got.Amount, w)
		}
	}
	// 5 % of 441.94 + 45.05 + 136.80 + 276.25 = 900.04; 12 % of all that; 24 × 1.50
	for i, amount := range []money.Cents{45_00, 163_13, 36_00} {
		if got := c.Lines[len(want)+i]; got.Amount != amount {
			t.Errorf("%s: %s of %s, want %s", got.What, got.Amount, got.Unit, amount)
		}
	}
	if each, ok := c.PerRowKm(); c.Total != 1558_57 || !ok || each != 64_94 || len(c.LeftOut) != 1 {
		t.Errorf("comes to %s, %s a row-km, leaves out %v", c.Total, each, c.LeftOut)
	}
	steps := c.Working()
	if last := steps[len(steps)-3]; last.Value.String() != "1,558.57" {
		t.Errorf("the working ends in %v", last)
	}
}

func TestACatchTestChangesNoPlan(t *testing.T) {
	before, err := CostOf(costed(t))
	if err != nil {
		t.Fatal(err)
	}
	f := costed(t)
	f.Catches = []mix.Catch{caughtAt(58)}
	after, err := CostOf(f)
	if err != nil || after.Total != before.Total {
		t.Errorf("the plan costs %s before a heavy catch and %s after it, %v", before.Total, after.Total, err)
	}
}

func TestWhatIsNotKnownIsLeftOutAndSaid(t *testing.T) {
	f := sceneOf(t, 24)
	f.Recipe = nil
	c, err := CostOf(f)
	if err != nil || len(c.Lines) != 0 || len(c.LeftOut) != 2 || !strings.Contains(c.LeftOut[0], "No lots are chosen yet") || !strings.Contains(c.LeftOut[1], "how many hours") {
		t.Errorf("%v, leaves out %q, %v", c.Lines, c.LeftOut, err)
	}
	f = costed(t)
	f.Costs.Rates = CostRates{}
	f.Shelf.Worths = nil
	f.Shelf.Lots[0].CostPerKg = money.Factor{}
	c, err = CostOf(f)
	if says := strings.Join(c.LeftOut, "\n"); err != nil || !strings.Contains(says, "Lot D26-01 has no cost a kg") || !strings.Contains(says, "Vermiculite has no cost yet") || !strings.Contains(says, "an hour of hands") || !strings.Contains(says, "driven km") {
		t.Errorf("leaves out %q, %v", says, err)
	}
	f.Layout = nil
	if _, err := CostOf(f); fault.KindOf(err) != fault.Clash {
		t.Errorf("a job with rows has a cost before they are laid: %v", err)
	}
}

func TestCostsThatCannotBeAreRefused(t *testing.T) {
	for field, spoil := range map[string]func(*Costing){
		"resow_percent":       func(c *Costing) { c.ResowPercent = money.MustFactor("101") },
		"resow_why":           func(c *Costing) { c.ResowWhy = "" },
		"float_share_percent": func(c *Costing) { c.FloatSharePercent = money.MustFactor("-1") },
		"float_share_why":     func(c *Costing) { c.FloatShareWhy = "" },
	} {
		c := *costed(t).Costs.Costing
		if err := c.Check(); err != nil {
			t.Fatalf("what can be is refused: %v", err)
		}
		spoil(&c)
		if _, refused := fault.Fields(c.Check())[field]; !refused {
			t.Errorf("%s is not refused: %v", field, c.Check())
		}
	}
	f := costed(t)
	f.Costs.Costing.HandH = money.MustFactor("99999999999999")
	if _, err := CostOf(f); fault.KindOf(err) != fault.Refused {
		t.Errorf("an amount beyond money is taken: %v", err)
	}
}

// The published cost of a hectare of saltbush, part by part, adds up to its printed total.
func TestPublishedCostOfAHectareAddsUp(t *testing.T) {
	const farmers = "Direct seeding saltbush, farmer-operated: "
	var c Costing
	var total, contract, contractTotal money.Factor
	for _, r := range published.Rows(t, "establishment_costs.csv") {
		if !strings.HasPrefix(r.Text("item"), "Direct seeding saltbush") {
			continue
		}
		amount := money.MustFactor(r.Text("low"))
		switch item := r.Text("item"); {
		case item == farmers+"TOTAL":
			total = amount
		case item == "Direct seeding saltbush: tractor", item == "Direct seeding saltbush: spraying", strings.HasPrefix(item, farmers):
			c.Others = append(c.Others, OthersWork{What: item, Quantity: money.Whole(10), Unit: "ha", UnitPrice: amount})
		case strings.HasPrefix(item, "Direct seeding saltbush, contract price"):
			contract = amount
		case strings.HasPrefix(item, "Direct seeding saltbush, contract: TOTAL"):
			contractTotal = amount
		}
	}
	r := reckoning{Cost: Cost{GrossM2: 100_000}}
	r.planOthers(c)
	if each, ok := r.PerHa(); !ok || len(c.Others) != 6 || each.Factor().Compare(total) != 0 {
		t.Errorf("%d parts come to %s a hectare, printed %s", len(c.Others), each, total)
	}
	byContract := reckoning{Cost: Cost{GrossM2: 10_000}}
	byContract.planOthers(Costing{Others: []OthersWork{{Quantity: money.Whole(1), UnitPrice: contract}, {Quantity: money.Whole(1), UnitPrice: money.Whole(6)}, {Quantity: money.Whole(1), UnitPrice: money.Whole(15)}}})
	if each, _ := byContract.PerHa(); each.Factor().Compare(contractTotal) != 0 {
		t.Errorf("by contract %s a hectare, printed %s", each, contractTotal)
	}
}
