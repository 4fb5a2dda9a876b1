package paper

import (
	"fmt"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// billing is a quote or an invoice while it is laid out.
type billing struct {
	*Press
	document
	paper bill.Paper
	kind  string // "Quote", "Tax invoice", "Invoice"
	plan  job.Map
	drawn bool // whether there is a plan picture; each alternative has its own
}

// newBilling refuses a paper of another kind, one whose totals do not add up, one that
// charges a tax its issuer may not charge, and one whose picture cannot be read.
func (pr *Press) newBilling(p bill.Paper, want bill.Kind, heading string) (*billing, error) {
	if p.Kind != want {
		return nil, fmt.Errorf("print a %s: the paper is a %q", want, p.Kind)
	}
	if p.NetTotal+p.TaxTotal != p.Total {
		return nil, fmt.Errorf("print %s %s: %v and %v of tax are not %v", want, p.Number, p.NetTotal, p.TaxTotal, p.Total)
	}
	if !p.Registered && p.TaxTotal != 0 {
		return nil, fmt.Errorf("print %s %s: %v of tax by an issuer who is not registered", want, p.Number, p.TaxTotal)
	}
	plan, drawn, err := job.ReadMap(p.Map)
	if err != nil {
		return nil, fmt.Errorf("print %s %s: %w", want, p.Number, err)
	}
	b := &billing{Press: pr, paper: p, kind: heading, plan: plan, drawn: drawn && len(p.Alternatives) == 0}
	head := b.letterhead()
	b.document = document{press: pr, title: strings.TrimSpace(heading + " " + p.Number), author: p.Issuer.Name,
		made: p.IssuedAt, top: pr.topOf(head), running: pr.runningOf(head), foot: b.footing()}
	return b, nil
}

func (b *billing) draft() bool { return b.paper.Number == "" }

func (b *billing) letterhead() letterhead {
	h := letterhead{name: b.paper.Issuer.Name, address: issuerLines(b.paper.Issuer),
		title: b.kind, number: b.paper.Number, draft: b.draft()}
	if b.paper.Kind == bill.Quote && b.paper.Revision > 0 {
		h.marks = append(h.marks, fmt.Sprintf("revision %d", b.paper.Revision))
	}
	if b.paper.Part != bill.Whole {
		h.marks = append(h.marks, string(b.paper.Part))
	}
	if b.paper.IssuedOn != "" && !b.draft() {
		h.marks = append(h.marks, "date of issue "+b.paper.IssuedOn.String())
	}
	if b.text.face.lacks(b.paper.Says()) {
		h.marks = append(h.marks, "? stands for a character that the typeface lacks")
	}
	return h
}

func issuerLines(issuer bill.Party) []string {
	var out []string
	if issuer.Address != "" {
		out = append(out, issuer.Address)
	}
	if reach := joined(" · ", issuer.Phone, issuer.Email); reach != "" {
		out = append(out, reach)
	}
	if issuer.ABN != "" {
		out = append(out, "ABN "+bill.FormatABN(issuer.ABN))
	}
	return out
}

func (b *billing) footing() string {
	abn := ""
	if b.paper.Issuer.ABN != "" {
		abn = "ABN " + bill.FormatABN(b.paper.Issuer.ABN)
	}
	number := b.paper.Number
	if b.draft() {
		number = "draft"
	}
	return joined(" · ", b.paper.Issuer.Name, abn, number)
}

// joined strings together what is not empty.
func joined(between string, parts ...string) string {
	var out []string
	for _, part := range parts {
		if part != "" {
			out = append(out, part)
		}
	}
	return strings.Join(out, between)
}

// incl names the total that holds the tax; without tax there is just a total.
func (b *billing) incl() string {
	if b.paper.Registered {
		return "incl. " + b.paper.TaxLabel
	}
	return ""
}

// amount writes money with its sign where the currency has a plain one.
func (b *billing) amount(c money.Cents) string {
	switch b.paper.Currency {
	case "AUD", "NZD", "USD":
		if c < 0 {
			return "−$" + strings.TrimPrefix(c.Shown(), "−")
		}
		return "$" + c.Shown()
	}
	return b.paper.Currency + string(nbsp) + c.Shown()
}

// rowKm is the paper's row-km, as finely as its lines state them; "" when it has none, or an
// alternative may have others.
func (b *billing) rowKm() string {
	if b.paper.RowM <= 0 || len(b.paper.Alternatives) > 0 {
		return ""
	}
	return unit.Grouped(b.paper.RowM/1000, b.rowKmDecimals()) + " row-km"
}

// rowKmDecimals is one, or as many as the finest of the lines by the row-km has.
func (b *billing) rowKmDecimals() int {
	decimals := 1
	for _, line := range b.paper.Lines {
		if line.Basis == bill.RowKm {
			decimals = max(decimals, line.Quantity.Decimals())
		}
	}
	return decimals
}

// quantity writes a line's quantity with the decimals it has, thousands set apart.
func (b *billing) quantity(line bill.PaperLine) string {
	decimals := line.Quantity.Decimals()
	if line.Basis == bill.RowKm {
		decimals = b.rowKmDecimals()
	}
	return unit.Grouped(line.Quantity.Float(), decimals)
}
