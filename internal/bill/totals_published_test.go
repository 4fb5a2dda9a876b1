package bill

import (
	"regexp"
	"strings"
	"testing"

	"rowtally/internal/money"
	"rowtally/internal/published"
)

func factorIn(t *testing.T, r published.Row, column string) money.Factor {
	t.Helper()
	if !r.Has(column) {
		return money.Factor{}
	}
	f, err := money.ParseFactor(r.Text(column))
	if err != nil {
		t.Fatalf("%s, %s: %v", r.Name, column, err)
	}
	return f
}

func taxed(category, percent string) Taxed {
	if percent == "" {
		percent = "0" // a paper outside the tax prints no rate
	}
	return Taxed{category, money.Exact{Factor: money.MustFactor(percent)}}
}

// linesOf are the published lines of one document, and the net amount printed for each.
func linesOf(t *testing.T, file string) (lines []Line, nets []money.Cents) {
	for _, r := range published.Rows(t, "ubl_invoice_lines.csv") {
		if r.Text("file") != file {
			continue
		}
		line := Line{Quantity: factorIn(t, r, "quantity"), UnitPrice: factorIn(t, r, "net_price"), Taxed: taxed(r.Text("tax_category"), r.Text("tax_percent"))}
		if r.Has("base_quantity") || r.Has("line_allowance_charge") {
			t.Fatalf("%s has a base quantity or an allowance, which this test does not read", r.Name)
		}
		lines, nets = append(lines, line), append(nets, factorIn(t, r, "line_net").Cents())
	}
	return lines, nets
}

var printedCharge = regexp.MustCompile(`^charge (\S+) \((\w) (\S+)%\)$`)

func chargesOf(t *testing.T, r published.Row) []Extra {
	text := r.Text("document_allowances_charges")
	if text == "" {
		return nil
	}
	m := printedCharge.FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("%s: cannot read %q", r.Name, text)
	}
	return []Extra{{money.MustFactor(m[1]), taxed(m[2], m[3])}}
}

var printedTax = regexp.MustCompile(`^(\w) (\S*)%: (\S+) -> (\S+)$`)

func taxRowsOf(t *testing.T, r published.Row) map[string][2]money.Cents {
	rows := map[string][2]money.Cents{}
	for _, text := range strings.Split(r.Text("tax_breakdown"), "; ") {
		m := printedTax.FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("%s: cannot read %q", r.Name, text)
		}
		rows[m[1]+" "+taxed(m[1], m[2]).TaxPercent.String()] = [2]money.Cents{money.MustFactor(m[3]).Cents(), money.MustFactor(m[4]).Cents()}
	}
	return rows
}

func TestPublishedInvoicesAndCreditNotes(t *testing.T) {
	documents, lineCount := published.Rows(t, "ubl_invoices.csv"), 0
	for _, r := range documents {
		lines, nets := linesOf(t, r.Text("file"))
		lineCount += len(lines)
		got, err := WorkOut(TotalsIn{Lines: lines, Charges: chargesOf(t, r), Prepaid: factorIn(t, r, "prepaid"), Rounding: factorIn(t, r, "payable_rounding")})
		if err != nil {
			t.Errorf("%s: %v", r.Name, err)
			continue
		}
		for i, net := range nets {
			if got.Lines[i].Net != net {
				t.Errorf("%s, line %d: %s, want %s", r.Name, i+1, got.Lines[i].Net, net)
			}
		}
		for column, sum := range map[string]money.Cents{
			"sum_line_net": got.SumOfLines, "allowance_total": got.SumAllowances, "charge_total": got.SumCharges, "total_excl_tax": got.TotalExcl,
			"total_tax": got.TotalTax, "total_incl_tax": got.TotalIncl, "payable": got.Payable,
		} {
			if want := factorIn(t, r, column).Cents(); sum != want {
				t.Errorf("%s, %s: %s, want %s", r.Name, column, sum, want)
			}
		}
		want := taxRowsOf(t, r)
		if len(got.Tax) != len(want) {
			t.Errorf("%s: %d tax rows, want %d", r.Name, len(got.Tax), len(want))
		}
		for _, row := range got.Tax {
			if key := row.TaxCategory + " " + row.TaxPercent.String(); want[key] != [2]money.Cents{row.Taxable, row.Tax} {
				t.Errorf("%s, %s: %s on %s, want %v", r.Name, key, row.Tax, row.Taxable, want[key])
			}
		}
	}
	if len(documents) != 19 || lineCount != 40 {
		t.Errorf("%d documents with %d lines were checked, want 19 with 40", len(documents), lineCount)
	}
}

func TestPublishedTaxOfWholeInvoices(t *testing.T) {
	seen := 0
	for _, r := range published.Rows(t, "gst_rounding.csv") {
		if r.Text("price_basis") != "excl" {
			continue
		}
		seen++
		amounts := strings.Split(r.Text("line_amounts"), " + ")
		if strings.HasPrefix(amounts[0], "(") {
			amounts = []string{r.Text("taxable_excl")} // lines not listed: the sum stands for them
		}
		var in TotalsIn
		for _, amount := range amounts {
			in.Lines = append(in.Lines, Line{Quantity: money.Whole(1), UnitPrice: money.MustFactor(amount), Taxed: taxed("S", r.Text("rate_percent"))})
		}
		got, err := WorkOut(in)
		if err != nil || got.TotalExcl != factorIn(t, r, "taxable_excl").Cents() || got.TotalTax != factorIn(t, r, "gst_total_invoice_rule").Cents() {
			t.Errorf("%s: tax %s on %s, %v", r.Name, got.TotalTax, got.TotalExcl, err)
		}
	}
	if seen < 11 {
		t.Fatalf("%d rows of whole invoices", seen)
	}
}
