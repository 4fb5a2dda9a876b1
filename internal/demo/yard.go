package demo

import "rowtally/internal/machine"

// yard keeps the machines. Meter readings are hours as a dial shows them.
func (b *builder) yard() {
	hours := func(h float64) int64 { return int64(h*60 + 0.5) }
	for _, m := range []machine.Machine{
		{Name: "tractor", Kind: "tractor", MeterMin: hours(4812.4), MeterOn: "2025-07-01", ServiceDueMin: hours(5050)},
		{Name: "twin-row mounder-seeder", Kind: "mounder-seeder", Rows: 2, RowGapM: 2, HopperUsableL: 160, Hoppers: 2, WheelM: 2.36, MeterOn: "2025-07-01", Note: "two hoppers of 90 L, 80 L usable each"},
		{Name: "alley drill", Kind: "drill", MeterOn: "2025-07-01", Note: "3.0 m, 20 rows at 15 cm"},
		{Name: "truck and float", Kind: "truck", MeterOn: "2025-07-01", Note: "164 km round trip to Lagoon; odometer kept"},
	} {
		id, err := b.books.AddMachine(b.ctx, b.at("2025-07-01"), m)
		b.machines[m.Name] = b.add(m.Name, id, err)
	}
}
