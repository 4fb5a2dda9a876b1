package site

import (
	"strconv"

	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

var layers = []Option{
	{string(seed.Shrub), "shrub, in placements along the rows"},
	{string(seed.Understorey), "understorey, over the alleys"},
}

var hardSeed = []Option{{"no", "no: it is shown beside germination"}, {"yes", "yes: hard seed counts as live"}}

// lotGroups are the fields that a new lot and a changed one share.
func lotGroups() []group {
	return []group{
		{Heading: "The lot", Fields: []Field{
			{Name: "code", Label: "Lot code", Required: true, Hint: "One code on every screen, paper and tub label, such as D26-01."},
			{Name: "species", Label: "Botanical name", Required: true},
			{Name: "common_name", Label: "Common name", Required: true},
			{Name: "form", Label: "Form", Required: true, Hint: "As bagged: fruit with bracts on, seed with bracts removed, with husk …"},
			{Name: "layer", Label: "Sown as", Kind: "select", Required: true, Options: layers},
		}},
		{Heading: "Label and certificate", Fields: []Field{
			{Name: "purity_percent", Label: "Purity", Kind: "number", Unit: "% by mass", Required: true},
			{Name: "unit", Label: "What the germination test counted", Required: true, Hint: "A fruit, a naked seed … The units per kg below must count the same thing."},
			{Name: "thousand_g", Label: "Weight of 1000 units", Kind: "number", Unit: "g", Hint: "Of pure seed. This, or the units per kg."},
			{Name: "units_per_kg", Label: "Units per kg of pure seed", Kind: "number", Unit: "per kg"},
			{Name: "count_hard", Label: "Hard seed counts as live", Kind: "select", Required: true, Options: hardSeed},
			{Name: "retest_months", Label: "A test counts for", Kind: "number", Inputmode: "numeric", Unit: "months", Required: true, Hint: "Your own setting; no rule fixes it."},
			{Name: "bulk_density", Label: "Bulk density", Kind: "number", Unit: "kg/L", Hint: "Weigh a level litre, loose."},
		}},
		{Heading: "Where it comes from", Fields: []Field{
			{Name: "received_on", Label: "Received on", Kind: "date", Required: true},
			{Name: "origin", Label: "Origin", Hint: "Where it was collected, and by whose permission."},
			{Name: "supplier", Label: "Collector or seller"},
			{Name: "supplier_lot", Label: "Their lot number"},
			{Name: "treatment", Label: "Treatment", Hint: "Product and day. Treated seed is never fed to stock."},
			{Name: "cost_per_kg", Label: "Cost of a kg, landed", Kind: "number", Unit: "before tax"},
			{Name: "note", Label: "Note", Kind: "textarea"},
		}},
	}
}

// typedLot is a lot as its form begins with it.
func typedLot(l seed.Lot) map[string]string {
	return map[string]string{
		"code": l.Code, "species": l.Species, "common_name": l.CommonName, "form": l.Form, "layer": string(l.Layer),
		"purity_percent": number(l.PurityPercent), "unit": l.Unit, "units_per_kg": number(l.UnitsPerKg),
		"count_hard": yesNo(l.CountHard), "retest_months": strconv.Itoa(l.RetestMonths), "bulk_density": numberOrNone(l.BulkDensityKgPerL),
		"received_on": string(l.ReceivedOn), "origin": l.Origin, "supplier": l.Supplier, "supplier_lot": l.SupplierLot,
		"treatment": l.Treatment, "cost_per_kg": l.CostPerKg.String(), "note": l.Note,
	}
}

// lotFrom reads a lot off its form.
func lotFrom(f *form, today unit.Date) seed.Lot {
	l := seed.Lot{
		Code:              f.must("code", "Enter the lot's code, such as D26-01."),
		Species:           f.must("species", "Enter the botanical name."),
		CommonName:        f.must("common_name", "Enter the name you call it by."),
		Form:              f.must("form", "Enter the form it is bagged in."),
		Layer:             seed.Layer(f.oneOf("layer", layers)),
		PurityPercent:     f.measure("purity_percent", "Enter the purity of the certificate."),
		Unit:              f.must("unit", "Enter what the test counted: a fruit or a naked seed."),
		UnitsPerKg:        f.unitsPerKg(),
		CountHard:         f.oneOf("count_hard", hardSeed) == "yes",
		RetestMonths:      f.integer("retest_months", 1, 120),
		BulkDensityKgPerL: f.maybe("bulk_density", 0.01, 3, 0),
		ReceivedOn:        f.past("received_on", true, today),
		Origin:            f.text("origin"), Supplier: f.text("supplier"), SupplierLot: f.text("supplier_lot"),
		Treatment: f.text("treatment"), CostPerKg: f.price("cost_per_kg", false), Note: f.text("note"),
	}
	f.heed(seed.Quality{PurityPercent: l.PurityPercent}.Check())
	return l
}

// unitsPerKg reads either way in which a label gives the size of seed.
func (f *form) unitsPerKg() float64 {
	const leastG, mostG, mostUnits = 0.001, 100_000, 1e9
	if f.typed["thousand_g"] == "" && f.typed["units_per_kg"] == "" {
		f.refuse("thousand_g", "Enter the weight of 1000 units, or the units per kg.")
		return 0
	}
	if f.typed["thousand_g"] == "" {
		return f.number("units_per_kg", 1, mostUnits)
	}
	if f.typed["units_per_kg"] != "" {
		f.refuse("thousand_g", "Both this and the units per kg are given: leave one empty, so that they cannot disagree.")
	}
	return job.UnitsPerKg(f.number("thousand_g", leastG, mostG))
}

// number writes a measure as a person would type it.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// numberOrNone is number, empty for a measure that was not taken.
func numberOrNone(v float64) string {
	if v == 0 {
		return ""
	}
	return number(v)
}
