package demo

import (
	"rowtally/internal/machine"
	"rowtally/internal/money"
)

// yard keeps the machines, with what they cost to own and to run, and the rates of fuel. All
// these figures are invented. Meter readings are hours as a dial shows them.
func (b *builder) yard() {
	hours := func(h float64) int64 { return int64(h*60 + 0.5) }
	for _, m := range []machine.Machine{
		{Name: "tractor", Kind: "tractor", MeterMin: hours(4812.4), MeterOn: "2025-07-01", ServiceDueMin: hours(5050), ServiceEveryMin: hours(250), ServiceEveryMonths: 12, ServiceOn: "2026-11-30"},
		{Name: "twin-row mounder-seeder", Kind: "mounder-seeder", Rows: 2, RowGapM: 2, HopperUsableL: 160, Hoppers: 2, WheelM: 2.36, MeterOn: "2025-07-01", Note: "two hoppers of 90 L, 80 L usable each",
			Pace: machine.Pace{SpeedKmh: 5, TurnS: figure(40), FillMin: figure(18)}},
		{Name: "alley drill", Kind: "drill", Rows: 20, RowGapM: 0.15, MeterOn: "2025-07-01", Note: "3.0 m, 20 rows at 15 cm"},
		{Name: "truck and float", Kind: "truck", MeterOn: "2025-07-01", Note: "164 km round trip to Lagoon; odometer kept", ServiceOn: "2026-07-31", ServiceEveryMonths: 6},
	} {
		if m.Kind == "mounder-seeder" || m.Kind == "drill" {
			m.PulledByID = b.machines["tractor"]
		}
		id, err := b.books.AddMachine(b.ctx, b.at("2025-07-01"), m)
		b.machines[m.Name] = b.add(m.Name, id, err)
	}
	b.owned()
	b.fuelled()
}

func figure(v float64) *float64 { return &v }

// owned keeps what each machine costs.
func (b *builder) owned() {
	for _, one := range []struct {
		name string
		machine.Owning
	}{
		{"tractor", machine.Owning{PurchasePrice: money.Whole(96_000), ListPrice: money.Whole(158_000), AgeYears: 6, KeepYears: 10, AnnualHours: 450, InterestPercent: 7.5, TIHPercent: 1.5,
			RemainingClass: "Farm tractor medium (60-112 kW / 80-150 hp)", RepairClass: "Tractor 4WD and crawler", PtoKW: figure(82), LabourPerH: money.MustFactor("38.50"), EnoughH: 40}},
		{"twin-row mounder-seeder", machine.Owning{PurchasePrice: money.Whole(42_000), ListPrice: money.Whole(48_000), KeepYears: 12, AnnualHours: 120, InterestPercent: 7.5, TIHPercent: 1,
			RemainingClass: "Planter / grain drill", RF1: figure(0.3), RF2: figure(1.8), WorkedH: 310, FuelLPerH: figure(0), EnoughH: 40}},
		{"alley drill", machine.Owning{PurchasePrice: money.Whole(18_500), ListPrice: money.Whole(31_000), AgeYears: 8, KeepYears: 10, AnnualHours: 60, InterestPercent: 7.5, TIHPercent: 1,
			RemainingClass: "Planter / grain drill", RepairClass: "Grain drill", WorkedH: 540, FuelLPerH: figure(0), EnoughH: 40}},
		{"truck and float", machine.Owning{PurchasePrice: money.Whole(64_000), ListPrice: money.Whole(118_000), AgeYears: 5, KeepYears: 8, AnnualHours: 220, InterestPercent: 7.5, TIHPercent: 3,
			RemainingPercent: figure(18), RF1: figure(0.004), RF2: figure(1.5), WorkedH: 2100, FuelLPerH: figure(19), LabourPerH: money.MustFactor("38.50"), EnoughH: 40}},
	} {
		one.MachineID = b.machines[one.name]
		b.keep("what the "+one.name+" costs", b.books.KeepOwning(b.ctx, b.at("2025-07-01"), one.Owning))
	}
}

// fuelled keeps prices and credits of fuel.
func (b *builder) fuelled() {
	for _, r := range []machine.FuelRate{
		{Kind: machine.PriceOfFuel, FromOn: "2025-07-01", PerL: money.MustFactor("1.615"), Note: "docket of the depot (demo)"},
		{Kind: machine.CreditOfFuel, FromOn: "2025-07-01", PerL: money.MustFactor("0.481"), Note: "invented for the demo: look at the tax office's table"},
		{Kind: machine.PriceOfFuel, FromOn: "2026-05-04", PerL: money.MustFactor("1.684"), Note: "docket of the depot (demo)"},
	} {
		id, err := b.books.AddFuelRate(b.ctx, b.at("2025-07-01"), r)
		b.add("fuel "+string(r.Kind), id, err)
	}
}
