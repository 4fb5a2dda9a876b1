package demo

import (
	"rowtally/internal/bill"
	"rowtally/internal/count"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// eastSwamp was sown and billed last season.
func (b *builder) eastSwamp() {
	j := b.season(2025, "2025-06-09", "2025-06-20", "2025-09-01", "2025-09-12")
	id := b.asked("Brackwater Flat", "East Swamp", "east-swamp.geojson", j)
	b.visit(id, "2025-06-20", 12, 0.5, "2024-08")
	b.levelled(id, "2025-06-20", 0.5, 350)
	b.lay("2025-06-23", twin(id, 4, 12, 9.1))
	b.pick("2025-06-23", id, "D25-11")
	b.price("2025-06-23", id, "150", "98.00", "22.58")
	b.costs(id, "2025-06-24", effort{tractorH: "17", seederH: "17", handH: "12", handDoneH: "13.5", km: "150", doneKm: "152", others: sprayed("34", "561.00")})
	b.quote(id, "2025-06-24", "the owner")
	b.mixTubs(id, "2025-09-02", 5)
	b.worked(id, "2025-09-02", 9.2, 24.0, 96, 0, 0, "")
	b.worked(id, "2025-09-03", 8.4, 21.5, 88, 0, 0, "")
	b.load(id, "2025-09-04", drive{name: "east-swamp-2-3-sep.csv", on: "2025-09-02", share: 0.9921, seed: 1})
	b.bill(id, "2025-09-08")
	b.paid("Brackwater Flat", "2025-09-19")
	short := b.asks("Brackwater Flat", "the owner", job.Question{JobID: id, Row: 12}, "2025-09-22", "Row 12 looks bare at its northern end. Was it missed?")
	b.answers(short, "2025-09-23", "The log shows row 12 sown to its planned end. Beyond it lies the headland, which is left out of the rows and of the bill.")
	b.closes(short, "Brackwater Flat", "the owner", "2025-09-24", "Thank you, I see it on the map.")
	b.walked(id, "2025-09-26", 19)
	b.counted(id, "2025-10-24", count.First, "barley grass between the rows", 9, 7, 7, 3, 6, 8, 5, 7, 7, 4, 6, 4, 7, 9, 3, 6, 9, 6, 3)
	b.counted(id, "2026-05-15", count.Autumn, "", 7, 6, 5, 2, 5, 6, 5, 6, 4, 4, 5, 3, 6, 6, 2, 5, 7, 4, 3)
}

// lagoon was billed by the plan before its log was loaded: the log shows less.
func (b *builder) lagoon() {
	j := b.season(2026, "2026-03-16", "2026-04-02", "2026-06-22", "2026-07-03")
	id := b.asked("Brackwater Flat", "Lagoon", "lagoon.geojson", j)
	b.visit(id, "2026-04-02", 10, 0.6, "2025-08")
	b.levelled(id, "2026-04-02", 0.3, 30)
	b.lay("2026-04-06", twin(id, 20, 12, 6.94))
	b.pick("2026-04-06", id, "D26-01", "D26-03")
	b.price("2026-04-06", id, "164", "105.00", "22.7248", rate("Standby, locked gate, after the first free hour", "h", "1", "165.00"))
	b.costs(id, "2026-04-07", effort{tractorH: "9", seederH: "9", handH: "7", handDoneH: "8", km: "164", doneKm: "164"})
	b.quote(id, "2026-04-07", "the owner")
	b.mixTubs(id, "2026-06-24", 5)
	b.worked(id, "2026-06-24", 9.6, 24.0, 104, 120, 7601, "gate locked until 10 o'clock")
	b.noted(id, "2026-06-24", "lagoon gate", "Gate at the road chained when we came at eight, opened at ten.", lockedGate())
	b.cleaned(id, "2026-06-24", 6)
	b.billPlanned(id, "2026-06-29")
	b.spaced(id, "2026-07-01", 3.14)
	b.load(id, "2026-07-02", drive{name: "lagoon-24-jun.gpx", on: "2026-06-24", share: 0.9748, seed: 2})
	b.asks("Brackwater Flat", "the owner", b.rowLine(id, "2026-07-06"), "2026-07-06",
		"You billed 24.80 row-km, and your driver told me he drove 12 km that day. Which of the two am I paying for?")
	counted := b.asks("Brackwater Flat", "the owner", job.Question{JobID: id}, "2026-07-06",
		"I paced ten lengths of 100 m: 32, 33, 30, 34, 31, 32, 33, 30, 32, 31 placements. Should it not be 33 in each?")
	b.answers(counted, "2026-07-08", "Your counts mean 31.8 placements in 100 m, one every 3.14 m; 33.3 were planned, one every 3.00 m. The wheel slipped on wet ground. The row-km are the same. Say so here if you want the seed line looked at.")
	b.walked(id, "2026-07-06", 2)
}

// billPlanned issues an invoice over the planned row-km, as if they had been sown.
func (b *builder) billPlanned(id int64, on unit.Date) {
	f := b.facts(id, on)
	laid, err := f.Rows()
	b.keep("rows", err)
	f.Sown = &job.Sown{JobID: id, PlannedM: laid.RowM, CoveredM: laid.RowM}
	draft, err := job.InvoiceDraft(f)
	b.keep("invoice", err)
	draft.Basis = "Row-km as planned; the machine's log was not loaded when this was issued."
	if b.failed == nil {
		b.issue(draft, on)
	}
}

// bore ran out of mix: the meter dropped 58 mL for 45.
func (b *builder) bore() {
	j := b.season(2026, "2026-04-20", "2026-05-04", "2026-07-13", "2026-07-24")
	id := b.asked("Three Soaks", "Bore", "bore.kml", j)
	b.visit(id, "2026-05-04", 11, 0.5, "2025-08")
	b.levelled(id, "2026-05-04", 0.4, 95)
	b.lay("2026-05-06", twin(id, 85, 12, 6.6))
	b.pick("2026-05-06", id, "D26-01", "D26-03")
	b.price("2026-05-06", id, "118", "105.00", "22.7248")
	b.costs(id, "2026-05-07", effort{tractorH: "13", seederH: "13", handH: "10", km: "118", share: "60", shareWhy: "one float for Bore and Airstrip, by their row-km", others: sprayed("26", "442.00")})
	b.quote(id, "2026-05-07", "the manager")
	b.mixTubs(id, "2026-07-15", 4)
	b.worked(id, "2026-07-15", 8.8, 15.4, 92, 0, 5180, "")
	b.worked(id, "2026-07-16", 7.1, 11.7, 75, 0, 3912, "ran out of mix")
	b.caught(id, "2026-07-16", 58)
	b.load(id, "2026-07-17", drive{name: "bore-15-16-jul.csv", on: "2026-07-15", share: 0.7798, seed: 3})
}

// airstrip waits for the ground to dry.
func (b *builder) airstrip() {
	j := b.season(2026, "2026-05-11", "2026-05-18", "2026-07-16", "2026-07-23")
	j.Note = "Held by weather since 18 Jul: too wet to carry the tractor."
	id := b.asked("Three Soaks", "Airstrip", "airstrip.geojson", j)
	b.visit(id, "2026-05-18", 9, 0.6, "2025-07")
	b.levelled(id, "2026-05-18", 0.6, 170)
	b.lay("2026-05-20", twin(id, 0, 10, 4.5))
	b.pick("2026-05-20", id, "D26-01", "D26-03")
	b.price("2026-05-20", id, "122", "108.00", "22.7248")
	b.costs(id, "2026-05-21", effort{tractorH: "7.5", seederH: "7.5", handH: "6", km: "118", share: "40", shareWhy: "one float for Bore and Airstrip, by their row-km", resow: "5", resowWhy: "low end of the strip may stand under water"})
	b.quote(id, "2026-05-21", "the manager")
	b.vary(id, "2026-07-15", "Two stumps in the third belt, not seen at the visit.", rate("Stumps pushed aside", "h", "1.5", "210.00"))
}

// gate4 was agreed on a lot that has failed its retest since.
func (b *builder) gate4() {
	j := b.season(2026, "2026-03-23", "2026-04-09", "2026-08-10", "2026-08-17")
	j.VisitNote = "One dam."
	id := b.asked("Limestone Gutter", "Gate 4", "gate-4.geojson", j)
	b.visit(id, "2026-04-09", 11, 0.4, "2025-08")
	b.levelled(id, "2026-04-09", 0.4, 60)
	b.lay("2026-04-13", twin(id, 72, 20, 8.6))
	b.pick("2026-04-13", id, "D25-11", "D26-03")
	b.price("2026-04-13", id, "204", "112.00", "24.60")
	b.costs(id, "2026-04-14", effort{handH: "10", km: "204"})
	b.quote(id, "2026-04-14", "the owner")
	b.keep("hold", b.books.HoldLot(b.ctx, b.at("2026-05-08"), b.lots["D25-11"], "2026-05-08", "failed its retest, 9 % where it stood at 27 %"))
}

// drainCorner is too salt and too wet for shrubs.
func (b *builder) drainCorner() {
	j := b.season(2026, "2026-06-02", "2026-06-11", "", "")
	id := b.asked("Limestone Gutter", "Drain Corner", "drain-corner.geojson", j)
	b.visit(id, "2026-06-11", 34, 0.2, "2026-06-11")
}

// laneStrip is understorey alone.
func (b *builder) laneStrip() {
	j := b.season(2026, "2026-06-15", "2026-06-22", "2026-08-17", "2026-08-24")
	j.Note = "Understorey alone, no shrub rows: puccinellia 3 kg/ha, tall wheatgrass, balansa."
	id := b.asked("Brackwater Flat", "Lane Strip", "lane-strip.kml", j)
	lines := append(b.facts(id, Day).Rates[:0:0],
		rate("Set-up", "each", "1", "250.00"), rate("Travel, float out and back", "driven km", "158", "2.90"),
		rate("Drilling understorey, net hectares", "ha", "22.0", "46.00"),
		rate("Puccinellia, 3 kg/ha, lot U26-01", "kg", "66", "16.24"),
		rate("Tall wheatgrass, 4 kg/ha, lot U26-02", "kg", "88", "10.98"),
		rate("Balansa clover, 2 kg/ha, inoculated, lot U26-03", "kg", "44", "13.50"),
		rate("Roller over the drilled hectares", "ha", "22.0", "18.00"))
	lines[len(lines)-1].Optional = true
	for i := range lines {
		lines[i].Position = i + 1
		lines[i].TaxPercent = money.MustFactor("10")
	}
	b.keep("understorey", b.books.KeepUnderstorey(b.ctx, b.at("2026-06-29"), job.Understorey{JobID: id, HectaresOf: job.GrossHa, Species: []job.UnderstoreySpecies{
		{Species: "Puccinellia ciliata", RateKgPerHa: 3, LotIDs: []int64{b.lots["U26-01"]}},
		{Species: "Thinopyrum ponticum", RateKgPerHa: 4, LotIDs: []int64{b.lots["U26-02"]}},
		{Species: "Trifolium michelianum", RateKgPerHa: 2, CountHard: true, InoculantGroup: "C", InoculantGPerKg: 10, InoculantHours: 24, LotIDs: []int64{b.lots["U26-03"]}},
	}}))
	b.keep("price", b.books.KeepRates(b.ctx, b.at("2026-06-29"), id, lines))
	b.costs(id, "2026-06-30", effort{tractorH: "8", drillH: "8", handH: "4", km: "158"})
	b.quote(id, "2026-06-30", "")
	b.stocktake()
}

// hut is asked for, in single rows; its quote is drafted with twin rows beside them.
func (b *builder) hut() {
	j := b.season(2026, "2026-07-14", "", "2026-08-24", "2026-08-31")
	id := b.asked("Three Soaks", "Hut", "hut.geojson", j)
	b.lay("2026-07-16", job.Layout{JobID: id, BearingDeg: 10, RowsPerBelt: 1, AlleyM: 4, HeadlandM: 5.7, NoGoMarginM: 10, SpacingM: 3, LeastRowM: 20})
	b.price("2026-07-16", id, "118", "74.00", "22.7248")
	draft, err := job.EstimateDraft(b.facts(id, "2026-07-17"))
	b.keep("estimate", err)
	if b.failed == nil {
		b.issue(draft, "2026-07-17")
	}
	b.beside("2026-07-18", id, twin(id, 10, 12, 5.7), "105.00")
}

// beside offers a job of single rows in twin rows as well, at a price of their own.
func (b *builder) beside(on unit.Date, id int64, twins job.Layout, rows string) {
	rates := b.facts(id, on).Rates
	for i := range rates {
		if rates[i].Basis == bill.RowKm && rates[i].Position == 3 {
			rates[i].UnitPrice = money.MustFactor(rows)
		}
	}
	b.keep("alternative", b.books.AddAlternative(b.ctx, b.at(on), id, "single rows, 4 m alleys", "twin rows, 12 m alleys"))
	b.keep("alternative", b.books.KeepAlternative(b.ctx, b.at(on), job.Alternative{JobID: id, Letter: "B", Name: "twin rows, 12 m alleys", Layout: &twins, Rates: rates}))
}
