package job

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// nets are the lines' amounts as papers print them.
func nets(p bill.Paper) (out []string) {
	for _, line := range p.Lines {
		out = append(out, line.Net.Shown())
	}
	return out
}

// Worked by hand: 105.00, 20.29 x 1.12 and 15 x 0.62 to the row-km, over 24.8 and 24.0 of
// them, beside 380.00, 164 x 2.90 and 165.00; a tenth of the sum as tax.
func TestAQuoteAndItsInvoiceLineByLine(t *testing.T) {
	f := sceneOf(t, 24.8)
	if seedLine := money.MustFactor("20.29").Times(money.MustFactor("1.12")); seedLine.Compare(f.Rates[3].UnitPrice) != 0 {
		t.Fatalf("20.29 and 12 %% handling are %s, not %s", seedLine, f.Rates[3].UnitPrice)
	}
	quote, err := QuoteDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	sameText(t, "quote", nets(quote), "380.00", "475.60", "2,604.00", "563.58", "230.64", "165.00")
	sameText(t, "quote", []string{quote.NetTotal.Shown(), quote.TaxTotal.Shown(), quote.Total.Shown()}, "4,418.82", "441.88", "4,860.70")
	f = f.quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03").logged(24.0)
	invoice, err := InvoiceDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	sameText(t, "invoice", nets(invoice), "380.00", "475.60", "2,520.00", "545.40", "223.20", "165.00")
	sameText(t, "invoice", []string{invoice.NetTotal.Shown(), invoice.TaxTotal.Shown(), invoice.Total.Shown()}, "4,309.20", "430.92", "4,740.12")
	if d := quote.Total - invoice.Total; d.Shown() != "120.58" {
		t.Errorf("the two are %s apart, want 120.58", d.Shown())
	}
	if invoice.AnswersID != 1 || invoice.UntilOn != today.Plus(14) || quote.UntilOn != today.Plus(30) || invoice.Heading() != "Tax invoice" {
		t.Errorf("the invoice answers %d, due %s, headed %s", invoice.AnswersID, invoice.UntilOn, invoice.Heading())
	}
}

func sameText(t *testing.T, what string, got []string, want ...string) {
	t.Helper()
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// The agreed prices are billed, whatever the rates say since.
func TestAnInvoiceFollowsTheAgreedQuote(t *testing.T) {
	f := sceneOf(t, 24.8).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03").logged(24.0)
	f.Rates = []bill.Rate{rate("Something else", "each", "1", "9999.00")}
	f = f.quoted(t, 2, "2026-07-10") // a revision that nobody said yes to
	invoice, err := InvoiceDraft(f)
	if err != nil || invoice.AnswersID != 1 || invoice.Total.Shown() != "4,740.12" {
		t.Errorf("the invoice answers %d over %s, %v; want 1 over 4,740.12", invoice.AnswersID, invoice.Total.Shown(), err)
	}
}

func TestAPaperThatCannotBeMadeSaysWhy(t *testing.T) {
	agreed := func(f Facts) Facts { return f.quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03") }
	for _, c := range []struct {
		what  string
		facts Facts
		draft func(Facts) (bill.Paper, error)
		says  string
	}{
		{"no rates", func(f Facts) Facts { f.Rates = nil; return f }(sceneOf(t, 24)), QuoteDraft, "There are no rates yet"},
		{"no rows", func(f Facts) Facts { f.Layout = nil; return f }(sceneOf(t, 24)), QuoteDraft, "The rows are not laid yet"},
		{"no boundary", func(f Facts) Facts { f.Paddock.Boundary = ""; return f }(sceneOf(t, 24)), QuoteDraft, "No boundary of Bore is read yet"},
		{"no yes", sceneOf(t, 24).quoted(t, 1, "2026-07-01").logged(24), InvoiceDraft, "No quote of this job is agreed yet"},
		{"no log", agreed(sceneOf(t, 24)), InvoiceDraft, "Nothing is measured yet"},
		{"billed", func(f Facts) Facts {
			f.Papers = append(f.Papers, bill.Paper{ID: 2, Kind: bill.Invoice, Number: "T2026-0001"})
			return f
		}(agreed(sceneOf(t, 24)).logged(24)), InvoiceDraft, "Invoice T2026-0001 has billed this job already"},
	} {
		if _, err := c.draft(c.facts); fault.KindOf(err) != fault.Clash || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.what, err, c.says)
		}
	}
}

