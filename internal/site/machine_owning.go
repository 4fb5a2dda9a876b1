package site

import (
	"fmt"

	"rowtally/internal/machine"
)

// machineOwning asks what a machine costs to own and to run.
func (s *site) machineOwning(r *request) error {
	m, err := named(r, s.Books.Machine)
	if err != nil {
		return err
	}
	f := blank(typedOwning(m.Owning))
	back := fmt.Sprintf("/machines/%d", m.ID)
	if r.isPost() {
		f = readForm(r)
		o := owningFrom(f)
		o.MachineID = m.ID
		if f.ok() {
			if err := s.Books.KeepOwning(r.Context(), r.act(), o); err == nil {
				return r.see(back + "?done=kept#hour")
			} else if err := f.take(err); err != nil {
				return err
			}
			f.asOwning()
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("machines", "What "+m.Name+" costs"), Groups: owningGroups(), Button: "Keep the figures", Back: back,
		Lead: "All amounts without tax. What an hour costs is worked out from these, and shown on the machine's page with every step.",
	})
}

func owningGroups() []group {
	return []group{
		{Heading: "To own", Fields: []Field{
			{Name: "purchase_price", Label: "What was paid for it", Kind: "number", Unit: "$", Required: true},
			{Name: "list_price", Label: "A like new one costs today", Kind: "number", Unit: "$", Required: true, Hint: "Value at the end and repairs are parts of this, not of what was paid."},
			{Name: "age_years", Label: "Its age when bought", Kind: "number", Unit: "years", Hint: "Empty when bought new."},
			{Name: "keep_years", Label: "Kept for", Kind: "number", Unit: "years", Required: true},
			{Name: "annual_hours", Label: "Works", Kind: "number", Unit: "h a year", Required: true, Hint: "All its hours, whatever for."},
			{Name: "interest_percent", Label: "Interest", Kind: "number", Unit: "% a year", Required: true},
			{Name: "tih_percent", Label: "Taxes, insurance and housing", Kind: "number", Unit: "% a year", Required: true, Hint: "Of the average of what was paid and the value at the end."},
		}},
		{Heading: "Its value at the end", Lead: "By its class, or as a percentage of your own.", Fields: []Field{
			{Name: "remaining_class", Label: "Class", Kind: "select", Options: choices("a percentage of my own", machine.RemainingClasses())},
			{Name: "remaining_percent", Label: "Or own", Kind: "number", Unit: "% of a like new one"},
		}},
		{Heading: "Repairs", Lead: "By its class, or with factors of your own: repairs so far are RF1 × price of a like new one × (hours ÷ 1,000) to the power RF2. No class is known for a machine that forms mounds.", Fields: []Field{
			{Name: "repair_class", Label: "Class", Kind: "select", Options: choices("factors of my own", machine.RepairClasses())},
			{Name: "rf1", Label: "Or own RF1", Kind: "number"},
			{Name: "rf2", Label: "and RF2", Kind: "number"},
			{Name: "worked_h", Label: "Worked so far", Kind: "number", Unit: "h", Hint: "Only for a machine without a meter."},
		}},
		{Heading: "To run", Lead: "Fuel by what it burns, or by its rated power. A machine that is pulled burns 0 L/h of its own.", Fields: []Field{
			{Name: "fuel_l_per_h", Label: "Burns", Kind: "number", Unit: "L/h"},
			{Name: "pto_kw", Label: "Or rated power at the shaft", Kind: "number", Unit: "kW", Hint: "Takes 0.223 L an hour for each kW, the year round (Virginia Cooperative Extension 442-073)."},
			{Name: "l_per_kwh", Label: "with another use", Kind: "number", Unit: "L/h for each kW"},
			{Name: "lubrication_percent", Label: "Lubrication", Kind: "number", Unit: "% of fuel", Hint: "Empty takes 15 % (extension practice)."},
			{Name: "labour_per_h", Label: "Labour", Kind: "number", Unit: "$ an hour", Hint: "Empty for a machine that is pulled, or labour counts twice."},
			{Name: "labour_hours", Label: "Labour for each machine hour", Kind: "number", Unit: "h", Hint: "Empty takes 1.1 h (extension practice): greasing, filling, moving."},
		}},
		{Heading: "Its own figures", Fields: []Field{
			{Name: "enough_h", Label: "Day sheets count from", Kind: "number", Unit: "h logged", Required: true,
				Hint: "Once day sheets of twelve months tell so many hours, they replace the hours a year and the fuel above. Our own setting begins at 50 h."},
		}},
	}
}

