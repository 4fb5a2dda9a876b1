package bill

import (
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/published"

	"pgregory.net/rapid"
)

// given reads "aq=450;ap=6.5" as the published rows write their inputs.
func given(t *testing.T, r published.Row) map[string]money.Factor {
	t.Helper()
	values := map[string]money.Factor{}
	for _, pair := range strings.Split(r.Text("inputs"), ";") {
		name, text, _ := strings.Cut(pair, "=")
		value, err := money.ParseFactor(text)
		if err != nil {
			t.Fatalf("%s: %v", r.Name, err)
		}
		values[name] = value
	}
	return values
}

func varianceOf(plannedQuantity, plannedPrice, actualQuantity, actualPrice money.Factor) VarianceIn {
	return VarianceIn{money.Exact{Factor: plannedQuantity}, plannedPrice, money.Exact{Factor: actualQuantity}, actualPrice}
}

func TestPublishedVariances(t *testing.T) {
	seen := 0
	for _, r := range published.Rows(t, "variance_examples.csv") {
		v := given(t, r)
		if _, plain := v["aq"]; !plain || r.Text("how_obtained") == "partly from memory" {
			continue
		}
		seen++
		got, err := Compare(varianceOf(v["sq"], v["sp"], v["aq"], v["ap"]))
		if err != nil || got.Price != factorIn(t, r, "price_or_rate_variance").Cents() ||
			got.Quantity != factorIn(t, r, "quantity_or_efficiency_variance").Cents() || got.Total != factorIn(t, r, "total_variance").Cents() {
			t.Errorf("%s: %s, %s, %s, %v", r.Name, got.Price, got.Quantity, got.Total, err)
		}
	}
	if seen != 9 {
		t.Errorf("%d rows were checked, want 9", seen)
	}
}

// Material bought and not all used: the price variance is on what was bought, the
// quantity variance on what was used, each from its own comparison.
func TestPublishedVarianceOfBoughtAndUsed(t *testing.T) {
	for _, r := range published.Rows(t, "variance_examples.csv") {
		v := given(t, r)
		if _, split := v["purchased"]; !split {
			continue
		}
		bought, err := Compare(varianceOf(v["purchased"], v["sp"], v["purchased"], v["ap"]))
		if err != nil || bought.Price != factorIn(t, r, "price_or_rate_variance").Cents() || bought.Quantity != 0 {
			t.Errorf("%s, bought: %+v, %v", r.Name, bought, err)
		}
		used, err := Compare(varianceOf(v["sq"], v["sp"], v["used"], v["sp"]))
		if err != nil || used.Quantity != factorIn(t, r, "quantity_or_efficiency_variance").Cents() || used.Price != 0 {
			t.Errorf("%s, used: %+v, %v", r.Name, used, err)
		}
		return
	}
	t.Error("the row is not there")
}

// The standard is for the units really made: 5,200 at 1.25 h, not the 5,000 budgeted.
func TestPublishedVarianceAgainstTheActualOutput(t *testing.T) {
	for _, r := range published.Rows(t, "variance_examples.csv") {
		v := given(t, r)
		if _, hours := v["ah"]; !hours {
			continue
		}
		got, err := Compare(varianceOf(v["std_h_per_unit"].Times(v["actual_units"]), v["sr"], v["ah"], v["sr"]))
		if err != nil || got.Quantity != factorIn(t, r, "quantity_or_efficiency_variance").Cents() {
			t.Errorf("%s: %+v, %v", r.Name, got, err)
		}
		return
	}
	t.Error("the row is not there")
}

func TestVariancesAddToTheDifferenceOfCost(t *testing.T) {
	decimal := rapid.StringMatching(`[0-9]{1,6}(\.[0-9]{1,4})?`)
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) money.Factor { return money.MustFactor(decimal.Draw(t, name)) }
		plannedQuantity, plannedPrice, actualQuantity, actualPrice := draw("sq"), draw("sp"), draw("aq"), draw("ap")
		got, err := Compare(varianceOf(plannedQuantity, plannedPrice, actualQuantity, actualPrice))
		if err != nil {
			t.Fatal(err)
		}
		exact := actualQuantity.Times(actualPrice).Minus(plannedQuantity.Times(plannedPrice)).Cents()
		if got.Price+got.Quantity != got.Total || got.Total != exact {
			t.Fatalf("%s + %s = %s, the costs differ by %s", got.Price, got.Quantity, got.Total, exact)
		}
	})
}

func TestNothingPlannedOrUsedStillHasAVariance(t *testing.T) {
	zero, two := money.Whole(0), money.Whole(2)
	if got, err := Compare(varianceOf(zero, two, two, two)); err != nil || got.Quantity != 400 {
		t.Errorf("nothing planned: %+v, %v", got, err)
	}
	if got, err := Compare(varianceOf(two, two, zero, zero)); err != nil || got.Total != -400 {
		t.Errorf("nothing used: %+v, %v", got, err)
	}
}

func TestWrongVarianceInputsAreNamed(t *testing.T) {
	one, below, huge := money.Whole(1), money.Whole(-1), money.Whole(mostPlain)
	for field, in := range map[string]VarianceIn{
		"planned_quantity": varianceOf(below, one, one, one),
		"planned_price":    varianceOf(one, below, one, one),
		"actual_quantity":  varianceOf(one, one, huge.Plus(one), one),
		"actual_price":     varianceOf(one, one, huge, huge),
	} {
		if _, err := Compare(in); fault.Fields(err)[field] == "" {
			t.Errorf("want %s refused, got %v", field, err)
		}
	}
	if _, err := Compare(varianceOf(huge, huge, one, one)); fault.Fields(err)["planned_price"] == "" {
		t.Errorf("too large a plan: %v", err)
	}
}

func TestTheWorkingOfAVariance(t *testing.T) {
	got, err := Compare(varianceOf(money.Whole(430), money.MustFactor("6.9"), money.Whole(450), money.MustFactor("6.5")))
	if err != nil {
		t.Fatal(err)
	}
	steps := got.Working()
	if len(steps) != 3 || steps[0].Formula != "(6.5 − 6.9) × 450" || steps[0].Value.String() != "−180.00" || steps[2].Value.String() != "−42.00" {
		t.Errorf("%+v", steps)
	}
}
