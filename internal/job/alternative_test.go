package job

import (
	"slices"
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// offeredIn is the scene with alternative B, alleys of 20 m, and C, rows at 200.00 and one
// species.
func offeredIn(t testing.TB) Facts {
	t.Helper()
	f := sceneOf(t, 24.8)
	wider, dearer, one := *f.Layout, slices.Clone(f.Rates), *f.Recipe
	wider.AlleyM = 20
	dearer[2].UnitPrice = money.MustFactor("200.00")
	one.Species = one.Species[1:]
	f.Alternatives = []Alternative{{JobID: 3, Letter: "A", Name: "twin rows"},
		{JobID: 3, Letter: "B", Name: "wider alleys", Layout: &wider}, {JobID: 3, Letter: "C", Name: "one species", Recipe: &one, Rates: dearer}}
	return f
}

// By hand. A: 24.80 row-km as everywhere in these tests. B: belts every 22 m in the 549 m
// between the headlands are 25, with 50 rows of which the first stands nowhere clear, so 49 of
// 24 800 ÷ 79 m: 15.38 row-km, 1 614.90 + 349.51 + 143.03 beside the 1 020.60 that is fixed.
// C: 24.80 row-km at 200.00, 4 960.00 + 563.58 + 230.64 beside it.
func TestEachAlternativeIsLaidAndPricedByItself(t *testing.T) {
	quote, err := QuoteDraft(offeredIn(t))
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][3]string{"A": {"24.80", "4418.82", "4860.70"}, "B": {"15.38", "3128.04", "3440.84"}, "C": {"24.80", "6774.82", "7452.30"}}
	for _, one := range quote.Apart() {
		p := one.Paper
		if got := [3]string{RowKmOf(p.RowM).Fixed(2), p.NetTotal.String(), p.Total.String()}; got != want[one.Letter] {
			t.Errorf("%s comes to %v, want %v", one.Letter, got, want[one.Letter])
		}
	}
	if quote.AddsUp() != nil || quote.Total != 4_860_70 {
		t.Errorf("the quote comes to %s: %v", quote.Total, quote.AddsUp())
	}
	b, c := quote.Alternatives[1], quote.Alternatives[2]
	if !strings.Contains(b.Says, "alley 20 m") || !strings.Contains(b.Says, "Seed as in A. Prices as in A.") {
		t.Errorf("B says %q", b.Says)
	}
	if c.Says != "Rows as in A. Seed of Atriplex undulata. Prices of its own." {
		t.Errorf("C says %q", c.Says)
	}
	if len(b.Lots) != 2 || len(c.Lots) != 1 || b.Lots[0].Grams >= quote.Lots[0].Grams {
		t.Errorf("B rests on %v, C on %v, A on %v", b.Lots, c.Lots, quote.Lots)
	}
	if others := quote.Otherwise(b); len(others) != 0 { // its layout stands in what it says
		t.Errorf("B differs in %v", others)
	}
	if others := quote.Otherwise(c); len(others) != 1 || others[0].Heading != "Seed and tests" {
		t.Errorf("C differs in %v", others)
	}
	spoilt := quote
	spoilt.Alternatives = slices.Clone(quote.Alternatives)
	spoilt.Alternatives[1].Lines = slices.Clone(b.Lines)
	spoilt.Alternatives[1].Lines[2].Net++
	if err := spoilt.AddsUp(); err == nil || !strings.Contains(err.Error(), "alternative B: line 3") {
		t.Errorf("a line of B that does not add up: %v", err)
	}
}

// Nothing adds up over alternatives, and each stands in its own column.
func TestAlternativesSideBySide(t *testing.T) {
	quote, err := QuoteDraft(offeredIn(t))
	if err != nil {
		t.Fatal(err)
	}
	lines := quote.Compared()
	if first := lines[0]; first.Name != "row-km" || !slices.Equal(first.Figures, []string{"24.80", "15.38", "24.80"}) {
		t.Errorf("first %v", first)
	}
	if last := lines[len(lines)-1]; last.Name != "total, AUD incl. GST" || !last.Total || !slices.Equal(last.Figures, []string{"4,860.70", "3,440.84", "7,452.30"}) {
		t.Errorf("last %v", last)
	}
	f := offeredIn(t)
	f.Alternatives[1].Recipe = &Recipe{JobID: 3, ProductID: 9}
	f.Rates = append(f.Rates, bill.Rate{Description: "mixed", Unit: "L", Basis: bill.MixedL, UnitPrice: money.Whole(1), TaxCategory: "S"})
	views, err := f.AlternativeViews()
	if err != nil || views[1].Cannot == "" || views[0].Cannot != "" {
		t.Fatalf("%+v, %v", views, err)
	}
	if figures := bill.CompareAlternatives([]bill.AlternativePaper{views[0].Offer, views[1].Offer}); figures[len(figures)-1].Figures[1] != "–" {
		t.Errorf("what cannot be quoted has a total: %v", figures)
	}
}

