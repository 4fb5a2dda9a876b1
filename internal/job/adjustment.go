package job

import (
	"fmt"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// Standing is the job's invoice as its adjustment notes leave it; ok is false while it is
// not billed.
func (f Facts) Standing() (standing bill.Standing, ok bool) {
	invoice, billed := f.Invoice()
	if !billed {
		return bill.Standing{}, false
	}
	return bill.StandingOf(invoice, f.Papers), true
}

// Owed tells what the invoice bills now and what the log shows, in row-km to the ten metres
// that papers state, where the two part; ok is false where they agree, or where the invoice
// rests on no rows or no log.
func (f Facts) Owed() (billed, shown money.Factor, ok bool) {
	standing, has := f.Standing()
	if !has || f.Sown == nil || standing.RowM == 0 || standing.Invoice.Part == bill.Progress && RowKmOf(standing.RowM).Compare(RowKmOf(f.Sown.CoveredM)) < 0 {
		return billed, shown, false
	}
	billed, shown = RowKmOf(standing.RowM), RowKmOf(f.Sown.CoveredM)
	return billed, shown, billed.Compare(shown) != 0
}

// owedSays is the sentence for the contractor where an adjustment note is owed; "" where
// none is.
func (f Facts) owedSays() string {
	billed, shown, ok := f.Owed()
	if !ok {
		return ""
	}
	return fmt.Sprintf("An adjustment note is owed: the log shows %s of %s row-km billed.", shown.Fixed(kmDecimals), billed.Fixed(kmDecimals))
}

// MeasuredLines are the invoice's lines as they stand, those by the row-km at what the log
// shows, and the reason that such a correction has; "" where nothing was measured otherwise.
func (f Facts) MeasuredLines() (lines []bill.PaperLine, reason string) {
	standing, _ := f.Standing()
	billed, shown, differ := f.Owed()
	lines = append(lines, standing.Lines...)
	if !differ {
		return lines, ""
	}
	for i := range lines {
		if lines[i].Basis == bill.RowKm {
			lines[i].Quantity = shown
		}
	}
	return lines, fmt.Sprintf("%s row-km were billed; the machine's log shows %s.", billed.Fixed(kmDecimals), shown.Fixed(kmDecimals))
}

// AdjustmentDraft is the adjustment note as it would be issued now: the invoice's lines
// become the corrected ones, for the reason given. It refuses a correction without a reason
// ("reason"), one that bills more row-km than the log shows or than were billed
// ("lines[2].quantity"), and what bill.Standing.Correct refuses.
func AdjustmentDraft(f Facts, reason string, corrected []bill.PaperLine) (bill.Paper, error) {
	standing, billed := f.Standing()
	if !billed {
		return bill.Paper{}, fault.Conflict("This job has no invoice yet, so there is nothing to adjust.")
	}
	p := f.draft(bill.Adjustment)
	p.Registered, p.TaxLabel, p.Currency = standing.Invoice.Registered, standing.Invoice.TaxLabel, standing.Invoice.Currency
	p.Buyer, p.Reference, p.Reason = standing.Invoice.Buyer, standing.Invoice.Reference, strings.TrimSpace(reason)
	if p.Reason == "" {
		return p, fault.Refuse("reason", "say why the invoice is adjusted: the note states it")
	}
	if err := f.refuseUnsown(standing, corrected); err != nil {
		return p, err
	}
	if err := standing.Correct(&p, corrected); err != nil {
		return p, err
	}
	return p, f.addMeasured(&p, standing)
}

// refuseUnsown keeps a correction from billing rows that nobody sowed, or sowed once and
// would be billed twice.
func (f Facts) refuseUnsown(standing bill.Standing, corrected []bill.PaperLine) error {
	for i, line := range corrected {
		if i >= len(standing.Lines) || standing.Lines[i].Basis != bill.RowKm {
			continue
		}
		most := standing.Lines[i].Quantity
		if f.Sown != nil && most.Compare(RowKmOf(f.Sown.CoveredM)) < 0 {
			most = RowKmOf(f.Sown.CoveredM)
		}
		if line.Quantity.Compare(most) > 0 {
			return fault.Refuse(fmt.Sprintf("lines[%d].quantity", i), "%s row-km is more than was measured and billed, enter %s or less: rows are billed once", line.Quantity, most)
		}
	}
	return nil
}

// addMeasured states on an adjustment note what its row-km rest on.
func (f Facts) addMeasured(p *bill.Paper, standing bill.Standing) error {
	p.RowM = standing.RowM
	for _, line := range p.Adjusted {
		if line.Basis == bill.RowKm && line.Changed() {
			p.RowM = line.Quantity.Float() * 1000
		}
	}
	if f.Sown == nil || p.RowM == 0 || RowKmOf(p.RowM).Compare(RowKmOf(f.Sown.CoveredM)) != 0 {
		return nil
	}
	p.RowM, p.Basis = f.Sown.CoveredM, f.Sown.MeasuredHow()
	laid, err := f.Rows()
	if err != nil {
		return nil // without laid rows the note has no picture
	}
	if p.Map, err = f.picture(&laid).Text(); err != nil {
		return err
	}
	return f.keepSheet(p)
}
