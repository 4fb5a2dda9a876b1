package bill

import (
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/money"
	"rowtally/internal/published"
)

// Published prices with GST in them come apart as printed (testdata/gst_rounding.csv).
func TestPublishedInclusivePrices(t *testing.T) {
	seen := 0
	for _, r := range published.Rows(t, "gst_rounding.csv") {
		if r.Text("price_basis") != "incl" {
			continue
		}
		seen++
		line := Line{Quantity: money.Whole(1), UnitPrice: factorIn(t, r, "line_amounts"), Taxed: taxed("S", r.Text("rate_percent"))}
		got, err := WorkOut(TotalsIn{Lines: []Line{line}, Inclusive: true})
		if err != nil || got.TotalIncl != factorIn(t, r, "line_amounts").Cents() || got.TotalExcl != factorIn(t, r, "taxable_excl").Cents() || got.TotalTax != factorIn(t, r, "gst_total_invoice_rule").Cents() {
			t.Errorf("%s: %s without, %s tax, %s with, %v", r.Name, got.TotalExcl, got.TotalTax, got.TotalIncl, err)
		}
	}
	if seen < 4 {
		t.Fatalf("%d rows of inclusive prices", seen)
	}
}

// Whatever the lines, prices with tax add up to what was asked, and each rate's tax is what
// the rate says of the rest, to the cent that taking it out may leave.
func TestInclusiveTotalsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := TotalsIn{Inclusive: true}
		for range rapid.IntRange(1, 8).Draw(t, "lines") {
			percent := rapid.SampledFrom([]string{"0", "5", "10", "12.5", "15"}).Draw(t, "percent")
			in.Lines = append(in.Lines, line(rapid.SampledFrom([]string{"1", "24.8", "-3", "0.375"}).Draw(t, "quantity"),
				money.Cents(rapid.IntRange(0, 1_000_000).Draw(t, "price")).String(), "S", percent))
		}
		got, err := WorkOut(in)
		if err != nil {
			t.Fatal(err)
		}
		if got.TotalExcl+got.TotalTax != got.TotalIncl || got.TotalIncl != got.SumOfLines {
			t.Fatalf("%s + %s is not %s, the lines come to %s", got.TotalExcl, got.TotalTax, got.TotalIncl, got.SumOfLines)
		}
		for _, row := range got.Tax {
			if off := row.Taxable.Factor().Percent(row.TaxPercent.Factor).Cents() - row.Tax; off < -1 || off > 1 {
				t.Fatalf("%s at %s %% bears %s", row.Taxable, row.TaxPercent, row.Tax)
			}
		}
	})
}

// An invoice with inclusive prices is sent without the tax in them: every line is its price
// for its whole quantity, and the lines add up to what is taxable.
func TestAnInclusiveInvoiceAsUBL(t *testing.T) {
	p := ublSample()
	p.Inclusive = true
	totals, err := TotalsOf(p.Lines, true)
	if err != nil {
		t.Fatal(err)
	}
	p.NetTotal, p.TaxTotal, p.Total = totals.TotalExcl, totals.TotalTax, totals.TotalIncl
	written, err := UBL(p)
	if err != nil {
		t.Fatal(err)
	}
	r := readBack(t, written)
	var lines money.Cents
	for i, l := range r.Lines {
		if l.Price.cents() != l.Net.cents() || l.Base.Text != p.Lines[i].Quantity.String() {
			t.Errorf("line %d: %s for %s, net %s", i+1, l.Price.Text, l.Base.Text, l.Net.Text)
		}
		lines += l.Net.cents()
	}
	if lines != r.Sums.Lines.cents() || lines != p.NetTotal || r.Sums.Inclusive.cents() != p.Total || r.Tax.cents() != p.TaxTotal {
		t.Errorf("lines %s, sums %+v, tax %s", lines, r.Sums, r.Tax.Text)
	}
	// 380 + 2 604.00 + 563.58 hold 10 % of tax: a line of 380.00 is 345.45 without it.
	if r.Lines[0].Net.Text != "345.45" || p.Total.String() != "3547.58" || p.TaxTotal.String() != "322.51" {
		t.Errorf("first line %s of %s with %s tax", r.Lines[0].Net.Text, p.Total, p.TaxTotal)
	}
}
