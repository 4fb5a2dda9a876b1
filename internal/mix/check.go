package mix

import (
	"errors"
	"fmt"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Limits that no job comes near; beyond them a figure is a slip of the hand.
const (
	leastRowKm   = 0.001
	mostRowKm    = 100_000
	leastM       = 0.01 // of a spacing and a run
	mostSpacingM = 1000
	mostRunM     = 100_000
	leastML      = 0.001
	mostML       = 1_000_000
	leastL       = 0.001
	mostL        = 1_000_000
	leastDensity = 0.001 // kg per litre
	mostDensity  = 20
	mostLive     = 1_000_000 // live seeds in a placement
	mostUnits    = 1_000_000_000
	mostKg       = 1_000_000
	mostSpecies  = 40
	mostLots     = 40 // of one species
	mostTubs     = 10_000
	mostWeighed  = 500_000 // weighings over all tubs
	mostTested   = 100_000 // seeds in a germination test
)

// above refuses a figure that is not above 0 and up to most.
func above(field, what string, v, most float64) error {
	if v > 0 && v <= most {
		return nil
	}
	return fault.Refuse(field, "%s is %s, enter a figure above 0 and up to %s", what, unit.Plain(v), unit.Plain(most))
}

// between refuses a figure that is not from low to high.
func between(field, what string, v, low, high float64) error {
	if v >= low && v <= high {
		return nil
	}
	return fault.Refuse(field, "%s is %s, enter a figure from %s to %s", what, unit.Plain(v), unit.Plain(low), unit.Plain(high))
}

// betweenIfGiven is between for a figure that may be left out.
func betweenIfGiven(field, what string, v *float64, low, high float64) error {
	if v == nil {
		return nil
	}
	return between(field, what, *v, low, high)
}

// price refuses a cost below 0 or beyond belief.
func price(field string, cost *money.Factor) error {
	if cost == nil || cost.Sign() >= 0 && cost.Compare(money.Whole(1_000_000)) <= 0 {
		return nil
	}
	return fault.Refuse(field, "the cost is %s, enter a figure from 0 to 1000000", cost)
}

// check refuses a recipe that no mix can be made from, every field at once.
func (r Recipe) check() error {
	step := r.scaleStepG()
	errs := []error{
		between("row_km", "row-km", r.RowKm, leastRowKm, mostRowKm),
		between("placement_spacing_m", "the spacing of placements, in metres,", r.PlacementSpacingM, leastM, mostSpacingM),
		between("placement_volume_ml", "the volume of a placement, in mL,", r.PlacementVolumeML, leastML, mostML),
		between("tub_l", "the tub, in litres,", r.TubL, leastL, mostL),
		between("spare_percent", "spare, in %,", r.SparePercent, 0, 100),
		between("seed_fills_voids_fraction", "the share of the seed's volume that disappears", r.SeedFillsVoidsFraction, 0, 1),
		between("scale_step_g", "the step of the scale, in grams,", step, 0.001, 10_000),
		fault.Under("medium", r.Medium.check()),
	}
	if n := len(r.Species); n < 1 || n > mostSpecies {
		errs = append(errs, fault.Refuse("species", "there are %d species, enter from 1 to %d", n, mostSpecies))
		return errors.Join(errs...)
	}
	for i, s := range r.Species {
		errs = append(errs, fault.Under(fmt.Sprintf("species[%d]", i), s.check(len(r.Species) == 1)))
	}
	return errors.Join(append(errs, r.checkCodes())...)
}

func (m Medium) check() error {
	errs := []error{
		between("bulk_density_kg_per_m3", "the medium's bulk density, in kg per m³,", m.BulkDensityKgPerM3, 1000*leastDensity, 1000*mostDensity),
		betweenIfGiven("bag_l", "a bag, in litres,", m.BagL, leastL, mostL),
		price("cost_per_bag", m.CostPerBag),
	}
	if m.CostPerBag != nil && m.BagL == nil {
		errs = append(errs, fault.Refuse("bag_l", "a bag has a cost but no litres, enter bag_l too"))
	}
	return errors.Join(errs...)
}

func (s Species) check(alone bool) error {
	errs := []error{
		between("emergence_fraction", "emergence, the share of live seeds that become plants,", s.EmergenceFraction, 0, 1),
		s.checkEmergenceRange(),
		s.checkLiveSeeds(alone),
	}
	if n := len(s.Lots); n < 1 || n > mostLots {
		errs = append(errs, fault.Refuse("lots", "there are %d lots of %s, enter from 1 to %d", n, s.Name, mostLots))
		return errors.Join(errs...)
	}
	for i, l := range s.Lots {
		errs = append(errs, fault.Under(fmt.Sprintf("lots[%d]", i), l.check()))
	}
	return errors.Join(append(errs, checkShares(s.Name, s.draws()))...)
}

// checkEmergenceRange refuses a range of emergence that is half given or leaves emergence out.
func (s Species) checkEmergenceRange() error {
	low, high := s.EmergenceLowFraction, s.EmergenceHighFraction
	switch {
	case low == nil && high == nil:
		return nil
	case low == nil:
		return fault.Refuse("emergence_low_fraction", "the high end of emergence of %s is given without the low one, enter both or neither", s.Name)
	case high == nil:
		return fault.Refuse("emergence_high_fraction", "the low end of emergence of %s is given without the high one, enter both or neither", s.Name)
	}
	return errors.Join(
		between("emergence_low_fraction", "the low end of emergence", *low, 0, min(1, s.EmergenceFraction)),
		between("emergence_high_fraction", "the high end of emergence", *high, s.EmergenceFraction, 1))
}

func (s Species) checkLiveSeeds(alone bool) error {
	live, target := s.LiveSeedsPerPlacement, s.TargetFilledFraction
	switch {
	case live == nil && target == nil:
		return fault.Refuse("live_seeds_per_placement", "live seeds per placement of %s are missing, enter them or target_filled_fraction", s.Name)
	case live != nil && target != nil:
		return fault.Refuse("target_filled_fraction", "live seeds per placement and a target are both given for %s, enter one of them", s.Name)
	case live != nil:
		return above("live_seeds_per_placement", "live seeds per placement", *live, mostLive)
	case !alone:
		return fault.Refuse("target_filled_fraction", "a target stands for a single species, enter live_seeds_per_placement for each")
	case !(*target > 0 && *target < 1):
		return fault.Refuse("target_filled_fraction", "the target is %s, enter a share above 0 and below 1", unit.Plain(*target))
	case s.EmergenceFraction == 0:
		return fault.Refuse("emergence_fraction", "emergence is 0, so no placement is ever filled: enter a share above 0")
	}
	return nil
}

func (l Lot) check() error {
	errs := []error{
		l.Draw.check(),
		above("units_per_kg", "units per kg", l.UnitsPerKg, mostUnits),
		betweenIfGiven("bulk_density_kg_per_l", "the lot's bulk density, in kg per litre,", l.BulkDensityKgPerL, leastDensity, mostDensity),
	}
	if n := l.SeedsTested; n != nil && (*n < 1 || *n > mostTested) {
		errs = append(errs, fault.Refuse("seeds_tested", "seeds tested is %d, enter a whole number from 1 to %d", *n, mostTested))
	}
	return errors.Join(errs...)
}

func (d Draw) check() error {
	errs := []error{
		d.Quality.Check(),
		betweenIfGiven("available_kg", "the kilograms available", d.AvailableKg, 0, 1e9),
		price("cost_per_kg", d.CostPerKg),
	}
	if d.Code == "" {
		errs = append(errs, fault.Refuse("code", "the lot has no code, enter the one on its label"))
	}
	if d.ShareFraction != nil && !(*d.ShareFraction > 0 && *d.ShareFraction <= 1) {
		errs = append(errs, fault.Refuse("share_fraction", "the share is %s, enter a figure above 0 and up to 1, or leave the lot out", unit.Plain(*d.ShareFraction)))
	}
	if d.LivePercent() == 0 {
		errs = append(errs, fault.Refuse("germination_percent", "lot %s has no live seed: choose another lot", d.Code))
	}
	return errors.Join(errs...)
}

// checkShares refuses shares that are given for some lots only, or do not make the whole.
func checkShares(species string, draws []Draw) error {
	given, sum, without := 0, 0.0, 0
	for i, d := range draws {
		if d.ShareFraction == nil {
			without = i
			continue
		}
		given++
		sum += *d.ShareFraction
	}
	switch {
	case given > 0 && given < len(draws):
		return fault.Refuse(fmt.Sprintf("lots[%d].share_fraction", without), "lot %s has no share, while others of %s have: enter every share, or none for equal shares", draws[without].Code, species)
	case given > 0 && !(math.Abs(sum-1) <= 1e-6):
		return fault.Refuse("lots", "the shares of %s make %s, not 1: correct a share, or leave all out for equal shares", species, unit.Plain(sum))
	}
	return nil
}

// checkCodes refuses a lot that is named twice: its kilograms would be promised twice.
func (r Recipe) checkCodes() error {
	seen := map[string]bool{}
	for i, s := range r.Species {
		for k, l := range s.Lots {
			if seen[l.Code] && l.Code != "" {
				return fault.Refuse(fmt.Sprintf("species[%d].lots[%d].code", i, k), "lot %s is named twice, name each lot once", l.Code)
			}
			seen[l.Code] = true
		}
	}
	return nil
}
