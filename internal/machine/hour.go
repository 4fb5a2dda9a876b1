package machine

import (
	"errors"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// HourIn is a machine as its cost per hour is worked out. All money is without tax.
type HourIn struct {
	PurchasePrice             money.Factor `json:"purchase_price"`                  // what was paid
	ListPrice                 money.Factor `json:"list_price"`                      // of a like new machine today
	AgeYears                  float64      `json:"age_years,omitempty"`             // when bought, 0 to 100
	KeepYears                 float64      `json:"keep_years"`                      // 0.01 to 100
	AnnualHours               float64      `json:"annual_hours"`                    // all its hours, not one job's; 1 to 8784
	InterestPercent           float64      `json:"interest_percent"`                // a year, 0 to 100
	TIHPercent                float64      `json:"taxes_insurance_housing_percent"` // a year, of the average of purchase price and end value
	Remaining                 EndValue     `json:"remaining"`                       // at the end of the years kept
	Repair                    RepairChoice `json:"repair"`
	MeterH                    float64      `json:"meter_h"` // reading now, 0 to 200,000
	Fuel                      FuelUse      `json:"fuel"`
	FuelPricePerL             money.Factor `json:"fuel_price_per_l"`
	FuelCreditPerL            money.Factor `json:"fuel_credit_per_l,omitzero"`    // fuel tax credit, taken off the price
	LubricationPercent        *float64     `json:"lubrication_percent,omitempty"` // of the fuel cost, 15 when left out
	LabourPerH                money.Factor `json:"labour_per_h,omitzero"`
	LabourHoursPerMachineHour *float64     `json:"labour_hours_per_machine_hour,omitempty"` // 1.1 when left out
}

// Defaults of a machine hour: Iowa State A3-29 and extension practice (from memory) for
// lubrication and labour; Virginia Cooperative Extension 442-073 for diesel.
const (
	usualLubricationPercent        = 15
	usualLabourHoursPerMachineHour = 1.1
	usualDieselLPerKWh             = 0.223 // of rated power at the power take-off, the year round
)

// EndValue is what a machine is worth when the years kept are over: by its class, or as
// a percentage of the list price.
type EndValue struct {
	MachineClass string   `json:"machine_class,omitempty"`
	Percent      *float64 `json:"percent,omitempty"` // 0 to 100
}

// percent of the list price at the age and yearly hours given.
func (e EndValue) percent(ageYears, annualHours float64) (float64, error) {
	switch {
	case e.Percent != nil && e.MachineClass != "":
		return 0, fault.Refuse("machine_class", "a machine class and a percentage are both given, leave one out")
	case e.Percent != nil:
		return *e.Percent, within("percent", *e.Percent, 0, 100)
	case e.MachineClass == "":
		return 0, fault.Refuse("machine_class", "there is neither a machine class nor a percentage, enter one of them")
	}
	curve, err := factorsOf(wearCurves, e.MachineClass)
	return curve.PercentOfList(ageYears, annualHours), err
}

// source names the table behind the percentage; "" when it was entered.
func (e EndValue) source() string {
	if e.MachineClass == "" {
		return ""
	}
	return remainingSource
}

// FuelUse is measured litres per machine hour, or rated power and an average use.
type FuelUse struct {
	LPerH   *float64 `json:"l_per_h,omitempty"`   // 0 to 1,000; 0 for a towed machine
	PtoKW   *float64 `json:"pto_kw,omitempty"`    // rated, 0 to 2,000
	LPerKWh *float64 `json:"l_per_kwh,omitempty"` // 0 to 2, 0.223 when left out
}

// litresPerHour is the fuel of one machine hour.
func (f FuelUse) litresPerHour() (float64, error) {
	switch {
	case f.LPerH != nil && (f.PtoKW != nil || f.LPerKWh != nil):
		return 0, fault.Refuse("l_per_h", "litres per hour and rated power are both given, leave one out")
	case f.LPerH != nil:
		return *f.LPerH, within("l_per_h", *f.LPerH, 0, 1000)
	case f.PtoKW == nil:
		return 0, fault.Refuse("l_per_h", "there are neither litres per hour nor a rated power, enter one of them")
	}
	use := or(f.LPerKWh, usualDieselLPerKWh)
	return *f.PtoKW * use, errors.Join(within("pto_kw", *f.PtoKW, 0, 2000), within("l_per_kwh", use, 0, 2))
}

// source names the rule behind the litres; "" when they were measured.
func (f FuelUse) source() string {
	if f.LPerH != nil || f.LPerKWh != nil {
		return ""
	}
	return "0.223 L per kWh of rated power, Virginia Cooperative Extension 442-073"
}

// or is the figure given, or what is usual.
func or(v *float64, usual float64) float64 {
	if v == nil {
		return usual
	}
	return *v
}

// Hour is what one hour of a machine costs. The parts per hour add to the total: where
// they are rounded to cents, the odd cents go to the parts that lost most.
type Hour struct {
	EndValue               money.Cents `json:"end_value"`
	CapitalRecoveryPerYear money.Cents `json:"capital_recovery_per_year"`
	TIHPerYear             money.Cents `json:"tih_per_year"`
	OwnershipPerH          money.Cents `json:"ownership_per_h"`
	RepairPerH             money.Cents `json:"repair_per_h"` // over the coming year's hours
	FuelPerH               money.Cents `json:"fuel_per_h"`
	LubricationPerH        money.Cents `json:"lubrication_per_h"`
	LabourPerH             money.Cents `json:"labour_per_h"`
	TotalPerH              money.Cents `json:"total_per_h"`

	Taken []Taken `json:"-"` // which figures are the machine's own and which the book's; of HourCost alone

	in       HourIn
	known    hourFigures
	recovery Recovery
	exact    []money.Factor // ownership, repair, fuel, lubrication, labour, before they are rounded
	machine  Machine        // of HourCost
	fuel     FuelPrice      // of HourCost
}

// hourFigures are the measures behind an hour's cost.
type hourFigures struct {
	endPercent         float64 // of the list price
	repairs            RepairFactors
	repairPercent      float64 // of the list price, over the coming year's hours
	fuelLPerH          float64
	lubricationPercent float64 // per cent of fuel
	labourHours        float64 // per machine hour
}

// HourOf works out what one hour of a machine costs to own and to run. Everything is
// carried at full precision and rounded to cents for show alone.
func HourOf(in HourIn) (Hour, error) {
	known, err := in.figures()
	if err = errors.Join(err, in.check()); err != nil {
		return Hour{}, err
	}
	end := percentOf(in.ListPrice, known.endPercent)
	recovery := recoveryOf(RecoveryIn{in.PurchasePrice, end, in.KeepYears, in.InterestPercent})
	tih := percentOf(in.PurchasePrice.Plus(end), in.TIHPercent/2)
	exact := in.partsPerHour(known, recovery.exact.Plus(tih))
	total, err := money.Sum(exact...).Amount()
	if err != nil {
		return Hour{}, fault.Refuse("", "an hour of the machine comes to too much: %v", err)
	}
	parts := money.Allot(exact)
	return Hour{
		EndValue: end.Cents(), CapitalRecoveryPerYear: recovery.PerYear, TIHPerYear: tih.Cents(),
		OwnershipPerH: parts[0], RepairPerH: parts[1], FuelPerH: parts[2], LubricationPerH: parts[3], LabourPerH: parts[4],
		TotalPerH: total, in: in, known: known, recovery: recovery, exact: exact,
	}, nil
}

// partsPerHour are ownership, repair, fuel, lubrication and labour, unrounded.
func (in HourIn) partsPerHour(known hourFigures, ownershipPerYear money.Factor) []money.Factor {
	fuel := in.FuelPricePerL.Minus(in.FuelCreditPerL).Times(money.FactorOf(known.fuelLPerH, precision))
	return []money.Factor{
		per(ownershipPerYear, in.AnnualHours),
		per(percentOf(in.ListPrice, known.repairPercent), in.AnnualHours),
		fuel,
		percentOf(fuel, known.lubricationPercent),
		in.LabourPerH.Times(money.FactorOf(known.labourHours, precision)),
	}
}

// figures reads the choices of the input: class or percentage, litres or power.
func (in HourIn) figures() (hourFigures, error) {
	end, endErr := in.Remaining.percent(in.AgeYears+in.KeepYears, in.AnnualHours)
	repair, repairErr := in.Repair.factors()
	fuel, fuelErr := in.Fuel.litresPerHour()
	return hourFigures{
		endPercent:         end,
		repairs:            repair,
		repairPercent:      repair.AccumulatedPercent(in.MeterH+in.AnnualHours) - repair.AccumulatedPercent(in.MeterH),
		fuelLPerH:          fuel,
		lubricationPercent: or(in.LubricationPercent, usualLubricationPercent),
		labourHours:        or(in.LabourHoursPerMachineHour, usualLabourHoursPerMachineHour),
	}, errors.Join(fault.Under("remaining", endErr), fault.Under("repair", repairErr), fault.Under("fuel", fuelErr))
}

func (in HourIn) check() error {
	errs := []error{
		priced("purchase_price", in.PurchasePrice), priced("list_price", in.ListPrice),
		within("age_years", in.AgeYears, 0, mostYears), within("keep_years", in.KeepYears, leastYears, mostYears),
		within("annual_hours", in.AnnualHours, 1, mostYearlyHours), within("interest_percent", in.InterestPercent, 0, 100),
		within("taxes_insurance_housing_percent", in.TIHPercent, 0, 100), within("meter_h", in.MeterH, 0, mostMeterH),
		priced("fuel_price_per_l", in.FuelPricePerL), priced("fuel_credit_per_l", in.FuelCreditPerL), priced("labour_per_h", in.LabourPerH),
		within("lubrication_percent", or(in.LubricationPercent, usualLubricationPercent), 0, 100),
		within("labour_hours_per_machine_hour", or(in.LabourHoursPerMachineHour, usualLabourHoursPerMachineHour), 0, 24),
	}
	if in.FuelCreditPerL.Compare(in.FuelPricePerL) > 0 {
		errs = append(errs, fault.Refuse("fuel_credit_per_l", "the fuel credit is %s and the price %s a litre, enter a credit up to the price", in.FuelCreditPerL, in.FuelPricePerL))
	}
	return errors.Join(errs...)
}
