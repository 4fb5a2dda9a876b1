package bill

import (
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/published"
)

// read is a UBL document as somebody else reads it: by name spaces and local names, never by
// the prefixes that were written.
type read struct {
	XMLName    xml.Name
	ID         string    `xml:"urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2 ID"`
	Note       string    `xml:"urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2 Note"`
	Currency   string    `xml:"urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2 DocumentCurrencyCode"`
	Invoice    string    `xml:"InvoiceTypeCode"`
	Credit     string    `xml:"CreditNoteTypeCode"`
	Original   string    `xml:"BillingReference>InvoiceDocumentReference>ID"`
	OriginalOn string    `xml:"BillingReference>InvoiceDocumentReference>IssueDate"`
	Means      string    `xml:"PaymentMeans>PaymentMeansCode"`
	PaymentID  string    `xml:"PaymentMeans>PaymentID"`
	Branch     string    `xml:"PaymentMeans>PayeeFinancialAccount>FinancialInstitutionBranch>ID"`
	Seller     readParty `xml:"AccountingSupplierParty>Party"`
	Buyer      readParty `xml:"AccountingCustomerParty>Party"`
	Tax        readSum   `xml:"TaxTotal>TaxAmount"`
	Rows       []struct {
		Taxable readSum `xml:"TaxableAmount"`
		Tax     readSum `xml:"TaxAmount"`
		ID      string  `xml:"TaxCategory>ID"`
		Percent string  `xml:"TaxCategory>Percent"`
	} `xml:"TaxTotal>TaxSubtotal"`
	Sums struct {
		Lines     readSum `xml:"LineExtensionAmount"`
		Exclusive readSum `xml:"TaxExclusiveAmount"`
		Inclusive readSum `xml:"TaxInclusiveAmount"`
		Charges   readSum `xml:"ChargeTotalAmount"`
		Prepaid   readSum `xml:"PrepaidAmount"`
		Payable   readSum `xml:"PayableAmount"`
	} `xml:"LegalMonetaryTotal"`
	Lines   []readLine `xml:"InvoiceLine"`
	Credits []readLine `xml:"CreditNoteLine"`
}

type readParty struct {
	ABN  string `xml:"PartyLegalEntity>CompanyID"`
	Name string `xml:"PartyLegalEntity>RegistrationName"`
}

type readSum struct {
	Currency string `xml:"currencyID,attr"`
	Text     string `xml:",chardata"`
}

func (s readSum) cents() money.Cents {
	if s.Text == "" {
		return 0
	}
	return money.MustFactor(s.Text).Cents()
}

type readLine struct {
	Quantity readQuantity `xml:"InvoicedQuantity"`
	Credited readQuantity `xml:"CreditedQuantity"`
	Net      readSum      `xml:"LineExtensionAmount"`
	Price    readSum      `xml:"Price>PriceAmount"`
	Base     readQuantity `xml:"Price>BaseQuantity"`
	Category string       `xml:"Item>ClassifiedTaxCategory>ID"`
}

type readQuantity struct {
	Unit string `xml:"unitCode,attr"`
	Text string `xml:",chardata"`
}

func readBack(t *testing.T, written []byte) read {
	t.Helper()
	var r read
	if err := xml.Unmarshal(written, &r); err != nil {
		t.Fatalf("%v\n%s", err, written)
	}
	return r
}

