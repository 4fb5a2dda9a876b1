package demo

import (
	"fmt"
	"math"

	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// lotRow is one invented lot: what its label says, and its tests, oldest first.
type lotRow struct {
	code, species, common, form, unit string
	layer                             seed.Layer
	kgIn                              float64
	purity, thousandG                 float64
	loose                             float64 // kg to the litre
	cost, origin, note                string
	received                          unit.Date
	countHard                         bool
	tests                             []testRow
}

// testRow is one test: normal seedlings of each hundred, and hard seed.
type testRow struct {
	on     unit.Date
	normal [4]int
	hard   int
}

var lotRows = []lotRow{
	{"D26-01", "Atriplex nummularia", "old man saltbush", "fruit, bracts on", "fruit", seed.Shrub, 64.0, 92.0, 12.00, 0.14, "48",
		"purchased, private-land collection", "", "2026-02-02", false, []testRow{{"2026-02-10", [4]int{33, 36, 32, 35}, 0}}},
	{"D26-02", "Atriplex amnicola", "river saltbush", "fruit, bracts on", "fruit", seed.Shrub, 38.0, 88.5, 4.05, 0.16, "72",
		"purchased", "scarce: keep for wet flats", "2026-02-20", false, []testRow{{"2026-03-02", [4]int{20, 24, 23, 21}, 0}}},
	{"D26-03", "Atriplex undulata", "wavy leaf saltbush", "seed, bracts removed", "naked seed", seed.Shrub, 30.0, 95.0, 2.10, 0.42, "65",
		"purchased", "", "2026-02-20", false, []testRow{{"2026-03-02", [4]int{50, 53, 49, 52}, 0}}},
	{"D26-04", "Atriplex lentiformis", "quail brush", "fruit, bracts on", "fruit", seed.Shrub, 12.0, 90.0, 1.00, 0.15, "55",
		"purchased", "spare", "2026-01-10", false, []testRow{{"2026-01-20", [4]int{18, 38, 26, 30}, 0}}},
	{"D26-05", "Atriplex semibaccata", "creeping saltbush", "dried fruit", "fruit", seed.Shrub, 15.0, 86.0, 2.90, 0.20, "60",
		"own collection on farm, owner's permission on file", "", "2026-02-12", false, []testRow{{"2026-02-24", [4]int{45, 48, 44, 47}, 0}}},
	{"D25-11", "Atriplex nummularia", "old man saltbush", "fruit, bracts on", "fruit", seed.Shrub, 50.0, 91.0, 11.80, 0.14, "42",
		"purchased, 2024 harvest", "27 % in 2025, 9 % in 2026", "2025-04-14", false,
		[]testRow{{"2024-12-03", [4]int{31, 28, 30, 27}, 0}, {"2025-04-28", [4]int{26, 29, 25, 28}, 0}, {"2026-05-06", [4]int{8, 10, 7, 11}, 0}}},
	{"D26-07", "Rhagodia preissii", "mallee saltbush", "naked seed", "naked seed", seed.Shrub, 4.0, 97.0, 0.90, 0.55, "210",
		"purchased", "edge rows only", "2026-03-02", false, []testRow{{"2026-03-15", [4]int{57, 60, 56, 59}, 0}}},
	{"U26-01", "Puccinellia ciliata", "puccinellia", "with husk", "seed with husk", seed.Understorey, 400, 96.0, 0.20, 0.25, "14.50",
		"purchased, bagged 20 kg", "", "2026-01-05", false, []testRow{{"2026-01-12", [4]int{80, 83, 79, 82}, 0}}},
	{"U26-02", "Thinopyrum ponticum", "tall wheatgrass", "seed", "seed", seed.Understorey, 300, 97.0, 6.50, 0.30, "9.80",
		"purchased, bagged 20 kg", "keep off drain banks", "2026-01-05", false, []testRow{{"2026-01-12", [4]int{83, 86, 82, 85}, 0}}},
	{"U26-03", "Trifolium michelianum", "balansa clover", "seed", "seed", seed.Understorey, 100, 98.0, 0.90, 0.78, "11",
		"purchased", "inoculate within days of sowing", "2026-01-20", true, []testRow{{"2026-02-03", [4]int{73, 76, 72, 75}, 12}}},
	{"U26-04", "Melilotus siculus", "messina", "scarified", "seed", seed.Understorey, 60, 97.5, 2.60, 0.80, "19",
		"purchased", "needs its own salt-tolerant rhizobia", "2026-01-20", false, []testRow{{"2026-02-03", [4]int{77, 80, 76, 79}, 0}}},
	{"U25-09", "Trifolium fragiferum", "strawberry clover", "seed", "seed", seed.Understorey, 25, 97.0, 1.57, 0.78, "16",
		"purchased", "retest before quoting", "2025-02-18", false,
		[]testRow{{"2023-03-06", [4]int{88, 85, 87, 86}, 0}, {"2024-02-27", [4]int{80, 78, 81, 77}, 0}, {"2025-03-04", [4]int{70, 73, 69, 72}, 0}}},
	{"U26-05", "Trifolium subterraneum", "subterranean clover", "seed", "seed", seed.Understorey, 40, 98.5, 7.10, 0.79, "9.50",
		"purchased", "for the sandy rises", "2026-01-20", true, []testRow{{"2026-02-03", [4]int{84, 87, 83, 86}, 6}}},
}

// stored is a place where a lot lay, its moisture in % and the store's temperature in °C; 0
// where nobody measured.
type stored struct {
	since             unit.Date
	place             string
	moisture, celsius float64
}

// stores are the places of some lots: one whose species has published constants, one that
// is known by its own tests alone, and some of which nothing can be foreseen.
var stores = map[string][]stored{
	"U26-05": {{"2026-01-20", "shed, in bags", 10, 24}, {"2026-04-01", "cool room", 8, 10}},
	"D25-11": {{"2025-04-14", "shed, under the iron", 12.5, 27}},
	"D26-01": {{"2026-02-02", "shed, in woven bags", 9.5, 21}},
	"D26-04": {{"2026-01-10", "shed, in bags", 0, 0}},
}

// labels are what some lots' labels and certificates say beyond the rest.
var labels = map[string]func(*seed.Lot){
	"D26-01": func(l *seed.Lot) {
		l.Harvest, l.InertPercent, l.OtherSeedPercent, l.SupplierLot = "2025-12", new(7.4), new(0.6), "EX-118"
	},
	"D25-11": func(l *seed.Lot) { l.Harvest = "2024-11" },
	"D26-05": func(l *seed.Lot) { l.Harvest, l.Permit = "2026-01", "example permit 7" },
	"U26-04": func(l *seed.Lot) { l.Treatment, l.TreatedOn = "example seed coat", "2026-01-19" },
}

func (b *builder) shed() {
	for _, row := range lotRows {
		id, err := b.books.AddLot(b.ctx, b.at(row.received), row.lot(), int64(math.Round(row.kgIn*1000)))
		b.lots[row.code] = b.add(row.code, id, err)
		for _, lay := range stores[row.code] {
			_, err := b.books.AddStorageCondition(b.ctx, b.at(lay.since), lay.of(id))
			b.keep(row.code+" store", err)
		}
		for _, test := range row.tests {
			_, err := b.books.AddTest(b.ctx, b.at(later(test.on, row.received)), test.of(id))
			b.keep(row.code+" test", err)
		}
	}
	for _, p := range []struct {
		product mix.Product
		litres  int64
	}{
		{mix.Product{Name: "vermiculite, medium grade", BulkDensityKgPerM3: 96, BagL: 100, CostPerBag: money.MustFactor("38.00"), ChargePerL: money.MustFactor("0.62"), Note: "supplier's asbestos-free statement on file"}, 8200},
		{mix.Product{Name: "vermiculite, fine grade", BulkDensityKgPerM3: 112, BagL: 100, CostPerBag: money.MustFactor("41.00"), Note: "trial; not for twin hoppers"}, 600},
		{mix.Product{Name: "washed river sand", BulkDensityKgPerM3: 1550, Note: "for bulking the alley box only"}, 400},
	} {
		id, err := b.books.AddProduct(b.ctx, b.at("2025-06-10"), p.product, p.litres*1000)
		b.media[p.product.Name] = b.add(p.product.Name, id, err)
	}
}

func (row lotRow) lot() seed.Lot {
	lot := seed.Lot{
		Code: row.code, Species: row.species, CommonName: row.common, Form: row.form, Unit: row.unit, Layer: row.layer,
		Origin: row.origin, ReceivedOn: row.received, PurityPercent: row.purity, UnitsPerKg: 1e6 / row.thousandG,
		BulkDensityKgPerL: row.loose, CostPerKg: money.MustFactor(row.cost), CountHard: row.countHard, RetestMonths: seed.UsualRetest(row.species).Months, Note: row.note,
	}
	if label := labels[row.code]; label != nil {
		label(&lot)
	}
	return lot
}

func (s stored) of(lotID int64) seed.StorageCondition {
	c := seed.StorageCondition{LotID: lotID, Since: s.since, Place: s.place}
	if s.moisture > 0 {
		c.MoisturePercent, c.TemperatureC = &s.moisture, &s.celsius
	}
	return c
}

func (t testRow) of(lotID int64) seed.Test {
	test := seed.Test{LotID: lotID, TestedOn: t.on, Laboratory: "example laboratory", Reference: fmt.Sprintf("EX-%s", t.on), Method: "4 × 100 on paper, 15 °C, 21 days"}
	for _, normal := range t.normal {
		hard, zero := t.hard, 0
		dead := 100 - normal - hard
		test.Replicates = append(test.Replicates, seed.Replicate{Seeds: 100, Normal: normal, Abnormal: &zero, Hard: &hard, Fresh: &zero, Dead: &dead})
	}
	return test
}

func later(a, b unit.Date) unit.Date { return max(a, b) }

// stocktake sets what lies in the shed to what the demo's day finds there.
func (b *builder) stocktake() {
	kg := map[string]float64{"D26-01": 41.5, "D26-02": 38.0, "D26-03": 17.2, "D26-04": 12.0, "D26-05": 9.4, "D25-11": 22.0, "D26-07": 3.1,
		"U26-01": 262, "U26-02": 180, "U26-03": 55, "U26-04": 60, "U25-09": 25}
	for code, found := range kg {
		err := b.books.CountStock(b.ctx, b.at("2026-07-17"), job.LotStock, b.lots[code], job.Shed, int64(found*1000), "stocktake before the August jobs")
		b.keep("count "+code, err)
	}
	err := b.books.CountStock(b.ctx, b.at("2026-07-17"), job.MediumStock, b.media["vermiculite, medium grade"], job.Shed, 4_720_000, "46 bags and two opened")
	b.keep("count the vermiculite", err)
}
