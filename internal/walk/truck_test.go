package walk

import (
	"fmt"
	"math"
)

// operatorComes adds the operator, who signs in on a phone and sees the job.
func (w *walk) operatorComes() {
	b := w.contractor
	b.press(contractorName)
	b.press("People")
	b.fill("Name", operatorName, "Password", operatorPassword)
	b.choose("Who they are", "operator")
	b.press("Add")
	b.says("Kept.", operatorName)

	w.operator = newBrowser(w.t, w.site, phone, w.scripts)
	w.operator.open("/")
	w.operator.headed("Sign in")
	w.operator.fill("Name", operatorName, "Password", operatorPassword)
	w.operator.press("Sign in")
	w.operator.says("At the truck", operatorName, "agreed: 0.00 of "+w.plannedKm()+" row-km sown")
	w.operator.press(w.paddock)
}

// tubsAreAsPlanned finds the first tub as calc's mix has it.
func (w *walk) tubsAreAsPlanned() {
	w.tub(w.worked, 1, len(w.worked.Batches))
	p := w.operator.read("Mixing sheet")
	p.says(w.paddock, w.farm)
	for _, made := range w.worked.Batches {
		p.says(fmt.Sprintf("Tub %d of %d", made.Number, len(w.worked.Batches)), fixed(made.RowKm, 2)+" row-km", fixed(made.MediumL, 1)+" L")
		for _, one := range made.Lots {
			p.says(spaced(fixed(one.Grams, 0)) + " g")
		}
	}
}

// tub holds the tub on the operator's page against the first of a mix.
func (w *walk) tub(made mixAnswer, number, last int) {
	w.t.Helper()
	b, first := w.operator, made.Batches[0]
	heading := fmt.Sprintf("Tub %d", number)
	if len(made.Batches) > 1 {
		heading = fmt.Sprintf("Tub %d of %d", number, last)
	}
	b.headed(heading)
	b.says(fmt.Sprintf("%s L to the line, lasts %s row-km", fixed(first.MixL, 1), fixed(first.RowKm, 2)))
	for _, one := range first.Lots {
		b.says(fmt.Sprintf("%s g %s", fixed(one.Grams, 0), one.Code))
	}
}

// catchFound is calc's answer to a catch test.
type catchFound struct {
	PlacementML float64 `json:"placement_volume_ml"`
	LPerKm      float64 `json:"mix_l_per_km"`
	Deviation   float64 `json:"deviation_percent"`
	Within      bool    `json:"within_tolerance"`
	RowKmPerTub float64 `json:"row_km_per_tub"`
}

// catchChangesTheRecipe enters a catch test, and finds the next tub worked out again.
func (w *walk) catchChangesTheRecipe() {
	b, c := w.operator, w.catch
	b.press("Catch test")
	b.says("Intended: " + w.mix.placementML + " mL a placement.")
	b.fill("Caught, all outlets together", c.caughtML, "Over a run of", c.runM, "Outlets caught", c.outlets)
	b.press("Keep the catch")
	found := w.caught()
	b.says("Catch test kept.", fmt.Sprintf("Catch test: %s mL a placement for %s intended", fixed(found.PlacementML, 1), fixed(amount(w.t, w.mix.placementML), 1)),
		fmt.Sprintf("%s by %s %%: the tubs follow it", heavyOrLight(found), fixed(found.Deviation, 0)))
	again := w.mixOf(w.plan.RowM, found.PlacementML)
	w.tub(again, 1, len(again.Batches))
	if first := again.Batches[0]; !near(first.RowKm, found.RowKmPerTub, 1e-6) {
		w.t.Errorf("a full tub lasts %.4f row-km by the mix, %.4f by the catch", first.RowKm, found.RowKmPerTub)
	}
	w.contractor.open(w.job)
	w.contractor.says(fmt.Sprintf("%s L a row-km at %s mL a placement, as caught", fixed(found.LPerKm, 2), short(found.PlacementML)))
}

