package site

import (
	"cmp"
	"context"
	"strconv"
	"strings"

	"golang.org/x/text/currency"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// businessBooks is what the pages about the business and its people ask of the store.
type businessBooks interface {
	Business(ctx context.Context) (job.Business, error)
	Begin(ctx context.Context, act job.Act, business job.Business, first job.Person) (int64, error)
	ChangeBusiness(ctx context.Context, act job.Act, business job.Business) error
	People(ctx context.Context) ([]job.Person, error)
	AddPerson(ctx context.Context, act job.Act, person job.Person) (int64, error)
	ChangePassword(ctx context.Context, act job.Act, personID int64, hash, stays string) error
	LetGo(ctx context.Context, act job.Act, personID int64) error
}

func (s *site) businessRoutes() []route {
	return []route{
		office(get, "/business", s.businessEdit),
		office(post, "/business", s.businessEdit),
		office(get, "/people", s.people),
		office(post, "/people", s.people),
		office(get, "/people/:id/password", s.passwordChange),
		office(post, "/people/:id/password", s.passwordChange),
		office(post, "/people/:id/go", s.personGo),
		office(get, "/journal", s.journal),
	}
}

func (s *site) businessEdit(r *request) error {
	f := blank(typedBusiness(r.business))
	if r.isPost() {
		f = readForm(r)
		changed := businessFrom(f, r.today())
		changed.DemoDay = r.business.DemoDay
		f.readImagery(&changed)
		changed.Address, changed.Phone, changed.Email, changed.PayTo = f.text("address"), f.text("phone"), f.text("email"), f.text("pay_to")
		changed.PricesInclude = f.typed["prices_include"] == "yes"
		if f.ok() {
			if err := s.Books.ChangeBusiness(r.Context(), r.act(), changed); err == nil {
				return r.see("/business?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("business", "The business"), Button: "Keep the changes", Back: "/",
		Lead:   "These stand on papers from now on. Papers that were issued keep what they were issued with.",
		Groups: append(businessGroups(f), reachGroup(), imageryGroup()),
	})
}

// typedBusiness is the business as the form begins with it.
func typedBusiness(b job.Business) map[string]string {
	return map[string]string{
		"tile_address": b.TileAddress, "tile_credit": b.TileCredit, "tile_closest": strconv.Itoa(cmp.Or(b.TileClosest, usuallyClosest)),
		"name": b.Name, "abn": bill.FormatABN(b.ABN), "registered": yesNo(b.Registered), "registered_on": string(b.RegisteredOn),
		"currency": b.Currency, "tax_label": b.TaxLabel, "tax_percent": b.TaxPercent, "zone": b.Zone,
		"terms_days": strconv.Itoa(b.TermsDays), "valid_days": strconv.Itoa(b.ValidDays),
		"address": b.Address, "phone": b.Phone, "email": b.Email, "pay_to": b.PayTo,
		"prices_include": yesNo(b.PricesInclude),
	}
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// inCents refuses what is no currency of ISO 4217, and one that is not counted in hundredths.
func (f *form) inCents(name, code string) {
	unit, err := currency.ParseISO(code)
	if err != nil {
		f.refuse(name, "“%s” is not a currency: enter its three letters, such as AUD.", f.typed[name])
		return
	}
	if decimals, _ := currency.Standard.Rounding(unit); decimals != 2 {
		f.refuse(name, "%s is counted in %s: money is kept in hundredths here, so choose a currency that has them.", code, map[bool]string{true: "whole units", false: "other parts than hundredths"}[decimals == 0])
	}
}

// businessFrom reads what both the first run and the settings ask.
func businessFrom(f *form, today unit.Date) job.Business {
	b := job.Business{
		Name:       f.must("name", "Enter the business's name, as it should stand on papers."),
		ABN:        f.abn("abn"),
		Registered: f.typed["registered"] == "yes",
		Currency:   strings.ToUpper(f.text("currency")),
		TaxLabel:   f.must("tax_label", "Enter what the tax is called on papers, such as GST."),
		TaxPercent: f.percentFactor("tax_percent"),
		Zone:       f.zone("zone"),
		TermsDays:  f.integer("terms_days", 0, 365),
		ValidDays:  f.integer("valid_days", 1, 365),
	}
	f.inCents("currency", b.Currency)
	if !b.Registered {
		return b
	}
	if b.RegisteredOn = f.day("registered_on", false); f.typed["registered_on"] == "" {
		f.refuse("registered_on", "Enter the day from which the business is registered, or choose no above.")
	}
	if b.RegisteredOn > today.Plus(366) {
		f.refuse("registered_on", "%s is more than a year ahead: enter the day registration began or begins, or choose no.", b.RegisteredOn)
	}
	if b.ABN == "" {
		f.refuse("abn", "A registered business shows its ABN on each tax invoice: enter it.")
	}
	return b
}

// percentFactor reads a percentage that money is multiplied by, kept digit for digit.
func (f *form) percentFactor(name string) string {
	p := f.price(name, true)
	if p.Compare(money.Whole(100)) > 0 {
		f.refuse(name, "%s %% is more than the whole: enter a percentage from 0 to 100.", f.typed[name])
	}
	return p.String()
}

func businessGroups(f *form) []group {
	return []group{
		{Heading: "The business", Fields: []Field{
			{Name: "name", Label: "Name", Required: true, Hint: "As it should stand on quotes and invoices."},
			{Name: "abn", Label: "ABN", Inputmode: "numeric", Required: true, Hint: "11 digits; its check digits are tried. Leave it empty only while not registered."},
			{Name: "zone", Label: "Where its days are counted", Kind: "select", Required: true, Options: zonesWith(f.typed["zone"])},
			{Name: "currency", Label: "Currency", Required: true, Hint: "Three letters, such as AUD."},
		}},
		{Heading: "Tax and terms", Fields: []Field{
			{Name: "registered", Label: "Registered for the tax", Kind: "select", Required: true, Options: []Option{{"yes", "yes"}, {"no", "no"}}},
			{Name: "registered_on", Label: "Registered since", Kind: "date", Required: true, Hint: "Papers from that day on bear the tax. Leave it empty while not registered."},
			{Name: "tax_label", Label: "What the tax is called", Required: true},
			{Name: "tax_percent", Label: "Its rate", Kind: "number", Unit: "%", Required: true, Hint: "Later changes stand by their day under Rates of the tax."},
			{Name: "terms_days", Label: "Invoices fall due after", Kind: "number", Inputmode: "numeric", Unit: "days", Required: true},
			{Name: "valid_days", Label: "Quotes hold for", Kind: "number", Inputmode: "numeric", Unit: "days", Required: true},
		}},
	}
}

// reachGroup is what papers print beside the name.
func reachGroup() group {
	return group{Heading: "On papers", Fields: []Field{
		{Name: "prices_include", Label: "Rates and prices are", Kind: "select", Options: []Option{{"no", "without the tax, which is added"}, {"yes", "with the tax in them"}}, Hint: "For quotes made from now on, while registered."},
		{Name: "phone", Label: "Phone", Inputmode: "tel"},
		{Name: "email", Label: "Email", Inputmode: "email"},
		{Name: "address", Label: "Address", Kind: "textarea"},
		{Name: "pay_to", Label: "Where to pay", Kind: "textarea", Hint: "Account name, BSB and number, as invoices should print them."},
	}}
}
