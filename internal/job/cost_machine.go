package job

import (
	"fmt"

	"rowtally/internal/machine"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// PlannedRun is how long a machine is planned to run for a job, and where the hours come
// from.
type PlannedRun struct {
	MachineID int64
	Hours     float64
	Typed     bool // entered with the job's costs, not reckoned from its rows
	From      string
}

// PlannedRuns are the machines' planned hours: those entered with the job's costs, then for
// the sower and what pulls it, where none is entered for them, the hours that its rows take
// (MachineTime).
func (f Facts) PlannedRuns() (runs []PlannedRun) {
	time, team := f.MachineTime(), map[int64]bool{}
	if f.Sower != nil {
		for _, m := range f.Yard.Team(*f.Sower) {
			team[m.ID] = true
		}
	}
	typed := false
	for _, m := range f.costing().Machines {
		run := PlannedRun{m.MachineID, m.Hours.Float(), true, "planned hours, as entered"}
		if team[m.MachineID] {
			typed = true
			if time.Cannot == "" {
				run.From += fmt.Sprintf(" in the place of %s h by %s", unit.Grouped(time.WholeH, 1), time.byWords())
			}
		}
		runs = append(runs, run)
	}
	if f.Sower == nil || typed || time.Cannot != "" {
		return runs
	}
	for _, m := range f.Yard.Team(*f.Sower) {
		runs = append(runs, PlannedRun{m.ID, time.WholeH, false, fmt.Sprintf("hours that the rows take by %s, %s row-km an hour", time.byWords(), unit.Grouped(time.RowKmPerH, 2))})
	}
	return runs
}

// planMachines adds the hours that machines are planned to run: owning, repair and oil,
// fuel, and who drives.
func (r *reckoning) planMachines(f Facts) {
	runs := f.PlannedRuns()
	if len(runs) == 0 {
		r.leaveOut("Machines: enter how many hours each is planned to run, or name the machine that sows and tell its speed.")
	}
	for _, planned := range runs {
		m, ok := f.Yard.Machine(planned.MachineID)
		if !ok {
			r.leaveOut("A machine of the plan is no longer kept. Choose its machines again.")
			continue
		}
		hour, run, err := f.Yard.runFor(m, planned.Hours, f.Today)
		if err != nil {
			r.leaveOut("%s: %s.", sentenceCase(m.Name), err.Error())
			continue
		}
		r.addRun(m, hour, run, planned.From)
		r.putRun(FuelCost, m, m.Name, fuelOf(hour, run), "L", run.Fuel, planned.From+"; price less credit of "+f.Today.String())
	}
}

// runFor is what so many hours of a machine cost that are still to come.
func (y Yard) runFor(m machine.Machine, hours float64, on unit.Date) (machine.Hour, machine.Run, error) {
	hour, err := y.HourCost(m, on)
	if err != nil {
		return hour, machine.Run{}, err
	}
	run, err := hour.For(hours)
	return hour, run, err
}

// addRun adds what a machine's run cost beside its fuel.
func (r *reckoning) addRun(m machine.Machine, hour machine.Hour, run machine.Run, hoursOf string) {
	which := "book figures"
	for _, taken := range hour.Taken {
		if taken.Own {
			which = "own hours or fuel, see the machine's page"
		}
	}
	ran := money.FactorOf(run.Hours, 4)
	r.putRun(MachineCost, m, m.Name+": owning, repair, oil", ran, "h", run.Ownership+run.Repair+run.Lubrication, hoursOf+"; "+which)
	r.putRun(LabourCost, m, "driving "+m.Name, ran, "machine h", run.Labour, hoursOf+"; labour of its hour")
}

// putRun adds a line of a run at its amount; what cost nothing is left out.
func (r *reckoning) putRun(kind CostKind, m machine.Machine, what string, quantity money.Factor, unitName string, amount money.Cents, source string) {
	if amount == 0 || quantity.Sign() <= 0 {
		return
	}
	r.put(CostLine{Kind: kind, ID: m.ID, What: what, Quantity: quantity, Unit: unitName, Price: amount.Factor().Over(quantity, priceDecimals), Amount: amount, Source: source})
}

// fuelOf is the litres of a run by the use of its hour.
func fuelOf(hour machine.Hour, run machine.Run) money.Factor {
	for _, taken := range hour.Taken {
		if taken.Unit == "L/h" {
			return money.FactorOf(taken.Value*run.Hours, 3)
		}
	}
	return money.Factor{}
}

// pricedHour is the hour of a machine, or why it has none.
type pricedHour struct {
	machine.Hour
	err error
}

// hourOf works a machine's hour out once, by the end of the job's season.
func (f Facts) hourOf(m machine.Machine, known map[int64]pricedHour) (machine.Hour, error) {
	if _, has := known[m.ID]; !has {
		hour, err := f.Yard.HourCost(m, f.Job.SeasonEnd(f.Today))
		known[m.ID] = pricedHour{hour, err}
	}
	return known[m.ID].Hour, known[m.ID].err
}

// spendMachines adds what the machines of the day sheets cost.
func (r *reckoning) spendMachines(f Facts, known map[int64]pricedHour) {
	for _, m := range f.Yard.Machines {
		sheets := f.Yard.on(m, f.DaySheets)
		if len(sheets) == 0 {
			continue
		}
		hour, err := f.hourOf(m, known)
		if err == nil {
			var run machine.Run
			if run, err = hour.Over(sheets); err == nil {
				r.addRun(m, hour, run, unit.Counted(len(sheets), "day sheet"))
				r.spendFuel(f, m, hour, run, sheets)
			}
		}
		if err != nil {
			r.leaveOut("%s: %s.", sentenceCase(m.Name), err.Error())
		}
	}
}

// spendFuel adds the fuel that the sheets say, each day's at its price less the credit; where
// they say none, what the hours burn by the machine's use.
func (r *reckoning) spendFuel(f Facts, m machine.Machine, hour machine.Hour, run machine.Run, sheets []machine.DaySheet) {
	var ml int64
	var exact money.Factor
	for _, s := range sheets {
		if s.MachineID == m.ID && s.FuelML > 0 {
			price := f.Yard.Fuel.On(s.Day)
			ml += s.FuelML
			exact = exact.Plus(price.Price.Minus(price.Credit).Times(thousandths(s.FuelML)))
		}
	}
	if ml > 0 {
		r.putRun(FuelCost, m, m.Name, thousandths(ml), "L", exact.Cents(), "put in, by the day sheets; price less credit of each day")
		return
	}
	r.putRun(FuelCost, m, m.Name, fuelOf(hour, run), "L", run.Fuel, fmt.Sprintf("%s; no sheet tells its fuel, so its use an hour stands", unit.Counted(len(sheets), "day sheet")))
}
