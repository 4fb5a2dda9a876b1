package main

import (
	"fmt"
	"math/rand/v2"
	"time"

	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// chance makes up calls. The figures are nobody's: some make a mix, some are refused.
type chance struct{ *rand.Rand }

var morning = time.Date(2026, 7, 20, 0, 0, 0, 0, time.UTC)

func (c chance) between(low, high float64) float64 { return low + (high-low)*c.Float64() }

func (c chance) once(n int) bool { return c.IntN(n) == 0 }

// call is one of the four calls, on a job of its own or on the one before.
func (c chance) call(species, lots int) asked {
	a := asked{Call: "view", Job: c.job(species, lots), Today: unit.Date("2026-07-20").Plus(c.IntN(5)), Began: morning}
	for range c.IntN(8) {
		a.Entries = append(a.Entries, c.entry(a))
	}
	switch {
	case c.once(4):
		a.Call, a.Trial = "catch", c.trial()
	case c.once(5):
		a.Call, a.Remains = "remains", &job.Remains{MixML: int64(c.between(0, 600_000)), Kept: c.once(2)}
	case c.once(6):
		e := c.entry(a)
		a.Call, a.Entry = "check", &e
	}
	return a
}

func (c chance) job(species, lots int) *job.TruckJob {
	f := job.Facts{
		Today: "2026-07-20", Job: job.Job{ID: 3, Code: "J-03", Name: "Bore"}, Paddock: job.Paddock{Name: "Bore"},
		Layout: &job.Layout{SpacingM: c.between(1, 6), RowsPerBelt: 2}, Shelf: job.Shelf{Tests: map[int64][]seed.Test{}},
		Recipe: &job.Recipe{PlacementML: c.between(15, 90), TubL: c.between(60, 400), SparePercent: c.between(0, 10), ProductID: 1, ScaleStepG: []float64{0.1, 1, 5}[c.IntN(3)]},
	}
	f.Shelf.Products = []mix.Product{{ID: 1, Name: "vermiculite", BulkDensityKgPerM3: c.between(80, 140), BagL: 100}}
	f.Shelf.Balances = []job.Balance{{Kind: job.MediumStock, ID: 1, Place: job.Shed, OnHand: int64(c.between(1e5, 9e6))}}
	for i := range species {
		one := job.RecipeSpecies{Species: fmt.Sprint("Atriplex ", i), EmergencePercent: c.between(1, 12), LivePerPlacement: c.between(1, 40)}
		for range lots {
			one.LotIDs = append(one.LotIDs, c.lot(&f, one.Species))
		}
		f.Recipe.Species = append(f.Recipe.Species, one)
	}
	rows := job.RowsPlanned{RowM: c.between(500, 60_000), Says: "2 rows"}
	if c.once(20) {
		rows = job.RowsPlanned{Cannot: "The rows are not laid yet."}
	}
	return &job.TruckJob{Facts: f, Rows: rows}
}

// lot puts a tested lot on the shelf and gives its number.
func (c chance) lot(f *job.Facts, species string) int64 {
	id := int64(len(f.Shelf.Lots) + 1)
	lot := seed.Lot{ID: id, Code: fmt.Sprint("D26-", id), Species: species, CommonName: "saltbush", Form: "fruit", Unit: "fruit", Layer: seed.Shrub,
		PurityPercent: c.between(60, 100), UnitsPerKg: c.between(5e4, 2e6), RetestMonths: 12, CostPerKg: money.Whole(0), CountHard: c.once(2)}
	if c.once(3) {
		lot.BulkDensityKgPerL = c.between(0.1, 0.6)
	}
	if c.once(60) {
		lot.HoldReason, lot.HeldOn = "failed its retest", "2026-07-01"
	}
	f.Shelf.Lots = append(f.Shelf.Lots, lot)
	f.Shelf.Balances = append(f.Shelf.Balances, job.Balance{Kind: job.LotStock, ID: id, Place: job.Shed, OnHand: int64(c.between(2_000, 900_000))},
		job.Balance{Kind: job.LotStock, ID: id, Place: job.Truck, OnHand: int64(c.between(0, 5_000))})
	test := seed.Test{ID: id, LotID: id, TestedOn: "2026-03-01", Replicates: nil}
	for range 4 {
		test.Replicates = append(test.Replicates, seed.Replicate{Seeds: 100, Normal: c.IntN(90) + 5})
	}
	f.Shelf.Tests[id] = []seed.Test{test}
	return id
}

func (c chance) entry(a asked) job.TruckEntry {
	n := len(a.Entries)
	e := job.TruckEntry{Key: fmt.Sprint("key ", n), JobID: 3, At: morning.Add(time.Duration(n) * time.Hour)}
	switch c.IntN(10) {
	case 0, 1, 2:
		view, err := a.Job.View(a.Entries, a.Today, a.Began)
		if err != nil || view.Tub == nil {
			e.Kind, e.FuelML = job.FuelEntry, int64(c.IntN(90_000))
			return e
		}
		e.Kind, e.Tub = job.TubEntry, view.Tub
		e.Tub.MixedAt = e.At
	case 3:
		e.Kind, e.Catch = job.CatchEntry, c.trial()
	case 4:
		e.Kind, e.Hopper = job.HopperEntry, &job.HopperReading{LeftL: c.between(0, 200), RowM: c.between(0, 40_000)}
	case 5:
		e.Kind, e.Day = job.DayEntry, &machine.DaySheet{MachineID: int64(c.IntN(3)), Day: a.Today, MeterToMin: int64(c.IntN(2000)), RowM: c.between(0, 9000)}
	case 6:
		e.Kind, e.Undoes = job.UndoEntry, &job.Undone{Key: fmt.Sprint("key ", c.IntN(n+1))}
	case 8:
		e.Kind, e.Remains = job.CleanOutEntry, &job.Remains{MixML: int64(c.between(1000, 300_000)), Kept: c.once(2)}
	case 7:
		e.Kind = []job.EntryKind{job.StandbyStart, job.StandbyStop}[c.IntN(2)]
	default:
		e.Kind, e.Text = job.NoteEntry, "gate left open"
	}
	return e
}

func (c chance) trial() *job.CatchTrial {
	t := &job.CatchTrial{Turns: c.between(0, 30), WheelM: c.between(1.5, 3), Placements: c.IntN(12)}
	for range c.IntN(3) + 1 {
		t.CaughtML = append(t.CaughtML, []float64{c.between(100, 900), c.between(100, 900), c.between(100, 900)})
	}
	return t
}
