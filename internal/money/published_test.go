package money_test

import (
	"strings"
	"testing"

	"rowtally/internal/money"
	"rowtally/internal/published"

	"pgregory.net/rapid"
)

func factor(t *testing.T, r published.Row, column string) money.Factor {
	t.Helper()
	f, err := money.ParseFactor(r.Text(column))
	if err != nil {
		t.Fatalf("%s, %s: %v", r.Name, column, err)
	}
	return f
}

func TestPublishedInclusivePricesPartIntoPriceAndTax(t *testing.T) {
	seen := 0
	for _, r := range published.Rows(t, "gst_rounding.csv") {
		if r.Text("price_basis") != "incl" {
			continue
		}
		seen++
		exclusive, tax := money.SplitInclusive(factor(t, r, "line_amounts").Cents(), factor(t, r, "rate_percent"))
		if exclusive != factor(t, r, "taxable_excl").Cents() || tax != factor(t, r, "gst_total_invoice_rule").Cents() {
			t.Errorf("%s: %s and %s", r.Name, exclusive, tax)
		}
	}
	if seen < 4 {
		t.Fatalf("%d inclusive rows", seen)
	}
}

// A per-line system rounds each line's tax to cents, halves up (published telephone bill).
func TestPublishedTaxPerLineRoundsHalvesUp(t *testing.T) {
	seen := 0
	for _, r := range published.Rows(t, "gst_rounding.csv") {
		if r.Text("price_basis") != "per line" {
			continue
		}
		seen++
		if got, want := factor(t, r, "gst_unrounded").Cents(), factor(t, r, "gst_total_invoice_rule").Cents(); got != want {
			t.Errorf("%s: %s, want %s", r.Name, got, want)
		}
	}
	if seen < 2 {
		t.Fatalf("%d per-line rows", seen)
	}
}

func TestInclusivePartsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inclusive := money.Cents(rapid.Int64Range(-1e13, 1e13).Draw(t, "inclusive"))
		percent := money.Whole(rapid.Int64Range(0, 40).Draw(t, "percent"))
		exclusive, tax := money.SplitInclusive(inclusive, percent)
		if exclusive+tax != inclusive {
			t.Fatalf("%s + %s is not %s", exclusive, tax, inclusive)
		}
		again := exclusive.Factor().Percent(percent).Cents()
		if off := again - tax; off < -1 || off > 1 {
			t.Fatalf("%s at %s %%: tax %s, worked back %s", inclusive, percent, tax, again)
		}
	})
}

func TestPublishedCashRounding(t *testing.T) {
	for _, r := range published.Rows(t, "cash_rounding.csv") {
		last := money.Cents(r.Number("last_digit_cents"))
		to, _, _ := strings.Cut(r.Text("rounds_to"), " ")
		want := money.MustFactor(to + ".00").Times(money.MustFactor("0.01")).Cents()
		for _, tens := range []money.Cents{0, 10, 4860_70} {
			if got := money.CashRounded(tens + last); got != tens+want {
				t.Errorf("%s: %s is paid as %s, want %s", r.Name, tens+last, got, tens+want)
			}
			if got := money.CashRounded(-tens - last); got != -tens-want {
				t.Errorf("%s: a refund of %s is paid as %s", r.Name, tens+last, got)
			}
		}
	}
}

func TestPublishedMarkupsAndMargins(t *testing.T) {
	for _, r := range published.Rows(t, "markup_margin.csv") {
		cost, price := factor(t, r, "cost"), factor(t, r, "price")
		byMarkup, err := money.PriceAtMarkup(cost, factor(t, r, "markup_pct"))
		if err != nil || byMarkup != price.Cents() {
			t.Errorf("%s: price at mark-up %s, %v", r.Name, byMarkup, err)
		}
		byMargin, err := money.PriceAtMargin(cost, factor(t, r, "margin_pct"))
		if err != nil || byMargin != price.Cents() {
			t.Errorf("%s: price at margin %s, %v", r.Name, byMargin, err)
		}
		if price.Compare(money.MustFactor("133.33")) == 0 {
			continue // printed to the cent: a third cannot be worked back from it to four decimals
		}
		markup, err := money.MarkupPercent(cost, price)
		if err != nil || markup.Compare(factor(t, r, "markup_pct")) != 0 {
			t.Errorf("%s: mark-up %s, %v", r.Name, markup, err)
		}
		margin, err := money.MarginPercent(cost, price)
		if err != nil || margin.Compare(factor(t, r, "margin_pct")) != 0 {
			t.Errorf("%s: margin %s, %v", r.Name, margin, err)
		}
	}
}

func TestMarkupsAndMarginsOfNothingAreRefused(t *testing.T) {
	if p, err := money.PriceAtMargin(money.Whole(50), money.Whole(100)); err == nil {
		t.Errorf("a margin of 100 %% gives the price %s", p)
	}
	if p, err := money.PriceAtMargin(money.Whole(50), money.Whole(150)); err == nil {
		t.Errorf("a margin of 150 %% gives the price %s", p)
	}
	if m, err := money.MarkupPercent(money.Whole(0), money.Whole(5)); err == nil {
		t.Errorf("a mark-up of %s on nothing", m)
	}
	if m, err := money.MarginPercent(money.Whole(5), money.Whole(0)); err == nil {
		t.Errorf("a margin of %s in nothing", m)
	}
	if p, err := money.PriceAtMarkup(money.Whole(1e12), money.Whole(100)); err == nil {
		t.Errorf("too large a price is taken: %s", p)
	}
}

func FuzzParseFactor(f *testing.F) {
	for _, seed := range []string{"12.50", "-0.0009", ".-5", "1e9", "9999999999999999999999999999999999999999", "−5"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		first, err := money.ParseFactor(text)
		if err != nil {
			return
		}
		again, err := money.ParseFactor(first.String())
		if err != nil || again.Compare(first) != 0 {
			t.Fatalf("%q is read as %s and then as %s, %v", text, first, again, err)
		}
	})
}
