package site

import (
	"rowtally/internal/machine"
)

// fuelPage is the dated prices and credits of fuel, and the form for one more.
type fuelPage struct {
	Frame
	Says   string
	Rates  []fuelLine
	Fields []Field
	Head   string
}

// fuelLine is one rate as it stands on the page.
type fuelLine struct {
	machine.FuelRate
	Counts bool // today
}

var fuelKinds = []Option{{string(machine.PriceOfFuel), "price"}, {string(machine.CreditOfFuel), "credit"}}

// fuel shows what a litre costs from which day on, and keeps one more rate.
func (s *site) fuel(r *request) error {
	f := blank(map[string]string{"kind": string(machine.PriceOfFuel), "from_on": string(r.today())})
	if r.isPost() {
		f = readForm(r)
		rate := machine.FuelRate{Kind: machine.FuelRateKind(f.oneOf("kind", fuelKinds)), FromOn: f.day("from_on", true), PerL: f.price("per_l", true), Note: f.text("note")}
		if f.ok() {
			if _, err := s.Books.AddFuelRate(r.Context(), r.act(), rate); err == nil {
				return r.see("/machines/fuel?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
		r.Status(422)
	}
	page, err := s.fuelPage(r)
	if err != nil {
		return err
	}
	page.Fields = f.fields(
		Field{Name: "kind", Label: "What it is", Kind: "select", Required: true, Options: fuelKinds},
		Field{Name: "per_l", Label: "A litre", Kind: "number", Unit: "$", Required: true, Hint: "A price without tax; a credit as the tax office's table has it, 20.3 cents as 0.203."},
		Field{Name: "from_on", Label: "Counts from", Kind: "date", Required: true},
		Field{Name: "note", Label: "Where it stands", Hint: "The docket, or the table and the day you looked."},
	)
	page.Head = f.head()
	return r.show("fuel", page)
}

func (s *site) fuelPage(r *request) (fuelPage, error) {
	rates, err := s.Books.FuelRates(r.Context())
	page := fuelPage{Frame: r.frame("machines", "Fuel: price and credit")}
	now := rates.On(r.today())
	for _, rate := range rates {
		on := now.PriceOn
		if rate.Kind == machine.CreditOfFuel {
			on = now.CreditOn
		}
		page.Rates = append(page.Rates, fuelLine{rate, rate.FromOn == on})
	}
	page.Says = fuelSays(r, now)
	return page, err
}

// fuelSays tells what a litre costs on the day.
func fuelSays(r *request, p machine.FuelPrice) string {
	switch {
	case p.PriceOn == "":
		return "No price of fuel counts today. Machine hours that burn fuel wait for one."
	case p.CreditOn == "":
		return "A litre costs " + r.business.Price(p.Price, 3) + " today; no credit is taken off."
	}
	return "A litre costs " + r.business.Price(p.Price, 3) + " less a credit of " + r.business.Price(p.Credit, 3) + " today: " + r.business.Price(p.Price.Minus(p.Credit), 3) + "."
}

// fuelRemove takes a rate away that was entered by mistake.
func (s *site) fuelRemove(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	if err := s.Books.RemoveFuelRate(r.Context(), r.act(), id); err != nil {
		return err
	}
	return r.see("/machines/fuel?done=off")
}