// caught is calc's catch test, held against the sum by hand.
func (w *walk) caught() catchFound {
	w.t.Helper()
	t, c := w.t, w.catch
	found := calc[catchFound](t, "catch-test", map[string]any{
		"caught_ml": amount(t, c.caughtML), "run_m": amount(t, c.runM), "rows": int(amount(t, c.outlets)),
		"placement_spacing_m": amount(t, w.layout.spacingM), "intended_placement_volume_ml": amount(t, w.mix.placementML), "tub_l": amount(t, w.mix.tubL),
	})
	placements := amount(t, c.runM) / amount(t, w.layout.spacingM) * amount(t, c.outlets)
	if byHand := amount(t, c.caughtML) / placements; !near(byHand, found.PlacementML, 1e-9) {
		t.Errorf("%v mL a placement by hand, calc says %v", byHand, found.PlacementML)
	}
	return found
}

func heavyOrLight(c catchFound) string {
	if c.Deviation < 0 {
		return "Light"
	}
	return "Heavy"
}

// mixAndUndo mixes the tub, takes it back, and mixes it again; the shed follows.
func (w *walk) mixAndUndo() {
	made := w.mixOf(w.plan.RowM, w.caught().PlacementML).Batches[0]
	before := w.onHand()
	w.operator.press("Tub 1 is mixed")
	w.operator.says("Tub mixed. The stock is drawn.")
	w.drawn("mixed", before, made, 1)
	w.operator.press("Undo tub 1")
	w.operator.says("Undone. The stock is back.")
	w.drawn("undone", before, made, 0)
	w.operator.press("Tub 1 is mixed")
	w.drawn("mixed again", before, made, 1)
	w.next("Sowing", "At the truck")
	w.contractor.open("/shed")
	w.contractor.press(w.lots[0].code)
	w.contractor.says(operatorName, "−"+fixed(made.Lots[0].Grams/1000, 1))
}

// onHand is what the shed shows of everything that a tub takes.
func (w *walk) onHand() map[string]float64 {
	w.t.Helper()
	w.contractor.open("/shed")
	out := map[string]float64{w.medium.name: w.contractor.stock(w.t, w.medium.name, "L").onHand}
	for _, l := range w.lots {
		out[l.code] = w.contractor.stock(w.t, l.code, "kg").onHand
	}
	return out
}

// drawn holds the shed against what it was before, less so many tubs.
func (w *walk) drawn(when string, before map[string]float64, made batch, tubs float64) {
	w.t.Helper()
	now := w.onHand()
	left := func(name string, taken float64) {
		if want := before[name] - tubs*taken; math.Abs(now[name]-want) > 0.1001 {
			w.t.Errorf("%s: the shed shows %.1f of %s, want %.2f", when, now[name], name, want)
		}
	}
	for _, one := range made.Lots {
		left(one.Code, one.Grams/1000)
	}
	left(w.medium.name, made.MediumL)
}

// dayIsEntered keeps what the machine did; its meter follows, and so does the job.
func (w *walk) dayIsEntered() {
	b := w.operator
	b.open("/truck")
	b.press(w.paddock)
	b.press("Day sheet")
	if from := ask[string](b, "value", "Meter at the start"); from != "1200.5" {
		w.t.Errorf("the day sheet begins at %q h, the meter stood at 1200.5", from)
	}
	b.fill("Meter at the end", "1199", "Sown", "4.2")
	b.refused("Keep the day", "Meter at the end", "The meter went from 1200.5 h back to 1199 h", "Meter at the end", "1199", "Sown", "4.2")
	b.fill("Meter at the end", "1206.3", "Fuel put in", "61", "Stood waiting", "40", "Note", "wind from noon")
	b.press("Keep the day")
	b.says("Day sheet kept.", "4.20 row-km sown of "+w.plannedKm())
	w.next("Sowing", "Load a log")
	w.contractor.press("Machines")
	w.contractor.press(machineName)
	w.contractor.shows("1206.3 h on the meter")
	cells := w.contractor.row("Day sheets: " + dayShown(w.t, 0))
	w.same("hours run", cells["ran, h"], "5.8")
	w.same("row-km of the day", cells["row-km"], "4.20")
}
