// Package mix works out the mix of seed and bulking medium that a placer drops along
// rows: how much of each lot to weigh, how much medium to fill up with, tub by tub; what
// a catch test says of the meter; and the seed of the understorey. It refuses to know
// where rows lie, who sows, what is in stock beyond the figure it is given, and what a
// job is charged.
package mix

import (
	"rowtally/internal/money"
	"rowtally/internal/seed"
)

// Recipe asks for a mix. Litres are litres of finished mix: seed is weighed into the
// tub, medium fills it up to the line.
type Recipe struct {
	RowKm             float64 `json:"row_km"`                  // every row counted, above 0
	PlacementSpacingM float64 `json:"placement_spacing_m"`     // along the row, above 0
	PlacementVolumeML float64 `json:"placement_volume_ml"`     // above 0; the contractor's own measured setting
	TubL              float64 `json:"tub_l"`                   // usable litres of one fill, above 0
	SparePercent      float64 `json:"spare_percent,omitempty"` // mixed beyond the row-km, 0 to 100

	Medium Medium `json:"medium"`

	// SeedFillsVoidsFraction, 0..1, is the share of the seed's own volume that disappears
	// between the medium's grains.
	SeedFillsVoidsFraction float64   `json:"seed_fills_voids_fraction,omitempty"`
	ScaleStepG             *float64  `json:"scale_step_g,omitempty"` // what the scale can tell apart; 1 g when left out
	Species                []Species `json:"species"`
}

// Medium is the bulking medium, as it lies loose. The cost is per bag, without tax.
type Medium struct {
	BulkDensityKgPerM3 float64       `json:"bulk_density_kg_per_m3"` // measured, above 0
	BagL               *float64      `json:"bag_l,omitempty"`        // litres to a bag, above 0
	CostPerBag         *money.Factor `json:"cost_per_bag,omitempty"`
}

// Species is one species of the mix. Either LiveSeedsPerPlacement, above 0, or, where
// it is the only species, TargetFilledFraction: the share of placements, above 0 and
// below 1, that shall hold a plant by the Poisson law.
type Species struct {
	Name                  string   `json:"name"`
	EmergenceFraction     float64  `json:"emergence_fraction"`                // live seeds that become plants, 0..1
	EmergenceLowFraction  *float64 `json:"emergence_low_fraction,omitempty"`  // with the other end or not at all: 95 % of
	EmergenceHighFraction *float64 `json:"emergence_high_fraction,omitempty"` // seasons between them, as the contractor judges
	LiveSeedsPerPlacement *float64 `json:"live_seeds_per_placement,omitempty"`
	TargetFilledFraction  *float64 `json:"target_filled_fraction,omitempty"`
	Lots                  []Lot    `json:"lots"`
}

// Lot is a seed lot that goes into the mix.
type Lot struct {
	Draw
	UnitsPerKg        float64  `json:"units_per_kg"`                    // per kg of pure seed, of the unit that the germination test counted
	BulkDensityKgPerL *float64 `json:"bulk_density_kg_per_l,omitempty"` // loose; left out, its own volume is taken as nothing
	SeedsTested       *int     `json:"seeds_tested,omitempty"`          // in the germination test: gives the filled share its limits
}

// Draw is what a mix or an understorey takes from one lot, and what the lot is worth.
type Draw struct {
	Code string `json:"code"`
	seed.Quality
	ShareFraction *float64      `json:"share_fraction,omitempty"` // of the species' live seeds; equal shares when all are left out
	AvailableKg   *float64      `json:"available_kg,omitempty"`   // free in the shed; 0 or more
	CostPerKg     *money.Factor `json:"cost_per_kg,omitempty"`    // landed, without tax
}

// scaleStepG is the step in force.
func (r Recipe) scaleStepG() float64 {
	if r.ScaleStepG == nil {
		return 1
	}
	return *r.ScaleStepG
}

// spared grows a figure of the planned row-km by what is mixed beyond them.
func (r Recipe) spared(figure float64) float64 { return figure * (1 + r.SparePercent/100) }

func (r Recipe) placementsPerKm() float64 { return 1000 / r.PlacementSpacingM }

// liveSeeds is the number of live seeds meant for one placement.
func (s Species) liveSeeds() float64 {
	if s.LiveSeedsPerPlacement != nil {
		return *s.LiveSeedsPerPlacement
	}
	return seed.MeanPlantsToFill(*s.TargetFilledFraction) / s.EmergenceFraction
}

// livePerKg is the number of live seeds in a kilogram of the lot as bagged.
func (l Lot) livePerKg() float64 { return l.UnitsPerKg * l.LiveFraction() }

// shares are the shares of the lots of one species, adding to 1.
func shares(draws []Draw) []float64 {
	out, sum := make([]float64, len(draws)), 0.0
	for i, d := range draws {
		out[i] = 1
		if d.ShareFraction != nil {
			out[i] = *d.ShareFraction
		}
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

func (s Species) draws() []Draw {
	out := make([]Draw, len(s.Lots))
	for i, l := range s.Lots {
		out[i] = l.Draw
	}
	return out
}
