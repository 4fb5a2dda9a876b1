package bill

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"regexp"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// UBLLabel is what the data of UBL are called wherever they are offered.
const UBLLabel = "UBL 2.1 invoice data (not sent through any network)"

// unitCodes are the codes of UN/ECE Recommendation 20 for the units of lines. A hectare is
// H18 there, the square hectometre; HAR is not in the list.
var unitCodes = map[string]string{"row-km": "KMT", "driven km": "KMT", "h": "HUR", "ha": "H18", "kg": "KGM", "L": "LTR", "each": "EA"}

// one is the code of a line that counts by no unit of the list.
const one = "C62"

// Document types of UNTDID 1001; 381 and 383 from memory.
const (
	typeInvoice    = "380"
	typeCreditNote = "381"
	typeDebitNote  = "383"
)

// UBL writes an issued invoice or adjustment note as UBL 2.1: an adjustment that lowers the
// price as a credit note, whose amounts are positive, one that raises it as a debit note. A
// quote and a draft are refused.
func UBL(p Paper) ([]byte, error) {
	if p.Number == "" || p.Kind != Invoice && p.Kind != Adjustment {
		return nil, fault.Miss("only an issued invoice or adjustment note is given as UBL 2.1")
	}
	d, err := ublOf(p)
	if err != nil {
		return nil, fmt.Errorf("write %s as UBL: %w", p.Number, err)
	}
	return d.bytes()
}

func ublOf(p Paper) (ublDocument, error) {
	lines := p.Lines
	totals, err := Totals{}, error(nil)
	d := newUBL(p, p.ublType())
	if p.Kind == Invoice {
		totals, err = TotalsOf(lines, p.Inclusive)
	} else {
		lines, totals, err = p.differences()
		d.Billing = &ublBilling{p.AnswersNumber, string(p.AnswersOn)}
	}
	if err != nil {
		return d, err
	}
	if d.whole = p.Inclusive; d.whole {
		lines, totals = withoutTax(lines, totals)
	}
	d.fill(lines, totals)
	return d, nil
}

func (p Paper) ublType() string {
	switch {
	case p.Kind == Invoice:
		return typeInvoice
	case p.Total > 0:
		return typeDebitNote
	}
	return typeCreditNote
}

// newUBL is a document with everything but its figures.
func newUBL(p Paper, kind string) ublDocument {
	d := ublDocument{XMLName: xml.Name{Local: "Invoice"}, Space: invoiceSpace, Cac: aggregateSpace, Cbc: basicSpace, Version: "2.1",
		ID: p.Number, IssueDate: string(p.IssuedOn), DueDate: string(p.UntilOn), InvoiceType: kind, Note: p.Heading(), Currency: p.Currency,
		Supplier: ublTrader{p.party(p.Issuer, p.Registered)}, Customer: ublTrader{p.party(p.Buyer, false)}}
	if p.Reason != "" {
		d.Note += ". " + p.Reason
	}
	if kind == typeCreditNote {
		d.XMLName.Local, d.Space, d.InvoiceType, d.CreditType, d.DueDate = "CreditNote", creditNoteSpace, "", kind, ""
		return d
	}
	d.Means = meansOf(p)
	if p.UntilOn != "" {
		d.Terms = &ublTerms{"Due " + p.UntilOn.String()}
	}
	return d
}

func (p Paper) taxScheme() string {
	if p.TaxLabel == "" {
		return "GST"
	}
	return p.TaxLabel
}

// abnScheme is the code of the Australian Business Number in ISO/IEC 6523.
const abnScheme = "0151"

func (p Paper) party(who Party, taxed bool) ublParty {
	out := ublParty{Name: who.Name, Legal: ublLegal{Name: who.Name}}
	if who.ABN != "" {
		number := ublNumber{Scheme: abnScheme, Text: who.ABN}
		out.Endpoint, out.Legal.CompanyID = &number, &number
		if taxed {
			out.Tax = &ublTaxed{who.ABN, p.taxScheme()}
		}
	}
	for i, line := range strings.FieldsFunc(who.Address, func(c rune) bool { return c == '\n' || c == '\r' }) {
		if i == 0 {
			out.Address.Street = line
		} else {
			out.Address.Lines = append(out.Address.Lines, ublText{Line: line})
		}
	}
	if code := countries[p.Currency]; code != "" {
		out.Address.Country = &ublText{Code: code}
	}
	if who.Phone != "" || who.Email != "" {
		out.Contact = &ublContact{who.Phone, who.Email}
	}
	return out
}

// countries are those whose currency names them.
var countries = map[string]string{"AUD": "AU", "NZD": "NZ"}

// bankLine finds an account in what a paper prints of it. It is compiled where it is used,
// so that the truck's engine, which writes no invoice, does not carry it.
func bankLine() *regexp.Regexp {
	return regexp.MustCompile(`(?is)^(.*?)[\s,]*\bBSB\s*:?\s*(\d{3})[- ]?(\d{3})[\s,]*(?:account|acc|a/c)\s*:?\s*(?:number|no\.?)?\s*([\d ]{4,12})\s*$`)
}

// meansOf is a credit transfer (code 30) to the account that the paper prints.
func meansOf(p Paper) *ublMeans {
	means := &ublMeans{Code: "30", PaymentID: p.PayReference()}
	if m := bankLine().FindStringSubmatch(p.PayTo); m != nil {
		means.Account = &ublAccount{ID: strings.ReplaceAll(strings.TrimSpace(m[4]), " ", ""), Name: strings.TrimSpace(m[1]), Branch: m[2] + m[3]}
	} else {
		means.Instruction = p.PayTo
	}
	return means
}

// UBLMissing says what a network would ask for beyond what the paper holds.
func UBLMissing(p Paper) []string {
	var out []string
	lacks := func(is bool, what string) {
		if is {
			out = append(out, what)
		}
	}
	lacks(p.Inclusive, "prices agreed without tax: its lines had the tax taken out, which can leave the tax a cent from rate × amount")
	lacks(p.mixesOutside(), "lines outside the tax apart from taxed ones, on an invoice of their own (rule BR-O-11)")
	lacks(p.Issuer.ABN == "", "the seller's ABN")
	lacks(p.Buyer.ABN == "", "the buyer's ABN")
	out = append(out, "a buyer reference or order number", "town, state and postcode of both parties as fields of their own")
	lacks(p.Kind == Invoice && !bankLine().MatchString(p.PayTo), "account name, BSB and account number as fields of their own")
	lacks(countries[p.Currency] == "", "the country of both parties")
	return out
}

func (d ublDocument) amount(c money.Cents) ublAmount { return ublAmount{d.Currency, c.String()} }

func (d ublDocument) maybe(c money.Cents) *ublAmount {
	if c == 0 {
		return nil
	}
	a := d.amount(c)
	return &a
}

func (d ublDocument) bytes() ([]byte, error) {
	var out bytes.Buffer
	out.WriteString(xml.Header + "<!-- " + UBLLabel + " -->\n")
	writer := xml.NewEncoder(&out)
	writer.Indent("", "  ")
	if err := writer.Encode(d); err != nil {
		return nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}
