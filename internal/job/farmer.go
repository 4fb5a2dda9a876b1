package job

import (
	"fmt"

	"rowtally/internal/bill"
)

// FarmerView is what the farmer's page may show of a job: what was agreed and billed, the
// rows planned and sown, the seed with its tests. Costs, margins and other farms are not
// in it.
type FarmerView struct {
	Job     Job
	Farm    Farm
	Paddock Paddock
	Stage   Stage
	Quote   *bill.Paper // the newest
	Yes     *bill.Acceptance
	Invoice *bill.Paper
	CanSay  bool   // a yes is possible
	WhyNot  string // why it is not
	Map     *Map
	Sown    *Sown
	Rows    []SownRow
	Lots    []LotFigures

	Seller Business

	// Difference says how the invoice's row-km stand to what the log shows, when they differ.
	Difference string
}

// ViewOf gathers what the farmer may see of a job.
func ViewOf(f Facts) FarmerView {
	v := FarmerView{Job: f.Job, Farm: f.Farm, Paddock: f.Paddock, Stage: StageOf(f), Sown: f.Sown, Seller: f.Business}
	if quote, ok := f.Quote(); ok {
		v.Quote = &quote
		v.addYes(f, quote)
	}
	if invoice, ok := f.Invoice(); ok {
		v.Invoice = &invoice
		v.Difference = f.billedAgainstSown(invoice)
	}
	if f.Sown != nil {
		v.Rows = f.Sown.Rows()
	}
	for _, lot := range f.RecipeLots() {
		v.Lots = append(v.Lots, LotToday(lot, f.Shelf.Tests[lot.ID], f.Today))
	}
	v.Map = ChainOf(f).Map
	return v
}

func (v *FarmerView) addYes(f Facts, quote bill.Paper) {
	agreed, yes, ok := f.Agreed()
	switch {
	case ok && agreed.ID == quote.ID:
		v.Yes = &yes
	case f.Job.DeclinedOn != "":
		v.WhyNot = "The contractor has declined this job."
	case quote.UntilOn < f.Today:
		v.WhyNot = "This quote ran out on " + quote.UntilOn.String() + ". Ask the contractor for a new one."
	default:
		v.CanSay = true
	}
}

// billedAgainstSown says where an invoice's row-km and the log's part, to the ten metres
// that papers state; "" where they agree or there is no log.
func (f Facts) billedAgainstSown(invoice bill.Paper) string {
	if f.Sown == nil || invoice.RowM == 0 {
		return ""
	}
	billed, sown := RowKmOf(invoice.RowM), RowKmOf(f.Sown.CoveredM)
	if billed.Compare(sown) == 0 {
		return ""
	}
	return fmt.Sprintf("%s billed %s row-km, and the log loaded since shows %s.", invoice.Number, billed.Fixed(kmDecimals), sown.Fixed(kmDecimals))
}
