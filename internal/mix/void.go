package mix

import (
	"rowtally/internal/fault"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// FirstTub is what the first tub of a mix showed: so many litres of medium filled it up to
// its line beside the seed. All in litres; the seed's own volume is as it lies loose.
type FirstTub struct {
	TubL    float64 // to the line, above 0
	SeedL   float64 // loose volume of the seed weighed in, above 0
	MediumL float64 // that it took, from TubL less SeedL to TubL
}

// Voids is the share, 0..1, of the seed's own volume that disappeared between the medium's
// grains: 0 where seed and medium simply add up, 1 where the seed took no room at all. It
// refuses the field "medium_l" where the tub cannot have taken so much or so little.
func (t FirstTub) Voids() (float64, error) {
	if err := between("tub_l", "the tub, in litres,", t.TubL, leastL, mostL); err != nil {
		return 0, err
	}
	if !(t.SeedL > 0) {
		return 0, fault.Refuse("medium_l", "no lot of the mix has a loose density, so the seed's own volume is not known: measure a litre of it and enter that with the lot first")
	}
	const dust = 1e-9
	least := max(0, t.TubL-t.SeedL)
	if !(t.MediumL >= least-dust && t.MediumL <= t.TubL+dust) {
		return 0, fault.Refuse("medium_l", "a tub of %s L beside %s L of loose seed takes from %s to %s L of medium, not %s: read the line again, or measure the lots' loose density anew",
			litres(t.TubL), litres(t.SeedL), litres(least), litres(t.TubL), litres(t.MediumL))
	}
	return min(1, max(0, 1-(t.TubL-t.MediumL)/t.SeedL)), nil
}

// Working shows how the share follows; nothing where the tub cannot be.
func (t FirstTub) Working() working.Steps {
	share, err := t.Voids()
	if err != nil {
		return nil
	}
	return working.Steps{}.
		Add("seed, own volume", "kg weighed in / loose density, lot by lot", working.Number(t.SeedL, 2), "L", "").
		Add("room that it took", "tub less medium to the line", working.Number(t.TubL-t.MediumL, 2), "L", "measured with the first tub").
		Add("share that fills voids", "1 - room taken / own volume", working.Number(share, 3), "fraction", "")
}

func litres(v float64) string { return unit.Grouped(v, 1) }