// Every published document, its sums worked out anew, written, and read back in.
func TestPublishedDocumentsWrittenAndReadBack(t *testing.T) {
	documents := published.Rows(t, "ubl_invoices.csv")
	for _, row := range documents {
		lines, nets := linesOf(t, row.Text("file"))
		totals, err := WorkOut(TotalsIn{Lines: lines, Charges: chargesOf(t, row), Prepaid: factorIn(t, row, "prepaid"), Rounding: factorIn(t, row, "payable_rounding")})
		if err != nil {
			t.Fatal(err)
		}
		var printed []PaperLine
		for i, l := range lines {
			printed = append(printed, PaperLine{Description: "line", Unit: "kg", Quantity: l.Quantity, UnitPrice: l.UnitPrice, TaxCategory: l.TaxCategory, TaxPercent: l.TaxPercent.Factor, Net: totals.Lines[i].Net})
		}
		kind := map[string]string{"Invoice": typeInvoice, "CreditNote": typeCreditNote}[row.Text("doc_type")]
		d := newUBL(Paper{Kind: Invoice, Number: "X1", Currency: row.Text("currency")}, kind)
		d.fill(printed, totals)
		written, err := d.bytes()
		if err != nil {
			t.Fatal(err)
		}
		r := readBack(t, written)
		back := append(r.Lines, r.Credits...)
		if r.XMLName.Local != row.Text("doc_type") || r.Currency != row.Text("currency") || len(back) != len(nets) {
			t.Errorf("%s: a %s in %s with %d lines", row.Name, r.XMLName.Local, r.Currency, len(back))
			continue
		}
		for i, net := range nets {
			if back[i].Net.cents() != net || money.MustFactor(back[i].Price.Text).Compare(lines[i].UnitPrice) != 0 {
				t.Errorf("%s, line %d: %s at %s, want %s", row.Name, i+1, back[i].Net.Text, back[i].Price.Text, net)
			}
		}
		for column, sum := range map[string]readSum{
			"sum_line_net": r.Sums.Lines, "charge_total": r.Sums.Charges, "total_excl_tax": r.Sums.Exclusive, "total_tax": r.Tax,
			"total_incl_tax": r.Sums.Inclusive, "prepaid": r.Sums.Prepaid, "payable": r.Sums.Payable,
		} {
			if want := factorIn(t, row, column).Cents(); sum.cents() != want || sum.Text != "" && sum.Currency != row.Text("currency") {
				t.Errorf("%s, %s: %s %s, want %s", row.Name, column, sum.Currency, sum.Text, want)
			}
		}
		want := taxRowsOf(t, row)
		for _, tax := range r.Rows {
			if key := tax.ID + " " + taxed(tax.ID, tax.Percent).TaxPercent.String(); want[key] != [2]money.Cents{tax.Taxable.cents(), tax.Tax.cents()} {
				t.Errorf("%s, %s: %s on %s, want %v", row.Name, key, tax.Tax.Text, tax.Taxable.Text, want[key])
			}
		}
		if len(r.Rows) != len(want) {
			t.Errorf("%s: %d tax rows, want %d", row.Name, len(r.Rows), len(want))
		}
	}
	if len(documents) != 19 {
		t.Errorf("%d documents, want 19", len(documents))
	}
}

// Every code that is sent is in the published list; HAR is not and is never sent.
func TestUnitCodesAreOfTheList(t *testing.T) {
	in := map[string]string{}
	for _, row := range published.Rows(t, "unit_codes.csv") {
		in[row.Text("code")] = row.Text("in_list")
	}
	for unitName, code := range unitCodes {
		if in[code] != "yes" {
			t.Errorf("%s is sent as %s, which the list has as %q", unitName, code, in[code])
		}
	}
	if in[codeOf("per return trip")] != "yes" || codeOf("ha") != "H18" || codeOf("row-km") != "KMT" || in["HAR"] != "no" {
		t.Error("an unknown unit, hectares or row-km are sent under a wrong code")
	}
}

func ublSample() Paper {
	line := func(what, unitName, quantity, price string) PaperLine {
		l := PaperLine{Description: what, Unit: unitName, Quantity: money.MustFactor(quantity), UnitPrice: money.MustFactor(price), TaxCategory: "S", TaxPercent: money.Whole(10)}
		l.Net = l.Quantity.Times(l.UnitPrice).Cents()
		return l
	}
	p := Paper{ID: 4, Kind: Invoice, Number: "T2026-0001", IssuedOn: "2026-06-29", UntilOn: "2026-07-13", Registered: true, TaxLabel: "GST", Currency: "AUD",
		Issuer: Party{Name: "Rows & Co <demo>", ABN: "51824753556", Address: "1 Example Road\nExampletown SA 5000", Email: "a@rows.example"}, Buyer: Party{Name: "A Farm"},
		PayTo: "Rows & Co, BSB 000-000, account 000000000", Reference: PaymentReference("T2026-0001"),
		Lines: []PaperLine{line("Set-up", "each", "1", "380"), line("Seeding rows", "row-km", "24.8", "105.00"), line("Seed", "row-km", "24.8", "22.7248")}}
	totals, err := TotalsOf(p.Lines, false)
	if err != nil {
		panic(err)
	}
	p.NetTotal, p.TaxTotal, p.Total = totals.TotalExcl, totals.TotalTax, totals.TotalIncl
	return p
}