// The yes to B: the facts as it makes them bill its rows at its price; a yes to none is refused.
func TestAYesToAnAlternative(t *testing.T) {
	f := offeredIn(t).quoted(t, 1, "2026-07-01")
	quote, _ := f.Quote()
	for _, wrong := range []string{"", "D"} {
		if _, err := quote.AgreedBy(bill.Acceptance{Alternative: wrong}); fault.Fields(err)["alternative"] == "" {
			t.Errorf("a yes to %q: %v", wrong, err)
		}
	}
	if _, err := (bill.Paper{Number: "Q2026-0009"}).AgreedBy(bill.Acceptance{Alternative: "B"}); fault.Fields(err)["alternative"] == "" {
		t.Errorf("a yes to B of a quote that offers one alone: %v", err)
	}
	for letter, net := range map[string]money.Cents{"B": 2_980_05, "C": 6_589_20} { // at 14.30 and 24.00 row-km, by hand as above
		g := f.agreed(1, "2026-07-03")
		g.Acceptances[0].Alternative = letter
		g, err := g.Taking(quote, g.Acceptances[0])
		if err != nil {
			t.Fatal(err)
		}
		g = g.logged(map[string]float64{"B": 14.3, "C": 24}[letter])
		invoice, err := InvoiceDraft(g)
		if err != nil || invoice.NetTotal != net || !strings.Contains(invoice.Particulars[0].Text, "(alternative "+letter+", ") {
			t.Errorf("%s is billed %s, want %s: %v, %q", letter, invoice.NetTotal, net, err, invoice.Particulars[0].Text)
		}
		if says := ChainOf(g).priceLink().Says; !strings.Contains(says, "Q2026-0001 (alternative "+letter) {
			t.Errorf("%s: %q", letter, says)
		}
	}
	kept, err := f.Taking(quote, bill.Acceptance{Alternative: "A"})
	if err != nil || kept.Layout != f.Layout || len(kept.Alternatives) != 3 {
		t.Errorf("a yes to the job as it stands changes it: %v", err)
	}
}

// What the agreed alternative was planned to cost is what the work is measured by.
func TestThePlannedCostOfAnAlternative(t *testing.T) {
	f := offeredIn(t).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03")
	quote, _ := f.Quote()
	f.Costs.Plans = map[int64]Cost{1: {RowM: quote.RowM}}
	for letter, rowM := range map[string]float64{"A": quote.RowM, "B": quote.Alternatives[1].RowM} {
		f.Acceptances[0].Alternative = letter
		if plan, of, err := f.standard(); err != nil || plan.RowM != rowM || !strings.HasPrefix(of, "Q2026-0001") {
			t.Errorf("%s is measured by a plan for %.0f m of %q, want %.0f: %v", letter, plan.RowM, of, rowM, err)
		}
	}
}

func TestEachAlternativesDoubts(t *testing.T) {
	f := offeredIn(t).quoted(t, 1, "2026-07-01")
	quote, _ := f.Quote()
	if doubts := f.Doubts(quote); len(doubts) != 0 {
		t.Errorf("just issued: %q", doubts)
	}
	held := f
	held.Shelf.Lots = slices.Clone(f.Shelf.Lots)
	held.Shelf.Lots[0].HoldReason, held.Shelf.Lots[0].HeldOn = "mice", "2026-07-10"
	if doubts := held.Doubts(quote); len(doubts) != 2 || !strings.HasPrefix(doubts[0], "A: Seed lot D26-01") || !strings.HasPrefix(doubts[1], "B: Seed lot D26-01") {
		t.Errorf("C does not rest on the lot held: %q", doubts)
	}
	fewer := f
	fewer.Alternatives = f.Alternatives[:2]
	if doubts := fewer.Doubts(quote); len(doubts) != 1 || !strings.Contains(doubts[0], "alternatives of the job have changed") {
		t.Errorf("one taken off: %q", doubts)
	}
}

func TestEachAlternativeComesUpToTheLeastCharge(t *testing.T) {
	f := offeredIn(t)
	f.Terms.MinimumCharge = money.MustFactor("4000")
	quote, err := QuoteDraft(f)
	if err != nil || quote.NetTotal != 4_418_82 || quote.Alternatives[1].NetTotal != 4_000_00 || quote.Alternatives[2].NetTotal != 6_774_82 {
		t.Errorf("A %s, B %s, C %s, %v", quote.NetTotal, quote.Alternatives[1].NetTotal, quote.Alternatives[2].NetTotal, err)
	}
}

func TestAlternativesThatCannotBeOffered(t *testing.T) {
	for says, change := range map[string]func(*Facts){
		"B, wider alleys has no rows, mix or prices of its own": func(f *Facts) { f.Alternatives[1].Layout = nil },
		"A and C have the same name":                            func(f *Facts) { f.Alternatives[2].Name = "Twin Rows" },
		"B, wider alleys: no row fits":                          func(f *Facts) { f.Alternatives[1].Layout.HeadlandM = 400 },
	} {
		f := offeredIn(t)
		change(&f)
		if _, err := QuoteDraft(f); err == nil || !strings.Contains(err.Error(), says) || fault.KindOf(err) != fault.Clash {
			t.Errorf("want %q, got %v", says, err)
		}
		if _, err := EstimateDraft(f); err != nil {
			t.Errorf("an estimate is of the job as it stands: %v", err)
		}
	}
}
