package job

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// kmDecimals is how finely a row-km stands on a paper: to ten metres, which is finer than
// any log can tell and coarse enough to be said aloud.
const kmDecimals = 2

// RowKmOf is a measured row length as a paper's quantity.
func RowKmOf(rowM float64) money.Factor { return money.FactorOf(rowM/1000, kmDecimals) }

// PriceLines are the lines of a paper: a job's rates, with the lines that follow the job's
// figures at those quantities, taxed as the business charges it.
func PriceLines(rates []bill.Rate, follow Quantities, taxing Taxing) []bill.PaperLine {
	lines := make([]bill.PaperLine, len(rates))
	for i, rate := range rates {
		line := bill.PaperLine{
			Position: i + 1, Description: rate.Description, Unit: rate.Unit, Basis: rate.Basis, Optional: rate.Optional,
			Quantity: rate.Quantity, UnitPrice: rate.UnitPrice, TaxCategory: rate.TaxCategory, TaxPercent: rate.TaxPercent, TaxReason: rate.TaxReason,
		}
		if measured, follows := follow[rate.Basis]; follows {
			line.Quantity = measured
		}
		taxing.on(&line)
		lines[i] = line
	}
	return lines
}

// QuoteDraft is the quote as it would be issued now. It refuses, naming what is missing.
func QuoteDraft(f Facts) (bill.Paper, error) {
	p, err := f.offer(bill.Quote)
	if err != nil || len(f.Alternatives) == 0 {
		return p, err
	}
	return p, f.addAlternatives(&p)
}

// offer is a quote or an estimate.
func (f Facts) offer(kind bill.Kind) (bill.Paper, error) {
	if len(f.Rates) == 0 {
		return bill.Paper{}, fault.Conflict("There are no rates yet. Enter what is charged before the quote is made.")
	}
	p := f.draft(kind)
	p.UntilOn, p.Inclusive = f.Today.Plus(f.Business.ValidDays), f.Business.PricesInclude && p.Registered
	p.Conditions = f.Terms.conditions()
	if !f.Rowless() {
		if err := f.addRows(&p); err != nil {
			return p, err
		}
	}
	between, err := f.understoreyParticulars()
	if err != nil {
		return p, err
	}
	planned, err := f.PlannedQuantities(f.Rates)
	if err != nil {
		return p, err
	}
	p.Lines = PriceLines(f.Rates, planned, f.Business.TaxingOn(f.Today))
	if err := addMinimum(&p, p.Conditions); err != nil {
		return p, err
	}
	if _, err = p.AddUp(); err != nil {
		return p, err
	}
	p.Particulars = append(append(between, p.Particulars...), f.termsParticulars(p)...)
	p.Lots = f.restingLots(p.RowM)
	return p, nil
}

// Rowless tells whether the job is priced without any row: understorey, or work by the
// hour alone.
func (f Facts) Rowless() bool {
	for _, rate := range f.Rates {
		if rate.Basis == bill.RowKm {
			return false
		}
	}
	return len(f.Rates) > 0 && f.Layout == nil
}

// addRows states on a quote the rows that its row-km lines rest on.
func (f Facts) addRows(p *bill.Paper) error {
	laid, err := f.Rows()
	if err != nil {
		return err
	}
	p.RowM = laid.RowM
	p.Basis = fmt.Sprintf("Planned within the paddock's boundary, a headland of %s m left out; each row counted, ground length on the ellipsoid. The invoice follows the row-km really sown, from the machine's log laid over these rows: driving, turns and rows passed twice are not counted.", unit.Plain(f.Layout.HeadlandM))
	p.Particulars = f.particulars(laid)
	p.Map, err = MapOfPlan(laid).Text()
	return err
}

// InvoiceDraft is the invoice as it would be issued now: the agreed quote's lines at the
// agreed prices, the row-km lines at what was measured, less what a deposit or a progress
// claim has billed. It refuses, saying what is missing.
func InvoiceDraft(f Facts) (bill.Paper, error) {
	p, quote, err := f.invoice(bill.Whole)
	if err != nil {
		return p, err
	}
	done, err := f.DoneQuantities(quote)
	if err != nil {
		return p, err
	}
	if err := f.addDone(&p, quote); err != nil {
		return p, err
	}
	p.Lines = f.agreedLines(&p, quote, done)
	p.Lines = append(p.Lines, f.variedLines(&p)...)
	if says := outsideBand(quote, p.Lines); says != "" {
		p.Particulars = append(p.Particulars, bill.Particular{Heading: "Outside the band", Text: says})
	}
	if err := addMinimum(&p, quote.Conditions); err != nil {
		return p, err
	}
	return p, f.takeOff(&p)
}