// What is billed is what is covered, to the ten metres that papers state.
func TestBilledRowKmAreTheCoveredOnesToTenMetres(t *testing.T) {
	f := sceneOf(t, 34.9).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03")
	rapid.Check(t, func(t *rapid.T) {
		covered := rapid.Float64Range(0, 34_900).Draw(t, "covered, m")
		invoice, err := InvoiceDraft(f.logged(covered / 1000))
		if err != nil {
			t.Fatal(err)
		}
		want := money.FactorOf(covered/1000, 2)
		sum := money.Cents(0)
		for _, line := range invoice.Lines {
			if line.Basis == bill.RowKm && line.Quantity.Compare(want) != 0 {
				t.Fatalf("%v m covered, billed as %s row-km", covered, line.Quantity)
			}
			if net := line.Quantity.Times(line.UnitPrice).Cents(); net != line.Net {
				t.Fatalf("%s x %s is %s, the line says %s", line.Quantity, line.UnitPrice, net, line.Net)
			}
			sum += line.Net
		}
		if off := 1000*want.Float() - covered; off > 5.0001 || off < -5.0001 {
			t.Fatalf("%v m covered are %s row-km on the paper", covered, want)
		}
		if invoice.NetTotal != sum || invoice.Total != invoice.NetTotal+invoice.TaxTotal {
			t.Fatalf("lines of %s, sum %s, tax %s, total %s", sum, invoice.NetTotal, invoice.TaxTotal, invoice.Total)
		}
	})
}

func TestABusinessThatIsNotRegisteredChargesNoTax(t *testing.T) {
	for what, f := range map[string]Facts{
		"not registered":        func(f Facts) Facts { f.Business.Registered = false; return f }(sceneOf(t, 24.8)),
		"registered from later": func(f Facts) Facts { f.Business.RegisteredOn = today.Plus(1); return f }(sceneOf(t, 24.8)),
	} {
		f = f.quoted(t, 1, today).agreed(1, today).logged(24.0)
		quote, _ := f.Quote()
		invoice, err := InvoiceDraft(f)
		if err != nil {
			t.Fatal(err)
		}
		sameText(t, what, []string{quote.TaxTotal.Shown(), quote.Total.Shown(), invoice.TaxTotal.Shown(), invoice.Total.Shown(), invoice.Heading()},
			"0.00", "4,418.82", "0.00", "4,309.20", "Invoice")
		for _, line := range invoice.Lines {
			if line.TaxCategory != "O" || line.TaxPercent.Sign() != 0 {
				t.Errorf("%s: %s is taxed %s %s %%", what, line.Description, line.TaxCategory, line.TaxPercent)
			}
		}
	}
}

func TestMoneyIsWrittenInTheBusinessesCurrency(t *testing.T) {
	for _, c := range []struct {
		currency string
		cents    money.Cents
		want     string
	}{
		{"AUD", 486_070, "$4,860.70"}, {"NZD", 5, "$0.05"}, {"", 100, "$1.00"}, {"AUD", -12_058, "−$120.58"},
		{"EUR", 486_070, "EUR 4,860.70"}, {"ZAR", -100, "−ZAR 1.00"},
	} {
		if got := (Business{Currency: c.currency}).Money(c.cents); got != c.want {
			t.Errorf("%d of %q: %q, want %q", c.cents, c.currency, got, c.want)
		}
	}
	if got := (Business{Currency: "EUR"}).Price(money.MustFactor("0.62"), 4); got != "EUR 0.6200" {
		t.Errorf("a price reads %q", got)
	}
}

// Papers say how the row-km were measured, and what is not promised.
func TestAPaperSaysWhatItRestsOn(t *testing.T) {
	f := sceneOf(t, 24.8)
	quote, err := QuoteDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(quote.Basis, "headland of 7 m left out") || !strings.Contains(quote.Basis, "The invoice follows the row-km really sown") {
		t.Errorf("the quote rests on %q", quote.Basis)
	}
	var says []string
	for _, p := range quote.Particulars {
		says = append(says, p.Heading+": "+p.Text)
	}
	for _, want := range []string{"Layout: 2 rows 2 m apart to a belt, alley 12 m, along 0° true; a placement every 3 m.", "D26-01 Atriplex nummularia, tested 10 Feb 2026 at 34", "Not promised: "} {
		if !strings.Contains(strings.Join(says, "\n"), want) {
			t.Errorf("the quote does not state %q: %q", want, says)
		}
	}
	if _, drawn, err := ReadMap(quote.Map); !drawn || err != nil {
		t.Errorf("the quote has no map: %v", err)
	}
	f = f.quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03").logged(24.0)
	f.Sown.DoubledM = 1234
	invoice, err := InvoiceDraft(f)
	if err != nil || !strings.Contains(invoice.Basis, "24.00 of 24.80 row-km covered. 1.23 row-km were passed over twice and are not counted again.") {
		t.Errorf("the invoice rests on %q, %v", invoice.Basis, err)
	}
	if len(invoice.Particulars) != 1 || !strings.Contains(invoice.Particulars[0].Text, "Quote Q2026-0001, revision 1, of 1 Jul 2026, agreed by the manager on 3 Jul 2026.") {
		t.Errorf("the invoice states %+v", invoice.Particulars)
	}
}
