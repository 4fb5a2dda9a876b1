package paper_test

import (
	"regexp"
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// holds checks that a paper's text says each of some things; runs of spaces count as one.
func holds(t *testing.T, text string, wanted ...string) {
	t.Helper()
	flat := strings.Join(strings.Fields(text), " ")
	for _, want := range wanted {
		if !strings.Contains(flat, want) {
			t.Errorf("the paper does not say %q:\n%s", want, text)
		}
	}
}

func lacks(t *testing.T, text string, unwanted ...string) {
	t.Helper()
	for _, word := range unwanted {
		if strings.Contains(strings.ToLower(text), strings.ToLower(word)) {
			t.Errorf("the paper says %q:\n%s", word, text)
		}
	}
}

// What an Australian tax invoice must let its reader work out: that it is one, whose, the
// ABN, the date of issue, what was done, how much of it and at what price, the GST; and
// the buyer, which from $1,000 it must name.
func TestTaxInvoiceSaysWhatTheLawAsks(t *testing.T) {
	p := invoice()
	pdf, err := press(t).Invoice(p)
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "Tax invoice", "T2026-0007", "date of issue 20 Jul 2026",
		"Samphire Row Seeding (demo)", "ABN 51 824 753 556", "Brackwater Flat", "Lot 9 Example Lane",
		"Mounding and sowing, twin rows 2.0 m apart 24.0 row-km 105.00 2,520.00",
		"24.0 row-km 22.725 545.40", "1 h 165.00 165.00",
		"total ex GST 4,309.20", "GST 10 % 430.92", "Total incl. GST $4,740.12",
		"by 3 Aug 2026", "BSB 000-000", "T2026-0007-4", "Each row counted, from the GPS log", "page 1 of 1")
	lacks(t, text, "provisional", "DRAFT", "I agree", "No GST")
}

func TestInvoiceOfAnIssuerNotRegisteredChargesNoTax(t *testing.T) {
	p := invoice()
	p.Registered = false
	pdf, err := press(t).Invoice(totalled(p, p.Lines...))
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "Invoice", "No GST has been charged.", "Total $4,309.20")
	lacks(t, text, "Tax invoice", "ex GST", "incl. GST", "GST 10 %")
}

func TestQuoteSaysWhatIsProvisionalAndPromisesNoPlants(t *testing.T) {
	pdf, err := press(t).Quote(quote())
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "Quote", "Q2026-0012", "revision 2", "valid until 19 Aug 2026", "24.8 row-km",
		"Total incl. GST $4,860.70", "tested 10 Feb 2026", "How many plants come up is not part of this price.",
		"I agree to quote Q2026-0012, revision 2, of $4,860.70 incl. GST.", "name signature date",
		"provisional lines are billed by the row-km really sown")
	lacks(t, text, "tax invoice", "DRAFT")
	if got := strings.Count(text, "provisional") - 1; got != 3 {
		t.Errorf("%d lines are marked provisional, 3 go by the row-km", got)
	}
}

func TestDraftIsPlainlyOneAndBindsNobody(t *testing.T) {
	pr, q, inv := press(t), quote(), invoice()
	q.Number, inv.Number = "", ""
	pdf, err := pr.Quote(q)
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "Quote", "DRAFT – not issued", "$4,860.70")
	lacks(t, text, "I agree", "signature")
	pdf, err = pr.Invoice(inv)
	text = textOf(t, printed(t, pdf, err))
	holds(t, text, "DRAFT – not issued", "$4,740.12")
	lacks(t, text, "To pay", "BSB")
}

// Lines taxed unlike the common ones say so, each by itself, as a paper taxable in part must.
func TestLinesOfOtherTaxAreMarked(t *testing.T) {
	p := invoice()
	p.Lines[1].TaxCategory, p.Lines[1].TaxPercent = "Z", money.Whole(0)
	p.Lines[5].TaxCategory, p.Lines[5].TaxPercent = "E", money.Whole(0)
	pdf, err := press(t).Invoice(p)
	holds(t, textOf(t, printed(t, pdf, err)), "GST-free", "input taxed, no GST", "GST 10 %")
}

// The amounts are taken out of the text again and added up.
func TestMoneyReadsBackAndAddsUp(t *testing.T) {
	for name, p := range map[string]bill.Paper{"six lines": invoice(), "sixty lines": long(60)} {
		pdf, err := press(t).Invoice(p)
		text := textOf(t, printed(t, pdf, err))
		lines := regexp.MustCompile(`(?m)(?:each|km|h) +[\d.,]+ +([\d,]+\.\d\d)$`).FindAllStringSubmatch(text, -1)
		if len(lines) != len(p.Lines) {
			t.Fatalf("%s: %d amounts read back from %d lines", name, len(lines), len(p.Lines))
		}
		sum := money.Factor{}
		for i, line := range lines {
			amount := money.MustFactor(strings.ReplaceAll(line[1], ",", ""))
			if amount.Cents() != p.Lines[i].Net {
				t.Errorf("%s: line %d reads %s, its net is %s", name, i+1, line[1], p.Lines[i].Net)
			}
			sum = sum.Plus(amount)
		}
		for label, want := range map[string]money.Cents{`total ex GST`: sum.Cents(), `GST 10 %`: p.TaxTotal, `Total incl\. GST`: p.Total} {
			read := regexp.MustCompile(label + ` +\$?([\d,]+\.\d\d)`).FindStringSubmatch(text)
			if read == nil || money.MustFactor(strings.ReplaceAll(read[1], ",", "")).Cents() != want {
				t.Errorf("%s: %s reads %v, want %s", name, label, read, want)
			}
		}
	}
}

func TestPapersThatCannotBeRightAreNotPrinted(t *testing.T) {
	pr := press(t)
	for name, spoil := range map[string]func(*bill.Paper){
		"totals that do not add up":         func(p *bill.Paper) { p.Total++ },
		"a tax by an issuer not registered": func(p *bill.Paper) { p.Registered = false },
		"another kind":                      func(p *bill.Paper) { p.Kind = bill.Quote },
		"an unreadable picture":             func(p *bill.Paper) { p.Map = `{"outline":[[["a"]]]}` },
	} {
		p := invoice()
		spoil(&p)
		if pdf, err := pr.Invoice(p); err == nil {
			t.Errorf("%s: printed %d bytes", name, len(pdf))
		}
	}
}
