package job

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/published"
)

// The published pairs of mark-up and margin, each a price for a job of which only others'
// work is costed, at the row's own cost.
func TestPublishedMarkupsAndMarginsPriceAJob(t *testing.T) {
	for _, row := range published.Rows(t, "markup_margin.csv") {
		f := sceneOf(t, 24)
		f.Recipe, f.Business.Registered = nil, false
		f.Costs.Costing = &Costing{JobID: 3, Others: []OthersWork{{What: "spraying", Quantity: money.Whole(1), Unit: "each", UnitPrice: money.MustFactor(row.Text("cost"))}}}
		for way, percent := range map[PriceWay]string{ByMarkup: row.Text("markup_pct"), ByMargin: row.Text("margin_pct")} {
			rates, err := RatesFromCost(f, way, money.MustFactor(percent))
			if err != nil {
				t.Fatalf("%s %% %s: %v", percent, way, err)
			}
			p := bill.Paper{Lines: PriceLines(rates, nil, f.Business.TaxingOn(f.Today))}
			if _, err := p.AddUp(); err != nil {
				t.Fatal(err)
			}
			want := money.MustFactor(row.Text("price")).Cents()
			if off := p.NetTotal - want; off < -1 || off > 1 { // the table prints its percentages to four decimals
				t.Errorf("%s at %s %% %s: %s, want %s (%s)", row.Text("cost"), percent, way, p.NetTotal, want, row.Text("source"))
			}
			m, err := MarkedAt(f, want)
			if err != nil || !closeTo(m.MarkupPercent, row.Text("markup_pct")) || !closeTo(m.MarginPercent, row.Text("margin_pct")) {
				t.Errorf("%s for %s: mark-up %s, margin %s, %v", row.Text("price"), row.Text("cost"), m.MarkupPercent, m.MarginPercent, err)
			}
		}
	}
}

// closeTo allows what a price of whole cents moves a percentage by.
func closeTo(got money.Factor, want string) bool {
	off := got.Minus(money.MustFactor(want)).Float()
	return off < 0.01 && off > -0.01
}

// The lines come to the cost with its mark-up, but for what four decimals by the row-km leave.
func TestLinesFromCostComeToTheCostAndItsMarkup(t *testing.T) {
	f := costed(t)
	cost, err := CostOf(f)
	if err != nil {
		t.Fatal(err)
	}
	f.Rates, err = RatesFromCost(f, ByMarkup, money.Whole(25))
	if err != nil || len(f.Rates) < 3 {
		t.Fatalf("%d lines, %v", len(f.Rates), err)
	}
	p, err := QuoteDraft(f)
	want, _ := money.PriceAtMarkup(cost.Total.Factor(), money.Whole(25))
	if off := p.NetTotal - want; err != nil || off < -5 || off > 5 {
		t.Errorf("the lines come to %s for a cost of %s, want %s; %v", p.NetTotal, cost.Total, want, err)
	}
	m, err := MarkedAt(f, p.NetTotal)
	if says := m.Says(f.Business); err != nil || !strings.Contains(says, "mark-up is 25.0 % of the cost, and the margin 20.0 % of the price") {
		t.Errorf("%s, %v", says, err)
	}
}

// Where prices are stated with the tax in them, the lines hold it on top of the same price.
func TestLinesFromCostHoldTheTaxWherePricesDo(t *testing.T) {
	f := costed(t)
	f.Business.PricesInclude = true
	cost, err := CostOf(f)
	if err != nil {
		t.Fatal(err)
	}
	if f.Rates, err = RatesFromCost(f, ByMargin, money.Whole(20)); err != nil {
		t.Fatal(err)
	}
	p, err := QuoteDraft(f)
	want, _ := money.PriceAtMargin(cost.Total.Factor(), money.Whole(20))
	if off := p.NetTotal - want; err != nil || !p.Inclusive || off < -5 || off > 5 {
		t.Errorf("the lines come to %s without tax, want %s; %v", p.NetTotal, want, err)
	}
}

func TestAPriceThatNoCostCanHaveIsRefused(t *testing.T) {
	f := costed(t)
	for _, c := range []struct {
		way     PriceWay
		percent string
		says    string
	}{{ByMargin, "100", "no price is high enough"}, {ByMargin, "150", "no price is high enough"}, {ByMarkup, "-1", "below the cost"}, {ByMargin, "-0.1", "below the cost"}, {ByMarkup, "1001", "more than anybody adds"}} {
		if _, err := RatesFromCost(f, c.way, money.MustFactor(c.percent)); !strings.Contains(fault.Fields(err)["percent"], c.says) {
			t.Errorf("%s %% %s: %v", c.percent, c.way, err)
		}
	}
	f.Recipe, f.Costs.Costing, f.Costs.Rates = nil, nil, CostRates{}
	if _, err := RatesFromCost(f, ByMarkup, money.Whole(10)); fault.KindOf(err) != fault.Clash {
		t.Errorf("a cost of nothing: %v", err)
	}
	if _, err := MarkedAt(f, 100); fault.KindOf(err) != fault.Clash {
		t.Errorf("a price on a cost of nothing: %v", err)
	}
}