// owningFrom reads the figures off their form. Bounds are the trade's own.
func owningFrom(f *form) machine.Owning {
	o := machine.Owning{
		PurchasePrice: f.price("purchase_price", true), ListPrice: f.price("list_price", true),
		AgeYears: f.maybe("age_years", 0, 100, 0), KeepYears: f.number("keep_years", 0.01, 100), AnnualHours: f.number("annual_hours", 1, 8784),
		InterestPercent: f.number("interest_percent", 0, 100), TIHPercent: f.number("tih_percent", 0, 100),
		RemainingClass: f.typed["remaining_class"], RemainingPercent: f.perhaps("remaining_percent", 0, 100),
		RepairClass: f.typed["repair_class"], RF1: f.perhaps("rf1", 0, 10), RF2: f.perhaps("rf2", 0, 4), WorkedH: f.maybe("worked_h", 0, 200_000, 0),
		FuelLPerH: f.perhaps("fuel_l_per_h", 0, 1000), PtoKW: f.perhaps("pto_kw", 0, 2000), LPerKilowattHour: f.perhaps("l_per_kwh", 0, 2),
		LubricationPercent: f.perhaps("lubrication_percent", 0, 100), LabourPerH: f.price("labour_per_h", false),
		LabourHoursPerMachineHour: f.perhaps("labour_hours", 0, 24), EnoughH: f.number("enough_h", 1, 8784),
	}
	f.oneWay("remaining_percent", o.RemainingClass != "", o.RemainingPercent != nil, "Choose a class or enter a percentage.", "A class and a percentage are both given: leave one out.")
	f.oneWay("rf1", o.RepairClass != "", o.RF1 != nil || o.RF2 != nil, "Choose a class or enter both factors.", "A class and factors are both given: leave one out.")
	f.oneWay("fuel_l_per_h", o.FuelLPerH != nil, o.PtoKW != nil || o.LPerKilowattHour != nil, "Enter what it burns, 0 when it is pulled, or its rated power.",
		"What it burns and its rated power are both given: leave one out.")
	return o
}

// oneWay refuses a figure that is given in neither of two ways, or in both.
func (f *form) oneWay(name string, one, other bool, neither, both string) {
	switch {
	case !one && !other:
		f.refuse(name, "%s", neither)
	case one && other:
		f.refuse(name, "%s", both)
	}
}

// perhaps is a number that may be left empty, which is told apart from 0.
func (f *form) perhaps(name string, low, high float64) *float64 {
	if f.typed[name] == "" {
		return nil
	}
	v := f.number(name, low, high)
	return &v
}

// asOwning puts the refusals of the trade beside the fields of the form.
func (f *form) asOwning() {
	for theirs, ours := range map[string]string{
		"remaining.machine_class": "remaining_class", "remaining.percent": "remaining_percent", "repair.machine_class": "repair_class",
		"repair.rf1": "rf1", "repair.rf2": "rf2", "fuel.l_per_h": "fuel_l_per_h", "fuel.pto_kw": "pto_kw", "fuel.l_per_kwh": "l_per_kwh",
		"taxes_insurance_housing_percent": "tih_percent", "labour_hours_per_machine_hour": "labour_hours",
	} {
		f.as(theirs, ours)
	}
}

// typedOwning is the figures as the form begins with them.
func typedOwning(o *machine.Owning) map[string]string {
	if o == nil {
		return map[string]string{"enough_h": "50"}
	}
	typed := map[string]string{
		"purchase_price": o.PurchasePrice.Plain(), "list_price": o.ListPrice.Plain(), "age_years": numberOrNone(o.AgeYears), "keep_years": number(o.KeepYears),
		"annual_hours": number(o.AnnualHours), "interest_percent": number(o.InterestPercent), "tih_percent": number(o.TIHPercent),
		"remaining_class": o.RemainingClass, "repair_class": o.RepairClass, "worked_h": numberOrNone(o.WorkedH), "enough_h": number(o.EnoughH),
	}
	for name, v := range map[string]*float64{
		"remaining_percent": o.RemainingPercent, "rf1": o.RF1, "rf2": o.RF2, "fuel_l_per_h": o.FuelLPerH, "pto_kw": o.PtoKW, "l_per_kwh": o.LPerKilowattHour,
		"lubrication_percent": o.LubricationPercent, "labour_hours": o.LabourHoursPerMachineHour,
	} {
		if v != nil {
			typed[name] = number(*v)
		}
	}
	if o.LabourPerH.Sign() > 0 {
		typed["labour_per_h"] = o.LabourPerH.Plain()
	}
	return typed
}
