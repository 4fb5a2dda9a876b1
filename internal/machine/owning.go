package machine

import (
	"errors"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// Owning is what a machine costs to own and to run, as the contractor entered it. All money
// is without tax. What is nil was left empty, and the usual figure of HourIn counts.
type Owning struct {
	MachineID int64

	PurchasePrice   money.Factor // what was paid
	ListPrice       money.Factor // of a like new machine today
	AgeYears        float64      // when bought, 0 to 100
	KeepYears       float64      // 0.01 to 100
	AnnualHours     float64      // expected, of all its work; 1 to 8784
	InterestPercent float64      // a year, 0 to 100
	TIHPercent      float64      // taxes, insurance and housing, a year, of the average value; 0 to 100

	RemainingClass   string   // of RemainingClasses; "" when the percentage rules
	RemainingPercent *float64 // of the list price when the years kept are over, 0 to 100

	RepairClass string   // of RepairClasses; "" when RF1 and RF2 rule
	RF1, RF2    *float64 // 0 to 10, 0 to 4
	WorkedH     float64  // so far, of a machine without a meter; 0 to 200,000

	FuelLPerH        *float64 // 0 to 1,000, 0 for a towed machine; nil when the rated power rules
	PtoKW            *float64 // rated, 0 to 2,000
	LPerKilowattHour *float64 // of rated power, 0 to 2

	LubricationPercent        *float64     // of the fuel cost, 0 to 100
	LabourPerH                money.Factor // 0 for a machine that another one pulls, or labour counts twice
	LabourHoursPerMachineHour *float64     // 0 to 24

	EnoughH float64 // logged hours from which its own figures replace the book's, 1 to 8784
}

// Check refuses figures that no hour can be worked out from, by the field of this struct in
// the words of HourIn ("remaining.percent", "keep_years").
func (o Owning) Check() error {
	_, err := HourOf(o.in(0, FuelPrice{}))
	return errors.Join(err, within("worked_h", o.WorkedH, 0, mostMeterH), within("enough_h", o.EnoughH, 1, mostYearlyHours))
}

// in is the figures as the hour's cost is worked out from them, by the book alone.
func (o Owning) in(meterH float64, fuel FuelPrice) HourIn {
	return HourIn{
		PurchasePrice: o.PurchasePrice, ListPrice: o.ListPrice, AgeYears: o.AgeYears, KeepYears: o.KeepYears, AnnualHours: o.AnnualHours,
		InterestPercent: o.InterestPercent, TIHPercent: o.TIHPercent,
		Remaining: EndValue{o.RemainingClass, o.RemainingPercent}, Repair: RepairChoice{o.RepairClass, o.RF1, o.RF2},
		MeterH: meterH, Fuel: FuelUse{o.FuelLPerH, o.PtoKW, o.LPerKilowattHour}, FuelPricePerL: fuel.Price, FuelCreditPerL: fuel.Credit,
		LubricationPercent: o.LubricationPercent, LabourPerH: o.LabourPerH, LabourHoursPerMachineHour: o.LabourHoursPerMachineHour,
	}
}

// hoursSoFar is the machine's hours from new: its meter, or what was entered for a machine
// without one.
func (m Machine) hoursSoFar() float64 {
	if m.MeterMin == 0 && m.Owning != nil {
		return m.Owning.WorkedH
	}
	return float64(m.MeterMin) / 60
}

// owned refuses a machine whose figures are not entered yet.
func (m Machine) owned() error {
	if m.Owning == nil {
		return fault.Refuse("owning", "what %s costs to own and to run is not entered yet: press Enter what it costs on its page", m.Name)
	}
	return nil
}
