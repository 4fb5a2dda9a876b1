package mix

import (
	"fmt"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// ExpectedCatch is what one outlet should drop while the machine's loaded wheel turns so
// often, and the band that passes.
type ExpectedCatch struct {
	Turns      int     `json:"turns"`
	RunM       float64 `json:"run_m"`
	Placements float64 `json:"placements"`
	CatchML    float64 `json:"catch_ml"`
	LeastML    float64 `json:"least_ml"`
	MostML     float64 `json:"most_ml"`

	wheelM, spacingM, placementML, tolerancePercent float64
}

// TolerancePercent is how far a catch may be off where the contractor sets nothing else.
const TolerancePercent = 5 // usual; common practice, no source

// ExpectCatch works out the catch of one outlet over turns of a wheel wheelM metres round
// when loaded, a placement of placementML every spacingM metres. All above 0.
func ExpectCatch(turns int, wheelM, spacingM, placementML float64) ExpectedCatch {
	e := ExpectedCatch{Turns: turns, RunM: float64(turns) * wheelM, wheelM: wheelM, spacingM: spacingM, placementML: placementML, tolerancePercent: TolerancePercent}
	e.Placements = e.RunM / spacingM
	e.CatchML = e.Placements * placementML
	e.LeastML, e.MostML = e.CatchML*(1-e.tolerancePercent/100), e.CatchML*(1+e.tolerancePercent/100)
	return e
}

// Working shows the catch that is expected.
func (e ExpectedCatch) Working() working.Steps {
	return working.Steps{}.
		Add("run", fmt.Sprintf("%d turns x %s m", e.Turns, unit.Plain(e.wheelM)), working.Number(e.RunM, 1), "m", "the loaded wheel as measured").
		Add("placements", fmt.Sprintf("run / %s m", unit.Plain(e.spacingM)), working.Number(e.Placements, 1), "placements", "").
		Add("catch of one outlet", fmt.Sprintf("placements x %s mL", unit.Plain(e.placementML)), working.Number(e.CatchML, 0), "mL", "").
		Add("passes from", fmt.Sprintf("less %s %%", unit.Plain(e.tolerancePercent)), working.Number(e.LeastML, 0), "mL", "5 % is usual; common practice, no source").
		Add("passes up to", fmt.Sprintf("and %s %%", unit.Plain(e.tolerancePercent)), working.Number(e.MostML, 0), "mL", "")
}
