package machine

import (
	"cmp"
	"slices"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// HourCost works out what one hour of a machine costs on a day, from its Owning: fuel at
// that day's price less the credit, and the machine's own hours a year and litres an hour
// in the place of the book's where the day sheets of the twelve months before tell enough
// of them (Owning.EnoughH). sheets are those on which the machine worked, of any job; a
// towed machine's may name the machine that pulls it. Refused (field "owning") while
// nothing is entered, and (field "fuel_price") where fuel is burnt and no price counts.
func HourCost(m Machine, sheets []DaySheet, rates FuelRates, on unit.Date) (Hour, error) {
	if err := m.owned(); err != nil {
		return Hour{}, err
	}
	fuel := rates.On(on)
	in := m.Owning.in(m.hoursSoFar(), fuel)
	book, err := in.Fuel.litresPerHour()
	if err != nil {
		return Hour{}, fault.Under("fuel", err)
	}
	if book > 0 && fuel.PriceOn == "" {
		return Hour{}, fault.Refuse("fuel_price", "no price of fuel counts on %s, enter one with the day from which it counts", on)
	}
	log := m.loggedOf(sheets, on)
	yearly, burnt := log.yearly(*m.Owning), log.fuel(*m.Owning, book)
	in.AnnualHours = yearly.Value
	if burnt.Own {
		in.Fuel = FuelUse{LPerH: &burnt.Value}
	}
	hour, err := HourOf(in)
	hour.Taken, hour.fuel, hour.machine = []Taken{yearly, burnt}, fuel, m
	return hour, err
}

// FuelPrice is what a litre costs on the hour's day, the price and the credit apart.
func (h Hour) FuelPrice() FuelPrice { return h.fuel }

// inOrder sorts sheets by their days, and within a day by the meter.
func inOrder(sheets []DaySheet) []DaySheet {
	slices.SortStableFunc(sheets, func(a, b DaySheet) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.MeterFromMin, b.MeterFromMin))
	})
	return sheets
}

// Run is what a machine's work of some hours cost. The parts add to the total.
type Run struct {
	Hours       float64
	Ownership   money.Cents // its share of the year's, by the hours
	Repair      money.Cents // between the meter readings, or over the hours that come next
	Fuel        money.Cents
	Lubrication money.Cents
	Labour      money.Cents
	Total       money.Cents
}

// For is what so many hours cost that are still to come, 0 to 8784: repairs over the hours
// that follow the machine's meter.
func (h Hour) For(hours float64) (Run, error) {
	if err := within("hours", hours, 0, mostYearlyHours); err != nil {
		return Run{}, err
	}
	return h.run(hours, h.wear(h.in.MeterH, h.in.MeterH+hours))
}

// Over is what the work on these day sheets cost, of one job or of several: every part by
// the hours run, repairs between the meter readings of each sheet. Sheets that name another
// machine (the one that pulls this one) tell hours alone, counted on from its own.
func (h Hour) Over(sheets []DaySheet) (Run, error) {
	var hours, wear float64
	from := h.in.MeterH
	for _, s := range sheets {
		ran := float64(s.RunMin()) / 60
		hours += ran
		if s.MachineID == h.machine.ID {
			wear += h.wear(float64(s.MeterFromMin)/60, float64(s.MeterToMin)/60)
			continue
		}
		wear += h.wear(from, from+ran)
		from += ran
	}
	return h.run(hours, wear)
}

// wear is the repairs between two readings in per cent of the list price.
func (h Hour) wear(fromH, toH float64) float64 {
	return h.known.repairs.AccumulatedPercent(toH) - h.known.repairs.AccumulatedPercent(fromH)
}

func (h Hour) run(hours, wear float64) (Run, error) {
	many := money.FactorOf(hours, precision)
	exact := make([]money.Factor, len(h.exact))
	for i, part := range h.exact {
		exact[i] = part.Times(many)
	}
	exact[repairPart] = percentOf(h.in.ListPrice, wear)
	total, err := money.Sum(exact...).Amount()
	if err != nil {
		return Run{}, fault.Refuse("hours", "the machine's work comes to too much: %v", err)
	}
	p := money.Allot(exact)
	return Run{hours, p[0], p[repairPart], p[2], p[3], p[4], total}, nil
}

// repairPart is the place of repairs among the parts of an hour.
const repairPart = 1

// Together adds the hours of machines that work together, a power unit and what it pulls,
// part by part; each one's ownership is spread over all of its own hours.
func Together(hours ...Hour) (sum Hour, err error) {
	for _, h := range hours {
		sum.OwnershipPerH += h.OwnershipPerH
		sum.RepairPerH += h.RepairPerH
		sum.FuelPerH += h.FuelPerH
		sum.LubricationPerH += h.LubricationPerH
		sum.LabourPerH += h.LabourPerH
		sum.TotalPerH += h.TotalPerH
	}
	if sum.TotalPerH > money.Largest {
		err = fault.Refuse("", "an hour of the machines together comes to too much, money goes up to %s", money.Largest.Shown())
	}
	return sum, err
}
