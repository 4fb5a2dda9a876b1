package demo

import (
	"crypto/sha256"
	"encoding/hex"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// jobs lives the season through, in the order in which it happened.
func (b *builder) jobs() {
	for _, f := range []job.Farm{
		{Name: "Brackwater Flat", Contact: "the owner", Address: "2 Example Road\nExampletown SA 5000", Phone: "08 5550 0110"},
		{Name: "Three Soaks", Contact: "the manager", Address: "3 Example Road\nExampletown SA 5000", Phone: "08 5550 0120"},
		{Name: "Limestone Gutter", Contact: "the owner", Address: "4 Example Road\nExampletown SA 5000", Phone: "08 5550 0130"},
	} {
		id, err := b.books.AddFarm(b.ctx, b.at("2025-06-09"), f)
		b.farms[f.Name] = b.add(f.Name, id, err)
		token := chance() + chance() + chance()
		b.keep("link", b.books.AddLink(b.ctx, b.at("2025-06-09"), id, token))
		b.town.Links = append(b.town.Links, Link{f.Name, token})
	}
	b.eastSwamp()
	b.lagoon()
	b.bore()
	b.airstrip()
	b.gate4()
	b.drainCorner()
	b.laneStrip()
	b.hut()
	// the season's other hours, on work that is not kept here
	b.keep("meter", b.books.ReadMeter(b.ctx, b.at("2026-07-18"), b.machines["tractor"], job.Minutes(5006.8), "2026-07-18"))
}

// asked adds the paddock from its file and the job on it.
func (b *builder) asked(farm, paddock, file string, j job.Job) int64 {
	p := job.Paddock{FarmID: b.farms[farm], Name: paddock}
	content, err := files.ReadFile("files/" + file)
	b.keep(file, err)
	b.keep(file, job.ReadBoundary(&p, file, content, j.AskedOn))
	paddockID, err := b.books.AddPaddock(b.ctx, b.at(j.AskedOn), p)
	b.keep(paddock, err)
	j.FarmID, j.PaddockID, j.Name = b.farms[farm], paddockID, paddock
	id, err := b.books.AddJob(b.ctx, b.at(j.AskedOn), j)
	return b.add(paddock, id, err)
}

// twin lays two rows 2 m apart, single one row; a placement every 3 m.
func twin(jobID int64, bearing, alley, headland float64) job.Layout {
	return job.Layout{JobID: jobID, BearingDeg: bearing, RowsPerBelt: 2, RowGapM: 2, AlleyM: alley, HeadlandM: headland, NoGoMarginM: 10, SpacingM: 3, LeastRowM: 20}
}

func (b *builder) lay(on unit.Date, l job.Layout) {
	b.keep("lay", b.books.KeepLayout(b.ctx, b.at(on), l))
}

// pick chooses the lots: 30 live old man saltbush and 20 wavy leaf a placement, 5 in 100.
func (b *builder) pick(on unit.Date, jobID int64, oldMan string, more ...string) {
	r := job.Recipe{JobID: jobID, PlacementML: 45, TubL: 160, ScaleStepG: 1, ProductID: b.media["vermiculite, medium grade"],
		SowerID: b.machines["twin-row mounder-seeder"],
		Species: []job.RecipeSpecies{{Species: "Atriplex nummularia", LivePerPlacement: 30, LotIDs: []int64{b.lots[oldMan]}}}}
	for _, code := range more {
		r.Species = append(r.Species, job.RecipeSpecies{Species: "Atriplex undulata", LivePerPlacement: 20, LotIDs: []int64{b.lots[code]}})
	}
	for i := range r.Species {
		s := &r.Species[i]
		s.EmergencePercent, s.EmergenceLowPercent, s.EmergenceHighPercent = 5, 2, 9
	}
	b.keep("pick", b.books.KeepRecipe(b.ctx, b.at(on), r))
}

// rate is one line of a job's price; a quantity of "" follows the rows.
func rate(what, unitName, quantity, price string) bill.Rate {
	r := bill.Rate{Description: what, Unit: unitName, Basis: bill.RowKm, UnitPrice: money.MustFactor(price), TaxCategory: "S", TaxPercent: money.MustFactor("10")}
	if quantity != "" {
		r.Basis, r.Quantity = bill.Fixed, money.MustFactor(quantity)
	}
	return r
}

// price keeps the usual lines of a row job: the seed line is the seed's cost with 12 %
// handling, the medium line 15 L at 0.62.
func (b *builder) price(on unit.Date, jobID int64, km, rows, seedRate string, more ...bill.Rate) {
	rates := append([]bill.Rate{
		rate("Set-up and calibration", "each", "1", "380.00"),
		rate("Travel, float out and back", "driven km", km, "2.90"),
		rate("Seeding rows on mounds, seed engaged", "row-km", "", rows),
		rate("Seed at cost and 12 % handling", "row-km", "", seedRate),
		rate("Bulking medium placed, 15 L a row-km", "row-km", "", "9.30"),
	}, more...)
	for i := range rates {
		rates[i].Position = i + 1
	}
	b.keep("price", b.books.KeepRates(b.ctx, b.at(on), jobID, rates))
}

// facts is what is known of a job on a day.
func (b *builder) facts(jobID int64, on unit.Date) job.Facts {
	f, err := b.books.Facts(b.ctx, jobID, on)
	b.keep("facts", err)
	return f
}

// quote issues a quote; with a name, the farmer says yes to it two days later.
func (b *builder) quote(jobID int64, on unit.Date, yes string) {
	facts := b.facts(jobID, on)
	draft, err := job.QuoteDraft(facts)
	b.keep("quote", err)
	paper := b.issue(draft, on)
	plan, err := job.CostOf(facts)
	b.keep("cost", err)
	if b.failed == nil {
		b.keep("planned cost", b.books.KeepCostPlan(b.ctx, b.at(on), paper.ID, plan))
	}
	if yes == "" {
		return
	}
	said := on.Plus(2)
	claims, err := job.Claims(b.facts(jobID, said))
	b.keep("claims", err)
	act := b.actOf(0, "for "+draft.Farm+": "+yes, said)
	b.keep("yes", b.books.AcceptQuote(b.ctx, act, bill.Acceptance{PaperID: paper.ID, Name: yes, AcceptedAt: act.Now, Address: "127.0.0.1"}, claims))
}

func (b *builder) issue(draft bill.Paper, on unit.Date) bill.Paper {
	act := b.at(on)
	draft.IssuedAt, draft.PersonID, draft.PersonName = act.Now, act.PersonID, act.Who
	paper, err := b.books.IssuePaper(b.ctx, act, draft)
	b.keep("issue", err)
	return paper
}

// mixTubs mixes the next tubs of a job, at most some of them.
func (b *builder) mixTubs(jobID int64, on unit.Date, most int) {
	for range most {
		f := b.facts(jobID, on)
		sheet, err := job.MixingSheetOf(f)
		if b.failed != nil || err != nil {
			return // every row is mixed for
		}
		tub := job.TubOf(f, sheet)
		act := b.actOf(b.operator, operatorName, on)
		tub.MixedAt, tub.PersonID = act.Now, b.operator
		_, err = b.books.MixTub(b.ctx, act, tub)
		b.keep("mix", err)
	}
}

// cleaned throws away what remained in the hoppers.
func (b *builder) cleaned(jobID int64, on unit.Date, litres float64) {
	remains, err := job.RemainsOf(b.facts(jobID, on), int64(litres*1000), false)
	b.keep("remains", err)
	if b.failed != nil {
		return
	}
	act := b.actOf(b.operator, operatorName, on)
	remains.MadeAt = act.Now
	_, err = b.books.CleanOut(b.ctx, act, remains)
	b.keep("clean out", err)
}

// worked keeps a day sheet; the meter goes on from where it stood.
func (b *builder) worked(jobID int64, on unit.Date, hours, rowKm, fuelL float64, standbyMin, placements int64, note string) {
	tractor, err := b.books.Machine(b.ctx, b.machines["tractor"])
	b.keep("tractor", err)
	act := b.actOf(b.operator, operatorName, on)
	_, err = b.books.AddDaySheet(b.ctx, act, machine.DaySheet{
		JobID: jobID, MachineID: tractor.ID, Day: on, MeterFromMin: tractor.MeterMin, MeterToMin: tractor.MeterMin + job.Minutes(hours),
		RowM: rowKm * 1000, FuelML: int64(fuelL * 1000), StandbyMin: standbyMin, Placements: placements, Note: note, EnteredAt: act.Now, PersonID: b.operator,
	})
	b.keep("day sheet", err)
}

// caught keeps a catch test.
func (b *builder) caught(jobID int64, on unit.Date, placementML float64) {
	act := b.actOf(b.operator, operatorName, on)
	const runM, outlets = 47.2, 2
	_, err := b.books.AddCatch(b.ctx, act, mix.Catch{JobID: jobID, CaughtML: placementML * outlets * runM / 2.95, RunM: runM, Outlets: outlets, SpacingM: 2.95, CaughtAt: act.Now, PersonID: b.operator})
	b.keep("catch", err)
}

// spaced keeps the spacing of placements as it was measured in the rows.
func (b *builder) spaced(jobID int64, on unit.Date, spacingM float64) {
	m := job.UsualMeasuring
	m.JobID, m.SpacingM = jobID, spacingM
	b.keep("spacing", b.books.KeepMeasuring(b.ctx, b.at(on), m))
}

// load matches the log of a drive over part of the rows.
func (b *builder) load(jobID int64, on unit.Date, d drive) {
	f := b.facts(jobID, on)
	laid, err := f.Rows()
	b.keep("rows", err)
	if b.failed != nil {
		return
	}
	log := job.Log{JobID: jobID, Name: d.name, Content: []byte(d.write(laid.Plan)), PassRows: f.Layout.RowsPerBelt, RowGapM: f.Layout.RowGapM}
	sum := sha256.Sum256(log.Content)
	log.Format, log.SHA256 = job.LogFormat(log.Name, log.Content), hex.EncodeToString(sum[:])
	act := b.at(on)
	_, err = b.books.AddLog(b.ctx, act, log)
	b.keep("log", err)
	sown, err := job.Match(f, []job.Log{log})
	b.keep("match", err)
	sown.MadeAt = act.Now
	b.keep("sown", b.books.KeepSown(b.ctx, act, sown))
}

// bill issues the invoice over what was measured.
func (b *builder) bill(jobID int64, on unit.Date) {
	draft, err := job.InvoiceDraft(b.facts(jobID, on))
	b.keep("invoice", err)
	if b.failed == nil {
		b.issue(draft, on)
	}
}

func (b *builder) season(year int, asked, visited unit.Date, from, to unit.Date) job.Job {
	return job.Job{Season: year, AskedOn: asked, VisitedOn: visited, WindowFrom: from, WindowTo: to}
}

// morning is when a drive of the demo begins.
func morning(on unit.Date) time.Time { return on.Time().Add(7 * time.Hour) }
