package bill

import (
	"slices"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

func TestALineThatIsNotTaxedSaysWhy(t *testing.T) {
	for _, c := range []struct{ category, reason, field string }{
		{"S", "", ""}, {"Z", "a ruling", ""}, {"E", "a ruling", ""}, {"O", "a ruling", ""}, {"G", "a ruling", ""}, {"O", strings.Repeat("ü", 200), ""},
		{"", "", "tax_category"}, {"X", "a ruling", "tax_category"}, {"ZE", "a ruling", "tax_category"},
		{"S", "a ruling", "tax_reason"}, {"Z", "", "tax_reason"}, {"E", " \t", "tax_reason"}, {"O", "", "tax_reason"}, {"Z", strings.Repeat("ü", 201), "tax_reason"},
	} {
		err := Rate{TaxCategory: c.category, TaxReason: c.reason}.CheckTax()
		if _, named := fault.Fields(err)[c.field]; (err != nil) != (c.field != "") || err != nil && !named {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

// untaxedSample is the sample of UBL with its first line in a category without tax.
func untaxedSample(t *testing.T, category, reason string) Paper {
	t.Helper()
	p := ublSample()
	p.Lines[0].TaxCategory, p.Lines[0].TaxPercent, p.Lines[0].TaxReason = category, money.Factor{}, reason
	if _, err := p.AddUp(); err != nil {
		t.Fatal(err)
	}
	return p
}

// A breakdown of category E or O states why (rules BR-E-10 and BR-O-10 of EN 16931), one of
// category Z must not (BR-Z-10): the line says it there. The rules' numbers are from memory.
func TestTheReasonsOfUntaxedLinesAsUBL(t *testing.T) {
	for category, breakdown := range map[string]bool{"Z": false, "E": true, "O": true} {
		p := untaxedSample(t, category, "a ruling, read on 3 Jul 2026")
		written, err := UBL(p)
		if err != nil {
			t.Fatal(err)
		}
		text := string(written)
		if got := strings.Contains(text, "<cbc:TaxExemptionReason>a ruling, read on 3 Jul 2026</cbc:TaxExemptionReason>"); got != breakdown {
			t.Errorf("%s: the breakdown states the reason: %v", category, got)
		}
		line := text[strings.Index(text, "<cac:InvoiceLine>"):]
		if note := strings.Index(line, "<cbc:Note>a ruling, read on 3 Jul 2026</cbc:Note>"); note < strings.Index(line, "<cbc:ID>") || note > strings.Index(line, "<cbc:InvoicedQuantity") {
			t.Errorf("%s: the line's note does not stand between its number and its quantity:\n%s", category, line)
		}
		r := readBack(t, written)
		if len(r.Rows) != 2 || r.Rows[1].ID != category || r.Rows[1].Tax.cents() != 0 || r.Rows[1].Taxable.cents() != 380_00 || r.Sums.Payable.cents() != p.Total {
			t.Errorf("%s: read back as %+v", category, r.Rows)
		}
		if mixed := slices.ContainsFunc(UBLMissing(p), func(s string) bool { return strings.Contains(s, "outside the tax") }); mixed != (category == "O") {
			t.Errorf("%s: missing %q", category, UBLMissing(p))
		}
	}
}

// Two lines of a category are taken off in one, and both their reasons stand with it.
func TestWhatIsTakenOffKeepsItsReasons(t *testing.T) {
	p := untaxedSample(t, "Z", "one ruling")
	more := p.Lines[0]
	more.TaxReason = "another ruling"
	p.Lines = append(p.Lines, more, p.Lines[0])
	var found bool
	for _, l := range TakenOff([]Paper{p}) {
		if l.TaxCategory == "Z" {
			found = l.TaxReason == "one ruling; another ruling" && l.Net == -3*380_00
		}
	}
	if !found {
		t.Errorf("taken off as %+v", TakenOff([]Paper{p}))
	}
}
