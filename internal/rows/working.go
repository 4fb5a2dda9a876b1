package rows

import (
	"fmt"

	"rowtally/internal/working"
)

// Working shows how the plan's figures came about.
func (p Plan) Working() working.Steps {
	in := p.in
	onEllipsoid, source := "outsides less holes, on the ellipsoid", "Karney, J. Geodesy 87 (2013)"
	if p.Frame == nil {
		onEllipsoid, source = "outside less holes, in the plane", ""
	}
	steps := working.Steps{}.
		Add("paddock, gross", onEllipsoid, working.Number(p.PaddockM2/10_000, 2), "ha", source).
		Add("pitch of the belts", fmt.Sprintf("(%d − 1) × %v + %v", in.RowsPerBelt, in.gap(), in.AlleyM), working.Number(p.PitchM, 2), "m", "").
		Add("row metres per hectare", fmt.Sprintf("10 000 × %d ÷ %v", in.RowsPerBelt, p.PitchM), working.Number(p.RowMPerHa, 1), "m/ha", "").
		Add("rows", fmt.Sprintf("along %v° from %v m right of the left-most point%s; those with a span", p.BearingDeg, in.phase(), p.phaseWords()), working.Number(float64(p.RowCount), 0), "rows", "").
		Add("row metres", p.rowWords(), working.Number(p.RowM, 1), "row-m", "")
	if in.LeastRowM > 0 {
		steps = steps.Add("dropped", fmt.Sprintf("spans shorter than %v m", in.LeastRowM), working.Number(p.DroppedM, 1), "row-m", "")
	}
	if in.HeadlandPasses > 0 {
		steps = steps.Add("headland passes", p.passWords(), working.Number(p.HeadlandRowM, 1), "row-m", "")
	}
	return steps.
		Add("placements", fmt.Sprintf("%.1f ÷ %v, to the nearest whole one", p.RowM, in.PlacementSpacingM), working.Number(float64(p.Placements), 0), "placements", "").
		Add("passes", "one for each belt with a row", working.Number(float64(p.Passes), 0), "passes", "").
		Add("turns", fmt.Sprintf("%d passes less one", p.Passes), working.Number(float64(p.Turns), 0), "turns", "").
		Add("driven with the seeder in the ground", "where any row of a belt is sown", working.Number(p.DrivenM/1000, 3), "driven km", "").
		Add("net ground", fmt.Sprintf("%.1f ÷ %.1f", p.RowM, p.RowMPerHa), working.Number(p.NetHa, 2), "ha", "").
		Add("lifted", "gaps within passes, and straight from the end of each to the start of the next, there and back in turn; turning loops not counted", working.Number(p.NonWorkingM/1000, 3), "driven km", "").
		Add("alleys", fmt.Sprintf("%.4f × %v ÷ %v", p.NetHa, in.AlleyM, p.PitchM), working.Number(p.AlleyHa, 2), "ha", "")
}

func (p Plan) rowWords() string {
	return fmt.Sprintf("sum of %d spans, each at least %v m from the outside and %v m from holes and no-go areas",
		p.SpanCount, p.in.HeadlandM, p.in.margin())
}

// phaseWords says how the first row's place was chosen.
func (p Plan) phaseWords() string {
	if !p.in.BestPhase {
		return ""
	}
	return fmt.Sprintf(", of places %v m apart over one pitch the one with most row metres, of equal ones the smallest", p.in.phaseStepM())
}

func (p Plan) passWords() string {
	counted := "not in the row metres"
	if p.in.CountHeadlands {
		counted = "in the row metres"
	}
	return fmt.Sprintf("%d round the edge of what may be sown, straight pieces and arcs; %s", p.in.HeadlandPasses, counted)
}
