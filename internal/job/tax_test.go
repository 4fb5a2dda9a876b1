package job

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// laterInvoice is the invoice of the scene, agreed ten days before, after a change of the
// business.
func laterInvoice(t *testing.T, f Facts, change func(*Business)) bill.Paper {
	t.Helper()
	f = f.quoted(t, 1, today).agreed(1, today).logged(24.0)
	f.Today = today.Plus(10)
	change(&f.Business)
	invoice, err := InvoiceDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	return invoice
}

func gstSays(p bill.Paper) string {
	for _, one := range p.Particulars {
		if one.Heading == "GST" {
			return one.Text
		}
	}
	return ""
}

// Registered between the quote and the invoice: the farmer owes what was agreed and not a
// cent more, and 1/11 of it is tax (4 309.20 / 11 = 391.745…).
func TestRegisteringBetweenQuoteAndInvoiceRaisesNoPrice(t *testing.T) {
	f := sceneOf(t, 24.8)
	f.Business.Registered = false
	p := laterInvoice(t, f, func(b *Business) { b.Registered, b.RegisteredOn = true, today.Plus(5) })
	sameText(t, "invoice", []string{p.Heading(), p.NetTotal.Shown(), p.TaxTotal.Shown(), p.Total.Shown()}, "Tax invoice", "3,917.45", "391.75", "4,309.20")
	if !p.Inclusive || !strings.Contains(gstSays(p), "does not rise") || p.AddsUp() != nil {
		t.Errorf("inclusive %v, says %q, %v", p.Inclusive, gstSays(p), p.AddsUp())
	}
	for _, l := range p.Lines {
		if l.TaxCategory != "S" || l.TaxPercent.Compare(money.Whole(10)) != 0 {
			t.Errorf("%s is taxed %s %s %%", l.Description, l.TaxCategory, l.TaxPercent)
		}
	}
}

func TestLeavingTheTaxBetweenQuoteAndInvoiceChargesNone(t *testing.T) {
	p := laterInvoice(t, sceneOf(t, 24.8), func(b *Business) { b.Registered = false })
	sameText(t, "invoice", []string{p.Heading(), p.TaxTotal.Shown(), p.Total.Shown()}, "Invoice", "0.00", "4,309.20")
	if !strings.Contains(gstSays(p), "none is charged") {
		t.Errorf("says %q", gstSays(p))
	}
}

// A rate that moves between the quote and the invoice: prices without tax stand and the tax
// follows the day of the invoice, from its first day on and not before.
func TestTheTaxFollowsTheDayOfThePaper(t *testing.T) {
	for on, want := range map[unit.Date]string{today.Plus(10): "538.65", today.Plus(11): "430.92"} { // 12.5 and 10 % of 4 309.20
		p := laterInvoice(t, sceneOf(t, 24.8), func(b *Business) {
			b.TaxRates = []bill.TaxRate{{FromOn: on, Percent: money.MustFactor("12.5")}}
		})
		if p.TaxTotal.Shown() != want || p.NetTotal.Shown() != "4,309.20" || strings.Contains(gstSays(p), "10 % to 12.5 %") != (want == "538.65") {
			t.Errorf("from %s: %s of tax on %s, says %q", on, p.TaxTotal.Shown(), p.NetTotal.Shown(), gstSays(p))
		}
	}
}

// Quoted with the tax in the prices: the total is the sum of the lines on both papers.
func TestPricesWithTheTaxInThem(t *testing.T) {
	f := sceneOf(t, 24.8)
	f.Business.PricesInclude = true
	quote, err := QuoteDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	// 4 418.82 / 11 = 401.710…
	sameText(t, "quote", []string{quote.NetTotal.Shown(), quote.TaxTotal.Shown(), quote.Total.Shown()}, "4,017.11", "401.71", "4,418.82")
	p := laterInvoice(t, f, func(b *Business) { b.PricesInclude = false })
	sameText(t, "invoice", []string{p.NetTotal.Shown(), p.TaxTotal.Shown(), p.Total.Shown()}, "3,917.45", "391.75", "4,309.20")
	if !p.Inclusive || gstSays(p) != "" {
		t.Errorf("inclusive %v, says %q", p.Inclusive, gstSays(p))
	}
}