func TestAnInvoiceAsUBL(t *testing.T) {
	p := ublSample()
	written, err := UBL(p)
	if err != nil {
		t.Fatal(err)
	}
	r := readBack(t, written)
	if r.ID != "T2026-0001" || r.Note != "Tax invoice" || r.Invoice != "380" || r.Means != "30" || r.PaymentID != p.Reference || r.Branch != "000000" ||
		r.Seller.ABN != p.Issuer.ABN || r.Seller.Name != p.Issuer.Name || r.Lines[1].Quantity != (readQuantity{"KMT", "24.8"}) || r.Sums.Payable.cents() != p.Total {
		t.Errorf("read back as %+v", r)
	}
	for _, text := range []string{"<!-- " + UBLLabel + " -->", `xmlns="` + invoiceSpace + `"`, `xmlns:cac="` + aggregateSpace + `"`, "<cbc:PriceAmount currencyID=\"AUD\">22.7248</cbc:PriceAmount>"} {
		if !strings.Contains(string(written), text) {
			t.Errorf("the file lacks %s", text)
		}
	}
	if missing := UBLMissing(p); !slices.Contains(missing, "the buyer's ABN") || slices.Contains(missing, "the seller's ABN") {
		t.Errorf("missing: %q", missing)
	}
	if _, err := UBL(Paper{Kind: Quote, Number: "Q2026-0001"}); fault.KindOf(err) != fault.Missing {
		t.Errorf("a quote: %v", err)
	}
}

// The order of the elements is the schema's; none is empty.
func TestTheElementsStandInTheirOrder(t *testing.T) {
	want := []string{"UBLVersionID", "ID", "IssueDate", "DueDate", "InvoiceTypeCode", "Note", "DocumentCurrencyCode", "AccountingSupplierParty", "AccountingCustomerParty",
		"PaymentMeans", "PaymentTerms", "TaxTotal", "LegalMonetaryTotal", "InvoiceLine", "InvoiceLine", "InvoiceLine"}
	written, err := UBL(ublSample())
	if err != nil {
		t.Fatal(err)
	}
	if got := children(t, written); !slices.Equal(got, want) {
		t.Errorf("the elements are %q", got)
	}
}

// children names the elements below the root, and fails on an element that holds nothing.
func children(t *testing.T, written []byte) (names []string) {
	t.Helper()
	in, depth, held := xml.NewDecoder(strings.NewReader(string(written))), 0, false
	for {
		token, err := in.Token()
		if err == io.EOF {
			return names
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			if depth++; depth == 2 {
				names = append(names, x.Name.Local)
			}
			held = false
		case xml.CharData:
			held = held || strings.TrimSpace(string(x)) != ""
		case xml.EndElement:
			if !held {
				t.Errorf("%s is empty", x.Name.Local)
			}
			depth--
		}
	}
}

func TestAnAdjustmentDownIsACreditNoteAndUpADebitNote(t *testing.T) {
	p := ublSample()
	corrected := func(quantity string) Paper {
		lines := slices.Clone(p.Lines)
		for i := 1; i < 3; i++ {
			lines[i].Quantity = money.MustFactor(quantity)
		}
		note := Paper{Kind: Adjustment, Number: "A2026-0001", IssuedOn: "2026-07-20", Registered: true, TaxLabel: "GST", Currency: "AUD", Issuer: p.Issuer, Buyer: p.Buyer, Reason: "by the log"}
		if err := StandingOf(p, nil).Correct(&note, lines); err != nil {
			t.Fatal(err)
		}
		return note
	}
	for quantity, want := range map[string]struct{ root, code, net, tax string }{
		"24.0": {"CreditNote", "381", "102.18", "10.22"}, "25.6": {"Invoice", "383", "102.17", "10.22"},
	} {
		note := corrected(quantity)
		written, err := UBL(note)
		if err != nil {
			t.Fatal(err)
		}
		r := readBack(t, written)
		lines := append(r.Lines, r.Credits...)
		if r.XMLName.Local != want.root || r.Invoice+r.Credit != want.code || r.Original != "T2026-0001" || r.OriginalOn != "2026-06-29" || len(lines) != 2 ||
			r.Sums.Exclusive.Text != want.net || r.Tax.cents() != max(note.TaxTotal, -note.TaxTotal) || r.Sums.Payable.cents() != max(note.Total, -note.Total) {
			t.Errorf("%s row-km: read back as %+v", quantity, r)
		}
		if q := lines[0].Quantity.Text + lines[0].Credited.Text; q != "0.8" || lines[0].Net.Text != "84.00" {
			t.Errorf("%s row-km: the line is %s for %s", quantity, q, lines[0].Net.Text)
		}
		children(t, written)
	}
}
