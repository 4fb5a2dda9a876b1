package site

import (
	"strconv"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// rateRows is how many lines the rates form offers.
const rateRows = 12

type ratesPage struct {
	Frame
	Job    job.Job
	Back   string
	At     string // the page's own address
	Head   string
	Rows   []rateRow
	Priced string // " ex GST", " incl. GST"; "" where no tax is charged
	RowKm  string // what a row-km line would be multiplied by
	Marked string // what the rates leave over the planned cost; "" while one of them is nothing
	Steps  working.Steps

	Cards    []bill.Card
	FromCost bool // whether lines can be built from the planned cost
	Labels   []string
}

// rateRow is one line of the rates form.
type rateRow struct{ Description, Unit, Basis, Quantity, Price, Counts, Tax, Why Field }

func (s *site) jobRates(r *request) error {
	facts, one, err := s.jobOrAlternative(r)
	if err != nil {
		return err
	}
	id := facts.Job.ID
	f := blank(ratesTyped(facts.Rates))
	if err := s.cardAsked(r, f); err != nil {
		return err
	}
	if r.isPost() {
		f = readForm(r)
		rates := ratesFrom(f, r.business, r.today())
		if err := f.tryBill(rates, facts); err != nil {
			return err
		}
		if f.ok() {
			if err := s.keepRates(r, id, one, rates); err == nil {
				return r.see(keptAt(id, one, "money"))
			} else if err := f.take(err); err != nil {
				return err
			}
		}
		r.Status(422)
	}
	page := ratesPage{Frame: r.frame("jobs", "Rates of "+facts.Job.Name+inAlternative(one)), Job: facts.Job, Back: backFrom(id, one), At: r.Path()}
	for i := range rateRows {
		page.Rows = append(page.Rows, drawRate(f, i, r.business))
	}
	page.Head, page.Priced = f.head(), facts.Business.PricedSays()
	page.Marked, page.Steps = leftOver(facts)
	_, none := job.RatesFromCost(facts, job.ByMarkup, money.Factor{})
	page.FromCost = none == nil && one.Letter == ""
	if page.Cards, err = s.Books.RateCards(r.Context()); err != nil {
		return err
	}
	if laid, err := facts.Rows(); err == nil {
		page.RowKm = job.RowKmOf(laid.RowM).Fixed(2)
	}
	return r.show("rates", page)
}

var rateUnits = []Option{{"row-km", "row-km"}, {"each", "each"}, {"driven km", "driven km"}, {"h", "h"}, {"ha", "ha"}, {"kg", "kg"}, {"L", "L"}}

// rateBases are what a line's quantity may follow.
var rateBases = []Option{
	{string(bill.Fixed), "as entered"}, {string(bill.RowKm), "the row-km sown"}, {string(bill.AlleyHa), "the hectares of alley"},
	{string(bill.MixedKg), "the kg of seed mixed"}, {string(bill.MixedL), "the litres of mix"}, {string(bill.DrilledKg), "the kg drilled between rows"},
	{string(bill.MachineHours), "the machine hours"}, {string(bill.StandbyHours), "the standby hours"},
}

// rateCounts are whether a line is in the total.
var rateCounts = []Option{{"", "in the total"}, {"optional", "only if wanted"}}

// drawRate draws one line of a form of rates. How it is taxed is asked only where the business
// charges the tax.
func drawRate(f *form, i int, b job.Business) rateRow {
	n := strconv.Itoa(i)
	row := rateRow{
		Description: f.field(Field{Name: "what_" + n, Label: "Line " + strconv.Itoa(i+1)}),
		Unit:        f.field(Field{Name: "unit_" + n, Label: "Unit", Kind: "select", Options: rateUnits}),
		Basis:       f.field(Field{Name: "basis_" + n, Label: "Quantity follows", Kind: "select", Options: rateBases}),
		Quantity:    f.field(Field{Name: "quantity_" + n, Label: "Quantity", Kind: "number"}),
		Price:       f.field(Field{Name: "price_" + n, Label: "Price a unit", Kind: "number"}),
		Counts:      f.field(Field{Name: "counts_" + n, Label: "Counts", Kind: "select", Options: rateCounts}),
	}
	if b.Registered {
		row.Tax = f.field(Field{Name: "tax_" + n, Label: b.TaxLabel, Kind: "select", Options: taxChoices(b.TaxLabel)})
		row.Why = f.field(Field{Name: "why_" + n, Label: "Why without " + b.TaxLabel})
	}
	return row
}

// taxChoices are how a line may be taxed; what is exported is no line of this trade.
func taxChoices(label string) []Option {
	options := []Option{{"S", "taxed"}}
	for _, category := range []string{"Z", "E", "O"} {
		options = append(options, Option{category, bill.UntaxedAs(category, label)})
	}
	return options
}

// taxLine reads how a line is taxed: as most are, where nothing is chosen.
func (f *form) taxLine(rate *bill.Rate, n string, taxing job.Taxing, label string) {
	rate.TaxCategory, rate.TaxReason = "S", f.text("why_"+n)
	if f.typed["tax_"+n] != "" {
		rate.TaxCategory = f.oneOf("tax_"+n, taxChoices(label))
	}
	if rate.TaxCategory == "S" {
		rate.TaxPercent = taxing.Percent
	}
	f.heed(rate.CheckTax())
	f.as("tax_category", "tax_"+n)
	f.as("tax_reason", "why_"+n)
}

// ratesFrom reads the lines that say anything; a line without a description is left out
// only when it is empty.
func ratesFrom(f *form, b job.Business, today unit.Date) []bill.Rate {
	var rates []bill.Rate
	for i := range rateRows {
		n := strconv.Itoa(i)
		if f.typed["what_"+n] == "" && f.typed["price_"+n] == "" && f.typed["quantity_"+n] == "" {
			continue
		}
		rate := bill.Rate{
			Position: len(rates) + 1, Description: f.must("what_"+n, "Say what is charged."),
			Unit: f.oneOf("unit_"+n, rateUnits), Basis: bill.Basis(f.oneOf("basis_"+n, rateBases)),
			UnitPrice: f.unitPrice("price_" + n),
			Optional:  f.typed["counts_"+n] != "",
		}
		f.taxLine(&rate, n, b.TaxingOn(today), b.TaxLabel)
		if rate.Basis.Entered() {
			rate.Quantity = f.price("quantity_"+n, true)
		}
		if due := rate.Basis.PricedBy(); due != "" && rate.Unit != due {
			f.refuse("unit_"+n, "A line that follows %s is priced by the %s.", labelOf(rateBases, string(rate.Basis)), due)
		}
		rates = append(rates, rate)
	}
	if len(rates) == 0 {
		f.refuse("", "Enter at least one line: what is charged, by which unit, at what price.")
	}
	return rates
}

// tryBill adds the rates up as a quote would, so that what fits into no bill is refused
// before it is kept.
func (f *form) tryBill(rates []bill.Rate, facts job.Facts) error {
	if !f.ok() {
		return nil
	}
	planned, err := facts.PlannedQuantities(rates)
	if err != nil && fault.KindOf(err) == fault.Internal {
		return err
	} // a figure that an earlier link does not give yet is asked for when the quote is made
	p := bill.Paper{Lines: job.PriceLines(rates, planned, facts.Business.TaxingOn(facts.Today))}
	if len(p.Counted()) == 0 {
		f.refuse("counts_0", "Every line is optional: let at least one count in the total.")
		return nil
	}
	_, err = p.AddUp()
	return f.take(err)
}

// unitPrice reads a price by the unit, which has bounds of its own.
func (f *form) unitPrice(name string) money.Factor {
	const most = 1_000_000
	price := f.price(name, true)
	if price.Compare(money.Whole(most)) > 0 {
		f.refuse(name, "%s is more than anybody charges for one unit: check the point, and the unit.", f.typed[name])
	}
	return price
}

// labelOf is how a choice reads.
func labelOf(options []Option, value string) string {
	for _, o := range options {
		if o.Value == value {
			return o.Label
		}
	}
	return value
}

// ratesTyped begins the form: with the job's rates, or with the lines that most jobs have,
// without a price.
func ratesTyped(rates []bill.Rate) map[string]string {
	typed := map[string]string{}
	for i, rate := range rates {
		n := strconv.Itoa(i)
		typed["what_"+n], typed["unit_"+n], typed["basis_"+n] = rate.Description, rate.Unit, string(rate.Basis)
		typed["price_"+n] = rate.UnitPrice.Plain()
		typed["tax_"+n], typed["why_"+n] = rate.TaxCategory, rate.TaxReason
		if rate.Optional {
			typed["counts_"+n] = "optional"
		}
		if rate.Basis.Entered() {
			typed["quantity_"+n] = rate.Quantity.String()
		}
	}
	return typed
}
