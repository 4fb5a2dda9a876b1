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
			{Name: "inert_percent", Label: "Inert matter", Kind: "number", Unit: "% by mass", Hint: "With purity and other seed it makes 100."},
			{Name: "other_seed_percent", Label: "Other seed", Kind: "number", Unit: "% by mass", Hint: "Of crops and weeds."},
			{Name: "unit", Label: "What the germination test counted", Required: true, Hint: "A fruit, a naked seed … The units per kg below must count the same thing."},
			{Name: "thousand_g", Label: "Weight of 1000 units", Kind: "number", Unit: "g", Hint: "Of pure seed. This, or the units per kg."},
			{Name: "units_per_kg", Label: "Units per kg of pure seed", Kind: "number", Unit: "per kg"},
			{Name: "count_hard", Label: "Hard seed counts as live", Kind: "select", Required: true, Options: hardSeed},
			{Name: "retest_months", Label: "A test counts for", Kind: "number", Inputmode: "numeric", Unit: "months", Hint: "Left empty, as the shed has it for the species; no rule fixes it."},
			{Name: "bulk_density", Label: "Bulk density", Kind: "number", Unit: "kg/L", Hint: "Weigh a level litre, loose."},
		}},
		{Heading: "Where it comes from", Fields: []Field{
			{Name: "received_on", Label: "Received on", Kind: "date", Required: true},
			{Name: "origin", Label: "Origin", Hint: "Where it was collected, and by whose permission."},
			{Name: "harvest", Label: "Harvested in", Kind: "month", Hint: "Month and year, as 2025-11."},
			{Name: "permit", Label: "Permit to collect", Hint: "Its reference."},
			{Name: "supplier", Label: "Collector or seller"},
			{Name: "supplier_lot", Label: "Their lot number"},
			{Name: "treatment", Label: "Treated with", Hint: "Product. Treated seed is never fed to stock."},
			{Name: "treated_on", Label: "Treated on", Kind: "date"},
			{Name: "treatment_per_kg", Label: "Cost of treating a kg", Kind: "number", Unit: "before tax", Hint: "Beside what the seed cost; empty where it came treated."},
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
		"harvest": string(l.Harvest), "permit": l.Permit, "treated_on": string(l.TreatedOn),
		"inert_percent": numberGiven(l.InertPercent), "other_seed_percent": numberGiven(l.OtherSeedPercent),
		"treatment": l.Treatment, "cost_per_kg": l.CostPerKg.String(), "treatment_per_kg": factorOrNone(l.TreatmentPerKg), "note": l.Note,
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
		RetestMonths:      f.retestMonths(),
		BulkDensityKgPerL: f.maybe("bulk_density", 0.01, 3, 0),
		ReceivedOn:        f.past("received_on", true, today),
		Origin:            f.text("origin"), Supplier: f.text("supplier"), SupplierLot: f.text("supplier_lot"),
		Permit: f.text("permit"), Harvest: f.harvest(), TreatedOn: f.past("treated_on", false, today),
		InertPercent: f.maybeMeasure("inert_percent"), OtherSeedPercent: f.maybeMeasure("other_seed_percent"),
		Treatment: f.text("treatment"), CostPerKg: f.price("cost_per_kg", false), TreatmentPerKg: f.price("treatment_per_kg", false), Note: f.text("note"),
	}
	f.heed(l.CheckParts())
	if l.TreatedOn != "" && l.Treatment == "" {
		f.refuse("treatment", "It was treated on %s: enter the product, or leave the day empty.", l.TreatedOn)
	}
	if l.TreatmentPerKg.Sign() > 0 && l.Treatment == "" {
		f.refuse("treatment", "Treating it cost %s a kg: enter the product, or leave the cost empty.", l.TreatmentPerKg.Plain())
	}
	if l.ReceivedOn != "" && l.Harvest.Begins() > l.ReceivedOn {
		f.refuse("harvest", "Harvested in %s, after it was received on %s: correct one of them.", l.Harvest, l.ReceivedOn)
	}
	return l
}

// retestMonths is 0 where the species' own setting is to hold.
func (f *form) retestMonths() int {
	if f.typed["retest_months"] == "" {
		return 0
	}
	return f.integer("retest_months", 1, mostRetestMonths)
}

func (f *form) harvest() seed.Harvest {
	h, err := seed.ParseHarvest(f.typed["harvest"])
	f.heed(err)
	return h
}

// numberGiven is number, empty for a measure that the certificate does not give.
func numberGiven(v *float64) string {
	if v == nil {
		return ""
	}
	return number(*v)
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
