package walk

import (
	"fmt"
	"strings"
)

// mixAnswer is calc's answer to a mix.
type mixAnswer struct {
	MixL       float64 `json:"mix_l"`
	MixLPerKm  float64 `json:"mix_l_per_km"`
	MediumL    float64 `json:"medium_l"`
	Filled     float64 `json:"expected_filled_fraction"`
	Placements float64 `json:"placements"`
	Species    []struct {
		Live float64 `json:"live_seeds_per_placement"`
		Lots []struct {
			Code      string  `json:"code"`
			LivePerKg float64 `json:"live_per_kg"`
			KgPerKm   float64 `json:"kg_per_km"`
			Kg        float64 `json:"kg"`
			ShortKg   float64 `json:"short_kg"`
			WeighedKg float64 `json:"weighed_kg"`
		} `json:"lots"`
	} `json:"species"`
	Batches []batch `json:"batches"`
}

type batch struct {
	Number  int     `json:"number"`
	MixL    float64 `json:"mix_l"`
	MediumL float64 `json:"medium_l"`
	RowKm   float64 `json:"row_km"`
	Lots    []struct {
		Code  string  `json:"code"`
		Grams float64 `json:"grams"`
	} `json:"lots"`
}

// chooseLots keeps a recipe that the shed is short for, and the page says what is short.
func (w *walk) chooseLots() {
	b, m := w.contractor, w.mix
	b.open(w.job)
	b.press("Choose lots")
	b.fill("A placement holds", m.placementML, "A tub holds", m.tubL, "Spare", m.sparePercent, "The scale shows steps of", m.scaleStepG)
	b.choose("Medium", w.medium.name)
	for _, p := range m.species {
		b.fill(p.common+": Live seeds a placement", p.live, p.common+": Of 100 live seeds become plants", p.emergencePercent)
		for _, code := range p.lots {
			b.tick(code)
		}
	}
	b.press("Keep the recipe")
	w.worked = w.mixOf(w.plan.RowM, amount(w.t, m.placementML))
	w.saysWhatIsShort()
}

func (w *walk) saysWhatIsShort() {
	b := w.contractor
	for _, s := range w.worked.Species {
		for _, l := range s.Lots {
			if w.lotOf(l.Code).moreKg == "" {
				continue
			}
			if l.ShortKg <= 0 {
				w.t.Errorf("calc finds %s not short, the walk wants it to be", l.Code)
			}
			b.says(fmt.Sprintf("Lot %s is short by %s kg", l.Code, fixed(l.WeighedKg-amount(w.t, w.lotOf(l.Code).firstKg), 2)))
		}
	}
	w.mediumIsShort()
}

func (w *walk) mediumIsShort() {
	w.t.Helper()
	w.contractor.says(fmt.Sprintf("%s is short: the job still takes %s L and %s L are free. Order before mixing.",
		capital(w.medium.name), fixed(w.worked.MediumL, 1), fixed(amount(w.t, w.medium.firstL), 1)))
}

// fillShed takes in what was short, the seed first: then the page shows the whole mix.
func (w *walk) fillShed() {
	b, m := w.contractor, w.mix
	for _, l := range w.lots {
		w.receive(l.code, l.moreKg)
	}
	b.open(w.job)
	w.mediumIsShort()
	w.receive(w.medium.name, w.medium.moreL)
	b.open(w.job)
	if strings.Contains(b.text(), "short") {
		w.t.Errorf("%s still calls something short:\n%s", b.path(), b.text())
	}
	w.showsTheMix()
	litres := amount(w.t, m.placementML) / amount(w.t, w.layout.spacingM) // mL a metre are L a row-km
	b.says(fmt.Sprintf("%s L a row-km at %s mL a placement", fixed(litres, 2), m.placementML))
	w.next("Looked at", "Enter the rates")
}

// showsTheMix holds the job's page against calc's mix, and its kilograms against a sum by
// hand.
func (w *walk) showsTheMix() {
	b := w.contractor
	var live []string
	for _, s := range w.worked.Species {
		live = append(live, fixed(s.Live, 0))
		for _, l := range s.Lots {
			cells := b.row(l.Code)
			w.same(l.Code+" live per g", cells["live per g"], fixed(l.LivePerKg/1000, 1))
			w.same(l.Code+" kg per row-km", cells["kg per row-km"], fixed(l.KgPerKm, 3))
			w.same(l.Code+" kg for the job", cells["kg for the job"], fixed(l.WeighedKg, 2))
			perPlacement := s.Live / float64(len(s.Lots)) / w.lotOf(l.Code).livePerKg(w.t) // kg
			if byHand := perPlacement * 1000 / amount(w.t, w.layout.spacingM); !near(byHand, l.KgPerKm, 1e-9) {
				w.t.Errorf("%s takes %v kg a row-km by hand, calc says %v", l.Code, byHand, l.KgPerKm)
			}
		}
	}
	b.shows(strings.Join(live, " + ")+" live seeds a placement", fixed(w.worked.MixL, 0)+" L of mix")
	full, tub := 0, amount(w.t, w.mix.tubL)
	for _, one := range w.worked.Batches {
		if near(one.MixL, tub, 1e-6) {
			full++
		}
	}
	b.shows(fmt.Sprintf("%d + %d tubs of %s L", full, len(w.worked.Batches)-full, w.mix.tubL))
	b.says(fmt.Sprintf("Fills %s %% of placements", short(100*w.worked.Filled)))
}

// mixOf is calc's mix for a length of row and a placement.
func (w *walk) mixOf(rowM, placementML float64) mixAnswer {
	w.t.Helper()
	t, m := w.t, w.mix
	var species []map[string]any
	for _, p := range m.species {
		one := map[string]any{"name": p.common, "emergence_fraction": amount(t, p.emergencePercent) / 100}
		if share, isShare := strings.CutSuffix(p.live, " %"); isShare {
			one["target_filled_fraction"] = amount(t, share) / 100
		} else {
			one["live_seeds_per_placement"] = amount(t, p.live)
		}
		var lots []map[string]any
		for _, code := range p.lots {
			lots = append(lots, w.lotOf(code).inMix(t))
		}
		one["lots"] = lots
		species = append(species, one)
	}
	return calc[mixAnswer](t, "mix", map[string]any{
		"row_km": rowM / 1000, "placement_spacing_m": amount(t, w.layout.spacingM), "placement_volume_ml": placementML,
		"tub_l": amount(t, m.tubL), "spare_percent": amount(t, m.sparePercent), "scale_step_g": amount(t, m.scaleStepG),
		"medium":  map[string]any{"bulk_density_kg_per_m3": amount(t, w.medium.densityKgPerM3), "bag_l": amount(t, w.medium.bagL)},
		"species": species,
	})
}

// lotOf finds a lot of the season by its code.
func (w *walk) lotOf(code string) lot {
	w.t.Helper()
	for _, l := range w.lots {
		if l.code == code {
			return l
		}
	}
	w.t.Fatalf("the season has no lot %s", code)
	return lot{}
}
