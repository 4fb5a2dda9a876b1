package mix

import (
	"fmt"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Mix is the recipe worked out. Row-km and spare are both in its litres and kilograms.
type Mix struct {
	PlacementsPerKm float64      `json:"placements_per_km"`
	Placements      float64      `json:"placements"` // over the planned row-km, spare not counted
	MixLPerKm       float64      `json:"mix_l_per_km"`
	MixL            float64      `json:"mix_l"`
	LiveSeedsPerKm  float64      `json:"live_seeds_per_km"`
	Species         []SpeciesMix `json:"species"`
	SeedL           float64      `json:"seed_l"` // the seed's own loose volume
	MediumL         float64      `json:"medium_l"`
	MediumKg        float64      `json:"medium_kg"`
	MediumBags      *int         `json:"medium_bags"` // whole bags; nil where bag_l was not given

	// ExpectedFilledFraction is a ceiling: a whole placement can fail together. The low and
	// high limits take every germination test at the same end of its 95 % interval; nil
	// where no lot says how many seeds were tested.
	ExpectedFilledFraction     float64  `json:"expected_filled_fraction"`
	ExpectedFilledLowFraction  *float64 `json:"expected_filled_low_fraction,omitempty"`
	ExpectedFilledHighFraction *float64 `json:"expected_filled_high_fraction,omitempty"`

	// Range carries the doubt of the tests and of emergence together; nil where neither is told.
	Range *FilledRange `json:"expected_filled_range,omitempty"`

	SeedCost   *money.Cents `json:"seed_cost"`   // of the lots that have a cost; nil where none has
	MediumCost *money.Cents `json:"medium_cost"` // of whole bags; nil without a cost per bag
	Cost       *money.Cents `json:"cost"`        // both, as far as known
	Batches    []Batch      `json:"batches"`
	Notes      []string     `json:"notes,omitempty"` // what the figures leave out

	recipe Recipe
}

// SpeciesMix is what one species puts into the mix.
type SpeciesMix struct {
	Name                  string   `json:"name"`
	LiveSeedsPerPlacement float64  `json:"live_seeds_per_placement"`
	Lots                  []LotMix `json:"lots"`
}

// LotMix is what one lot puts into the mix.
type LotMix struct {
	Code      string       `json:"code"`
	LivePerKg float64      `json:"live_per_kg"`
	KgPerKm   float64      `json:"kg_per_km"`
	Kg        float64      `json:"kg"`         // spare included, not yet rounded to the scale
	WeighedKg float64      `json:"weighed_kg"` // in whole scale steps: what the tubs add up to
	Cost      *money.Cents `json:"cost"`       // of what is weighed; nil without a cost per kg
	ShortKg   float64      `json:"short_kg"`   // beyond what is available; 0 where that was not given
}

// MakeUp works out a mix. It refuses a recipe whose fields are out of range, whose seed
// does not fit into its placements, or that takes more than 10 000 tubs.
func MakeUp(r Recipe) (Mix, error) {
	if err := r.check(); err != nil {
		return Mix{}, err
	}
	m := Mix{recipe: r, PlacementsPerKm: r.placementsPerKm()}
	m.Placements = r.RowKm * m.PlacementsPerKm
	m.MixLPerKm = r.PlacementVolumeML * m.PlacementsPerKm / 1000
	m.MixL = r.spared(m.MixLPerKm * r.RowKm)
	for i, s := range r.Species {
		out, err := m.species(s)
		if err != nil {
			return Mix{}, fault.Under(fmt.Sprintf("species[%d]", i), err)
		}
		m.Species = append(m.Species, out)
		m.LiveSeedsPerKm += out.LiveSeedsPerPlacement * m.PlacementsPerKm
	}
	if err := m.fillUp(); err != nil {
		return Mix{}, err
	}
	if err := m.fillTubs(); err != nil {
		return Mix{}, err
	}
	m.addCosts()
	m.addNotes()
	return m, m.expect()
}

// species works out the lots of one species.
func (m *Mix) species(s Species) (SpeciesMix, error) {
	out := SpeciesMix{Name: s.Name, LiveSeedsPerPlacement: s.liveSeeds()}
	for i, share := range shares(s.draws()) {
		lot, err := m.lot(s.Lots[i], share*out.LiveSeedsPerPlacement)
		if err != nil {
			return SpeciesMix{}, fault.Under(fmt.Sprintf("lots[%d]", i), err)
		}
		out.Lots = append(out.Lots, lot)
	}
	return out, nil
}

// lot works out one lot that gives so many live seeds to every placement.
func (m *Mix) lot(l Lot, livePerPlacement float64) (LotMix, error) {
	out := LotMix{Code: l.Code, LivePerKg: l.livePerKg()}
	out.KgPerKm = livePerPlacement * m.PlacementsPerKm / out.LivePerKg
	out.Kg = m.recipe.spared(out.KgPerKm * m.recipe.RowKm)
	if !(out.Kg <= mostKg) {
		return LotMix{}, fault.Refuse("units_per_kg", "lot %s would take over %d kg: correct its units per kg, or choose another lot", l.Code, mostKg)
	}
	steps, step := m.steps(out.Kg), m.recipe.scaleStepG()
	out.WeighedKg = grams(steps, step) / 1000
	out.Cost = costOf(weighed(steps, step), l.CostPerKg)
	if l.AvailableKg != nil {
		out.ShortKg = max(0, out.Kg-*l.AvailableKg)
	}
	return out, nil
}

// fillUp finds the medium that fills the mix up beside the seed.
func (m *Mix) fillUp() error {
	for i, s := range m.recipe.Species {
		for k, l := range s.Lots {
			if l.BulkDensityKgPerL != nil {
				m.SeedL += m.Species[i].Lots[k].Kg / *l.BulkDensityKgPerL
			}
		}
	}
	m.MediumL = m.MixL - m.SeedL*(1-m.recipe.SeedFillsVoidsFraction)
	if m.MediumL < 0 {
		return fault.Refuse("placement_volume_ml", "the seed alone takes %.2f mL of a placement of %s mL: enter a larger placement, fewer live seeds, or a lot with more live seed to the kilogram",
			m.recipe.PlacementVolumeML*(1-m.MediumL/m.MixL), unit.Plain(m.recipe.PlacementVolumeML))
	}
	m.MediumKg = m.MediumL * m.recipe.Medium.BulkDensityKgPerM3 / 1000
	if bag := m.recipe.Medium.BagL; bag != nil {
		bags := wholeUp(m.MediumL / *bag)
		if bags > 1e9 {
			return fault.Refuse("medium.bag_l", "the mix takes over 1000000000 bags, enter the litres of a bag")
		}
		n := int(bags)
		m.MediumBags = &n
	}
	return nil
}

// wholeUp is the least whole number that covers v, binary dust left aside.
func wholeUp(v float64) float64 { return math.Ceil(v * (1 - 1e-12)) }
