package job

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// untaxedScene is the scene with its first line GST-free.
func untaxedScene(t *testing.T) Facts {
	f := sceneOf(t, 24.8)
	f.Rates[0].TaxCategory, f.Rates[0].TaxPercent, f.Rates[0].TaxReason = "Z", money.Factor{}, "a ruling, read on 3 Jul 2026"
	return f
}

func particular(p bill.Paper, heading string) string {
	for _, one := range p.Particulars {
		if one.Heading == heading {
			return one.Text
		}
	}
	return ""
}

// The set-up of 380.00 bears no tax: the tax of the rest is 10 % of 4 418.82 − 380.00. The
// quote, a deposit and the invoice say why, and the least charge is taxed as the taxed lines.
func TestAnUntaxedLineKeepsItsReasonThroughToTheInvoice(t *testing.T) {
	f := untaxedScene(t)
	f.Terms.MinimumCharge = money.MustFactor("5000")
	f = f.quoted(t, 1, today).agreed(1, today).logged(24.8)
	quote := f.Papers[0]
	const says = "Line 1, Set-up and calibration: GST-free: a ruling, read on 3 Jul 2026."
	if particular(quote, "Without GST") != says || quote.Lines[0].TaxReason == "" {
		t.Errorf("the quote says %q", quote.Particulars)
	}
	if quote.TaxTotal != 462_00 || quote.NetTotal != 5000_00 {
		t.Errorf("quoted %s with %s tax", quote.NetTotal, quote.TaxTotal)
	}
	deposit, err := DepositDraft(f, money.Whole(20))
	if err != nil || !strings.Contains(particular(deposit, "Without GST"), "GST-free: a ruling") || deposit.TaxTotal != 92_40 {
		t.Errorf("the deposit says %q and bears %s tax, %v", particular(deposit, "Without GST"), deposit.TaxTotal, err)
	}
	invoice, err := InvoiceDraft(f)
	if err != nil || particular(invoice, "Without GST") != says || invoice.TaxTotal != 462_00 {
		t.Errorf("the invoice says %q and bears %s tax, %v", particular(invoice, "Without GST"), invoice.TaxTotal, err)
	}
}

// A business that is not registered charges no tax at all and says nothing of categories.
func TestAnUnregisteredBusinessSaysNothingOfCategories(t *testing.T) {
	f := untaxedScene(t)
	f.Business.Registered = false
	p := f.quoted(t, 1, today).Papers[0]
	if particular(p, "Without GST") != "" || p.TaxTotal != 0 || p.Lines[0].TaxReason != "" || p.Untaxed(p.Lines[0]) != "" || p.Untaxed(p.Lines[1]) != "" {
		t.Errorf("quoted %+v with %+v", p.Lines[0], p.Particulars)
	}
}

// The rate moves from 10 to 12.5 % between quote and invoice: what is taxed follows, what is
// not stays without tax.
func TestAMovedRateLeavesUntaxedLinesAlone(t *testing.T) {
	p := laterInvoice(t, untaxedScene(t), func(b *Business) {
		b.TaxRates = []bill.TaxRate{{FromOn: today.Plus(5), Percent: money.MustFactor("12.5")}}
	})
	taxed := (p.NetTotal - 380_00).Factor().Percent(money.MustFactor("12.5")).Cents()
	if p.TaxTotal != taxed || p.Lines[0].TaxCategory != "Z" || p.Lines[0].TaxPercent.Sign() != 0 || !strings.Contains(gstSays(p), "from 10 % to 12.5 %") {
		t.Errorf("billed %s with %s tax, want %s; %q", p.NetTotal, p.TaxTotal, taxed, gstSays(p))
	}
}
