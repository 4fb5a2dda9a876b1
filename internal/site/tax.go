package site

import (
	"context"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// taxBooks is what the page about the rates of the tax asks of the store.
type taxBooks interface {
	ChangeTaxRate(ctx context.Context, act job.Act, rate bill.TaxRate) error
	RemoveTaxRate(ctx context.Context, act job.Act, from unit.Date) error
}

func (s *site) taxRoutes() []route {
	return []route{
		office(get, "/business/tax", s.taxRates),
		office(post, "/business/tax", s.taxRates),
		office(post, "/business/tax/:day/remove", s.taxRateRemove),
	}
}

// taxPage is the rates of the tax by the day from which each is charged.
type taxPage struct {
	Frame
	Label  string
	First  string // rate before any change
	Today  money.Factor
	Rates  []bill.TaxRate
	Head   string
	Fields []Field
}

func (s *site) taxRates(r *request) error {
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		percent := f.percentFactor("percent")
		rate := bill.TaxRate{FromOn: f.day("from_on", true), Note: f.must("note", "Say where you read it: the journal and this page keep it.")}
		if f.ok() {
			rate.Percent = money.MustFactor(percent)
			if err := s.Books.ChangeTaxRate(r.Context(), r.act(), rate); err == nil {
				return r.see("/business/tax?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
		r.Status(422)
	}
	b := r.business
	page := taxPage{Frame: r.frame("business", "Rates of "+b.TaxLabel), Label: b.TaxLabel, First: b.TaxPercent, Rates: b.TaxRates, Today: b.TaxingOn(r.today()).Percent}
	page.Fields = f.fields(
		Field{Name: "percent", Label: "Rate", Kind: "number", Unit: "%", Required: true},
		Field{Name: "from_on", Label: "From, this day included", Kind: "date", Required: true},
		Field{Name: "note", Label: "Where it was read", Required: true, Hint: "Such as the tax office's page and the day you read it."})
	page.Head = f.head()
	return r.show("tax_rates", page)
}

func (s *site) taxRateRemove(r *request) error {
	day, err := unit.ParseDate(r.Params("day"))
	if err != nil {
		return noPage()
	}
	if err := s.Books.RemoveTaxRate(r.Context(), r.act(), day); err != nil {
		return err
	}
	return r.see("/business/tax?done=kept")
}
