package mix

import (
	"math"

	"rowtally/internal/working"
)

// Remix is a recipe worked out again after a catch test.
type Remix struct {
	Planned Mix      `json:"planned"` // as it was
	Again   Mix      `json:"again"`   // at the placement volume caught, live seeds of a placement as planned
	AsMade  MeterOff `json:"as_made"` // what the mix already made as planned will do
	// UnsownRowKm are the planned row-km that the mix made as planned does not reach.
	UnsownRowKm float64     `json:"unsown_row_km"`
	Tub         []TubChange `json:"tub"` // lot by lot, to a full tub
}

// TubChange is what one lot gives to a full tub, in grams of whole scale steps.
type TubChange struct {
	Code     string  `json:"code"`
	PlannedG float64 `json:"planned_g"`
	AgainG   float64 `json:"again_g"`
}

// AfterCatch works a recipe out again with the placement volume that a catch test found:
// litres per row-km follow the meter, and the seed to a tub changes so that a placement
// still gets the live seeds meant for it. The catch's own spacing is measured over a
// short run; the planned spacing of the recipe stands.
func AfterCatch(r Recipe, caught Metering) (Remix, error) {
	planned, err := MakeUp(r)
	if err != nil {
		return Remix{}, err
	}
	r.PlacementVolumeML = caught.PlacementVolumeML
	again, err := MakeUp(r)
	if err != nil {
		return Remix{}, err
	}
	x := Remix{Planned: planned, Again: again, AsMade: planned.metered(caught.PlacementVolumeML / planned.recipe.PlacementVolumeML)}
	x.UnsownRowKm = math.Max(0, r.RowKm-x.AsMade.RowKm)
	before, after := planned.FullTub(), again.FullTub()
	for i, w := range after.Lots {
		x.Tub = append(x.Tub, TubChange{w.Code, before.Lots[i].Grams, w.Grams})
	}
	return x, nil
}

// Working shows what changed, and then the mix worked out again.
func (x Remix) Working() working.Steps {
	steps := working.Steps{}.
		Add("placement", "as caught", working.Number(x.AsMade.PlacementVolumeML, 1), "mL", "").
		Add("mix made as planned ends at", "litres made / (placements per row-km x mL caught / 1000)", working.Number(x.AsMade.RowKm, 1), "row-km", "").
		Add("live seeds from it", "planned live seeds per placement x caught / planned mL", working.Number(x.AsMade.LiveSeedsPerPlacement, 1), "live seeds per placement", "").
		Add("row-km not reached", "planned row-km less those", working.Number(x.UnsownRowKm, 1), "row-km", "")
	for _, t := range x.Tub {
		steps = steps.Add(t.Code+", to a full tub", "g per row-km x row-km that the tub now lasts", working.Number(t.AgainG, 0), "g", "")
	}
	return append(steps, x.Again.Working()...)
}
