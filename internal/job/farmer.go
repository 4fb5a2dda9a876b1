package job

import (
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/money"
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
	Quoted  money.Cents  // its total, in the alternative agreed; that of A before the yes
	YesTo   string       // what the yes chose of the quote; "" where there was nothing to choose
	Invoice *bill.Paper  // the newest
	Earlier []bill.Paper // invoices before it
	Notes   []bill.Paper // that adjust the invoice
	Total   money.Cents  // of the invoice with its notes
	CanSay  bool         // a yes is possible
	WhyNot  string       // why it is not
	Doubts  []string     // what no longer holds of the quote that waits for its yes

	Estimate   *bill.Paper // the newest, while there is no quote
	Variations []VariationView

	Map  *Map
	Sown *Sown
	Rows []SownRow
	Lots []LotFigures

	Headland []SownLap // where its passes are in the row-km

	Counts []CountFigures // of what came up, oldest first

	SpacingM float64 // from placement to placement along a row; 0 while no rows are laid

	Seller Business

	Queried bool // a question is open between farm and contractor

	// Difference says how the invoice's row-km stand to what the log shows, when they differ.
	Difference string
}

// ViewOf gathers what the farmer may see of a job.
func ViewOf(f Facts) FarmerView {
	v := FarmerView{Job: f.Job, Farm: f.Farm, Paddock: f.Paddock, Stage: StageOf(f), Sown: f.Sown, Seller: f.Business, Queried: f.Queried(), Counts: f.Counted()}
	if quote, ok := f.Quote(); ok {
		v.Quote, v.Quoted = &quote, f.asAgreed(quote).Total
		v.addYes(f, quote)
	} else if estimate, ok := f.Estimate(); ok {
		v.Estimate = &estimate
	}
	v.Variations = f.Variations()
	if standing, ok := f.Standing(); ok {
		v.Invoice, v.Notes, v.Total = &standing.Invoice, standing.Adjustments, standing.Total
		v.Difference = f.billedAgainstSown(standing)
		v.Earlier = f.Invoices()[:len(f.Invoices())-1]
	}
	if f.Layout != nil {
		v.SpacingM = f.Layout.SpacingM
	}
	if f.Sown != nil {
		kept := f.Sown.detail()
		v.Rows, v.Headland = kept.Rows, kept.Headland
	}
	for _, lot := range f.RecipeLots() {
		v.Lots = append(v.Lots, f.Shelf.LotOn(lot, f.Today))
	}
	v.Map = ChainOf(f).Map
	return v
}

func (v *FarmerView) addYes(f Facts, quote bill.Paper) {
	agreed, yes, ok := f.Agreed()
	switch {
	case ok && agreed.ID == quote.ID:
		v.Yes, v.YesTo = &yes, chosenSays(quote, yes)
	case f.Job.DeclinedOn != "":
		v.WhyNot = "The contractor has declined this job."
	case quote.UntilOn < f.Today:
		v.WhyNot = "This quote ran out on " + quote.UntilOn.String() + ". Ask the contractor for a new one."
	default:
		v.CanSay, v.Doubts = true, f.Doubts(quote)
	}
}

// billedAgainstSown says where what is billed now and the log part; "" where they agree.
func (f Facts) billedAgainstSown(standing bill.Standing) string {
	billed, shown, ok := f.Owed()
	if !ok {
		return ""
	}
	return fmt.Sprintf("%s billed %s row-km, and the log loaded since shows %s.", standing.Invoice.Number, billed.Fixed(kmDecimals), shown.Fixed(kmDecimals))
}