// invoice is what every invoice of this job holds, with the quote that it bills.
func (f Facts) invoice(part bill.Part) (p, quote bill.Paper, err error) {
	quote, yes, agreed := f.Agreed()
	if !agreed {
		return p, quote, fault.Conflict("No quote of this job is agreed yet, so there is no price to bill. Send the farmer the quote first.")
	}
	if earlier, has := f.Invoice(); has && earlier.Part == bill.Whole {
		return p, quote, fault.Conflict("Invoice %s has billed this job already. What is billed once is not billed twice.", earlier.Number)
	}
	p = f.draft(bill.Invoice)
	p.Part, p.AnswersID, p.UntilOn = part, quote.ID, f.Today.Plus(f.Business.TermsDays)
	p.Particulars = []bill.Particular{{Heading: "Agreed", Text: fmt.Sprintf("Quote %s, revision %d%s, of %s, agreed by %s on %s.",
		quote.Number, quote.Revision, inAlternative(quote), quote.IssuedOn, yes.Name, yes.AcceptedAt.Format("2 Jan 2006"))}}
	return p, quote, nil
}

// addDone states on an invoice what was done: the rows as measured, or, where no line
// follows rows, nothing beyond the day sheet that shows that the work was done.
func (f Facts) addDone(p *bill.Paper, quote bill.Paper) error {
	if !followsRows(quote) {
		if len(f.DaySheets) == 0 {
			return fault.Conflict("Nothing of this job is done yet. Enter its day sheet, and the agreed lines are billed.")
		}
		return nil
	}
	laid, err := f.Rows()
	if err != nil {
		return err
	}
	p.RowM, p.Basis = f.Sown.CoveredM, f.Sown.MeasuredHow()
	if p.Map, err = f.picture(&laid).Text(); err != nil {
		return err
	}
	return f.keepSheet(p)
}

// followsRows tells whether any line of a paper is priced by the row-km.
func followsRows(p bill.Paper) bool {
	return slices.ContainsFunc(p.Lines, func(l bill.PaperLine) bool { return l.Basis == bill.RowKm })
}

// agreedLines are a quote's lines with those that follow what was done at its quantities.
// What the quote added up to its least charge is left out: it is reckoned anew.
func (f Facts) agreedLines(p *bill.Paper, quote bill.Paper, done Quantities) []bill.PaperLine {
	lines := slices.DeleteFunc(f.taxAsAgreed(p, quote), func(l bill.PaperLine) bool { return l.Basis == bill.UpToMinimum })
	for i := range lines {
		if measured, follows := done[lines[i].Basis]; follows {
			lines[i].Quantity = measured
		}
	}
	return lines
}

// draft is what every paper of this job holds.
func (f Facts) draft(kind bill.Kind) bill.Paper {
	b := f.Business
	return bill.Paper{
		Kind: kind, JobID: f.Job.ID, IssuedOn: f.Today,
		Issuer:     bill.Party{Name: b.Name, ABN: b.ABN, Address: b.Address, Phone: b.Phone, Email: b.Email},
		Buyer:      bill.Party{Name: f.Farm.Name, ABN: f.Farm.ABN, Address: f.Farm.Address, Phone: f.Farm.Phone, Email: f.Farm.Email},
		Registered: b.TaxedOn(f.Today), TaxLabel: b.TaxLabel, Currency: b.Currency, PayTo: b.PayTo,
		Farm: f.Farm.Name, Paddock: f.Paddock.Name, Season: f.Job.Season,
	}
}

// layoutHeading stands over a quote's layout.
const layoutHeading = "Layout"

// particulars are what the quote states beside its lines.
func (f Facts) particulars(laid Laid) []bill.Particular {
	list := []bill.Particular{{Heading: layoutHeading, Text: laid.Says()}}
	if seedLine := f.seedParticular(); seedLine != "" {
		list = append(list, bill.Particular{Heading: "Seed and tests", Text: seedLine})
	}
	if expected := f.emergenceParticular(); expected != "" {
		list = append(list, bill.Particular{Heading: "Plants expected", Text: expected})
	}
	return list
}

// seedParticular names the lots with the tests that the rate rests on.
func (f Facts) seedParticular() string {
	var words []string
	for _, lot := range f.RecipeLots() {
		words = append(words, fmt.Sprintf("%s %s, %s", lot.Code, lot.CommonName, f.Live(lot).LiveSays()))
	}
	return strings.Join(words, "; ")
}

// emergenceParticular states the shares that were learned from counts, with their counts.
func (f Facts) emergenceParticular() string {
	if f.Recipe == nil {
		return ""
	}
	var words []string
	for _, s := range f.Recipe.Species {
		if s.EmergenceFrom != "" {
			words = append(words, fmt.Sprintf("of 100 live seeds of %s %s are taken to become plants, 19 of 20 seasons between %s and %s: %s",
				s.Species, percent(s.EmergencePercent), percent(s.EmergenceLowPercent), percent(s.EmergenceHighPercent), s.EmergenceFrom))
		}
	}
	if len(words) == 0 {
		return ""
	}
	return sentenceCase(strings.Join(words, ". ")) + "."
}
