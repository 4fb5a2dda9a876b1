package bill

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// AdjustedLine is one line of an invoice as it stood before an adjustment and as it stands
// with it. Description, unit and tax stay.
type AdjustedLine struct {
	PaperID      int64
	Position     int
	Description  string
	Unit         string
	Basis        Basis
	TaxCategory  string
	TaxPercent   money.Factor
	TaxReason    string
	WasQuantity  money.Factor
	WasUnitPrice money.Factor
	WasNet       money.Cents
	Quantity     money.Factor
	UnitPrice    money.Factor
	Net          money.Cents
}

// Difference is what the line changes by, with tax only where the invoice's prices include it.
func (l AdjustedLine) Difference() money.Cents { return l.Net - l.WasNet }

// Changed tells whether anything of the line differs.
func (l AdjustedLine) Changed() bool {
	return l.Quantity.Compare(l.WasQuantity) != 0 || l.UnitPrice.Compare(l.WasUnitPrice) != 0
}

// Was is the line as it stood before.
func (l AdjustedLine) Was() PaperLine {
	return PaperLine{PaperID: l.PaperID, Position: l.Position, Description: l.Description, Unit: l.Unit, Basis: l.Basis,
		Quantity: l.WasQuantity, UnitPrice: l.WasUnitPrice, TaxCategory: l.TaxCategory, TaxPercent: l.TaxPercent, TaxReason: l.TaxReason, Net: l.WasNet}
}

// Now is the line as it stands with the adjustment.
func (l AdjustedLine) Now() PaperLine {
	line := l.Was()
	line.Quantity, line.UnitPrice, line.Net = l.Quantity, l.UnitPrice, l.Net
	return line
}

// WasLines are the lines before the adjustment, NowLines those with it.
func (p Paper) WasLines() []PaperLine { return p.adjusted(AdjustedLine.Was) }

// NowLines are the lines as they stand with the adjustment.
func (p Paper) NowLines() []PaperLine { return p.adjusted(AdjustedLine.Now) }

func (p Paper) adjusted(side func(AdjustedLine) PaperLine) []PaperLine {
	lines := make([]PaperLine, len(p.Adjusted))
	for i, l := range p.Adjusted {
		lines[i] = side(l)
	}
	return lines
}

// Standing is an invoice as its adjustment notes leave it.
type Standing struct {
	Invoice     Paper
	Adjustments []Paper // in the order of their issue
	Lines       []PaperLine
	RowM        float64 // row-metres that it bills now
	NetTotal    money.Cents
	TaxTotal    money.Cents
	Total       money.Cents
}

// StandingOf reads an invoice with those of the papers that adjust it.
func StandingOf(invoice Paper, papers []Paper) Standing {
	s := Standing{Invoice: invoice, Lines: invoice.Lines, RowM: invoice.RowM,
		NetTotal: invoice.NetTotal, TaxTotal: invoice.TaxTotal, Total: invoice.Total}
	for _, p := range papers {
		if p.Kind != Adjustment || p.AnswersID != invoice.ID {
			continue
		}
		s.Adjustments = append(s.Adjustments, p)
		s.Lines, s.RowM = p.NowLines(), p.RowM
		s.NetTotal, s.TaxTotal, s.Total = s.NetTotal+p.NetTotal, s.TaxTotal+p.TaxTotal, s.Total+p.Total
	}
	return s
}

// Correct puts into an adjustment note what changes when the lines of an invoice become
// those given, which may differ in quantity and price alone. The difference in tax is that
// between the two whole invoices, each taxed once on its sum: an invoice and all its
// adjustments come to what the corrected invoice would.
//
// It refuses a quantity or price below 0 ("lines[2].quantity"), and lines that change
// nothing.
func (s Standing) Correct(note *Paper, corrected []PaperLine) error {
	if len(corrected) != len(s.Lines) {
		return fmt.Errorf("correct %s: %d lines for %d", s.Invoice.Number, len(corrected), len(s.Lines))
	}
	for i, line := range corrected {
		if s.Lines[i].TakesOff() && line.Quantity.Compare(s.Lines[i].Quantity) == 0 && line.UnitPrice.Compare(s.Lines[i].UnitPrice) == 0 {
			continue // what an earlier invoice billed stays taken off
		}
		if err := fault.Under(at("lines", i), line.fromZero()); err != nil {
			return err
		}
	}
	sums, err := TotalsOf(corrected, s.Invoice.Inclusive)
	if err != nil {
		return err
	}
	note.Adjusted, note.Inclusive = nil, s.Invoice.Inclusive
	changed := false
	for i, was := range s.Lines {
		line := AdjustedLine{Position: i + 1, Description: was.Description, Unit: was.Unit, Basis: was.Basis,
			TaxCategory: was.TaxCategory, TaxPercent: was.TaxPercent, TaxReason: was.TaxReason, WasQuantity: was.Quantity, WasUnitPrice: was.UnitPrice, WasNet: was.Net,
			Quantity: corrected[i].Quantity, UnitPrice: corrected[i].UnitPrice, Net: sums.Lines[i].Net}
		changed = changed || line.Changed()
		note.Adjusted = append(note.Adjusted, line)
	}
	if !changed {
		return fault.Refuse("", "every line is as %s stands: change a quantity or a price, or leave it as it is", s.Invoice.Number)
	}
	note.AnswersID, note.AnswersNumber, note.AnswersOn = s.Invoice.ID, s.Invoice.Number, s.Invoice.IssuedOn
	note.NetTotal, note.TaxTotal, note.Total = sums.TotalExcl-s.NetTotal, sums.TotalTax-s.TaxTotal, sums.TotalIncl-s.Total
	return nil
}

func (l PaperLine) fromZero() error {
	if err := fromZero("quantity", l.Quantity); err != nil {
		return err
	}
	return fromZero("unit_price", l.UnitPrice)
}
