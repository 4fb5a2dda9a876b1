package store

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/machine"
	"rowtally/internal/money"
)

func machineBack(t *testing.T, y yard) {
	want := filled[machine.Machine](t)
	want.Owning, want.PulledByID = nil, y.tractor
	want.ID = y.id(y.AddMachine(y.ctx, y.act(), want))
	got, err := y.Machine(y.ctx, want.ID)
	y.must(err)
	same(t, got, want)
}

func owningBack(t *testing.T, y yard) {
	for _, keepYears := range []float64{7.5, 8.5} {
		want := owning(y.tractor)
		want.KeepYears = keepYears
		y.must(y.KeepOwning(y.ctx, y.act(), want))
		got, err := y.Machine(y.ctx, y.tractor)
		y.must(err)
		same(t, *got.Owning, want)
	}
}

// owning is figures of every kind, those aside that another choice excludes.
func owning(machineID int64) machine.Owning {
	f := func(v float64) *float64 { return &v }
	return machine.Owning{MachineID: machineID, PurchasePrice: money.MustFactor("130000.50"), ListPrice: money.Whole(150_000), AgeYears: 1.5,
		KeepYears: 15, AnnualHours: 400.5, InterestPercent: 8.25, TIHPercent: 1.1, RemainingClass: "Plough", RF1: f(0.007), RF2: f(2),
		WorkedH: 12.5, PtoKW: f(100.5), LPerKilowattHour: f(0.2), LubricationPercent: f(0), LabourPerH: money.MustFactor("38.125"),
		LabourHoursPerMachineHour: f(1.2), EnoughH: 50}
}

func fuelRateBack(t *testing.T, y yard) {
	want := filled[machine.FuelRate](t)
	want.Kind = machine.CreditOfFuel
	want.ID = y.id(y.AddFuelRate(y.ctx, y.act(), want))
	got, err := y.FuelRates(y.ctx)
	y.must(err)
	same(t, got, machine.FuelRates{want})
	_, err = y.AddFuelRate(y.ctx, y.act(), want)
	refused(t, err, fault.Refused, "from_on", "is kept already")
	y.must(y.RemoveFuelRate(y.ctx, y.act(), want.ID))
	refused(t, y.RemoveFuelRate(y.ctx, y.act(), want.ID), fault.Missing, "", "there is no rate of fuel")
}

func daySheetBack(t *testing.T, y yard) {
	want := filled[machine.DaySheet](t)
	want.JobID, want.MachineID = y.job, y.tractor
	want.ID = y.id(y.AddDaySheet(y.ctx, y.act(), want))
	want.EnteredAt, want.PersonID = morning.UTC(), y.contractor
	got, err := y.DaySheets(y.ctx, y.job)
	y.must(err)
	same(t, got, []machine.DaySheet{want})
}
