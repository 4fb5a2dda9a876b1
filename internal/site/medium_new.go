package site

import (
	"fmt"

	"rowtally/internal/mix"
)

func (s *site) mediumNew(r *request) error {
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
		medium := mediumFrom(f)
		ml := f.thousandths("litres", 0, mostLitres)
		if f.ok() {
			id, err := s.Books.AddProduct(r.Context(), r.act(), medium, ml)
			if err == nil {
				return r.see(fmt.Sprintf("/shed/media/%d", id))
			}
			if err := f.take(err); err != nil {
				return err
			}
		}
	}
	stock := Field{Name: "litres", Label: "Volume received", Kind: "number", Unit: "L", Required: true}
	return r.draw(f, formPage{
		Frame: r.frame("shed", "A new bulking medium"), Button: "Keep the medium", Back: "/shed",
		Groups: []group{{Fields: append(mediumFields(), stock)}},
	})
}

func mediumFields() []Field {
	return []Field{
		{Name: "name", Label: "Product", Required: true, Hint: "With its grade: vermiculite, medium grade."},
		{Name: "bulk_density", Label: "Bulk density", Kind: "number", Unit: "kg/m³", Required: true, Hint: "Measured, loose: weigh a level 10 L bucket and take it times 100."},
		{Name: "bag_l", Label: "A bag holds", Kind: "number", Unit: "L", Hint: "Empty when it comes loose."},
		{Name: "cost_per_bag", Label: "Cost of a bag", Kind: "number", Unit: "before tax"},
		{Name: "charge_per_l", Label: "Charged for a litre placed", Kind: "number", Unit: "before tax"},
		{Name: "note", Label: "Note", Kind: "textarea", Hint: "The supplier's asbestos-free statement: its day and reference."},
	}
}

// mediumFrom reads a medium off its form.
func mediumFrom(f *form) mix.Product {
	const leastDensity, mostDensity, mostBagL = 1, 3000, 5000
	return mix.Product{
		Name:               f.must("name", "Enter the product and its grade."),
		BulkDensityKgPerM3: f.number("bulk_density", leastDensity, mostDensity),
		BagL:               f.maybe("bag_l", leastAmount, mostBagL, 0),
		CostPerBag:         f.price("cost_per_bag", false),
		ChargePerL:         f.price("charge_per_l", false),
		Note:               f.text("note"),
	}
}

// typedMedium is a medium as its form begins with it.
func typedMedium(p mix.Product) map[string]string {
	return map[string]string{
		"name": p.Name, "bulk_density": number(p.BulkDensityKgPerM3), "bag_l": numberOrNone(p.BagL),
		"cost_per_bag": p.CostPerBag.String(), "charge_per_l": p.ChargePerL.String(), "note": p.Note,
	}
}
