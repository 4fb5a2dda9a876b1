package mix

import (
	"fmt"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

const (
	recipeSource = "common practice, no source: seed weighed in, medium filled up to the line"
	liveSource   = "units per kg count what the germination test counted; fill is already inside germination"
	filledSource = "Poisson law, seeds taken as independent; a whole placement can fail together, so a ceiling"
	endsSource   = "Clopper & Pearson 1934, Biometrika 26:404-413; every test at the same end of its 95 % interval"
	endsOfTests  = "Clopper & Pearson 1934; lots added up by squares, Zou & Donner 2008, Statistics in Medicine 27:1693-1702"
)

// Working shows the mix from the rows to the tub.
func (m Mix) Working() working.Steps {
	r := m.recipe
	steps := working.Steps{}.
		Add("placements", "1000 / spacing", working.Number(m.PlacementsPerKm, 1), "per row-km", "").
		Add("mix per row-km", "mL per placement x placements per row-km / 1000", working.Number(m.MixLPerKm, 2), "L per row-km", recipeSource).
		Add("mix", fmt.Sprintf("L per row-km x %s row-km, and %s %% spare", unit.Plain(r.RowKm), unit.Plain(r.SparePercent)), working.Number(m.MixL, 1), "L", "")
	for i, s := range m.Species {
		steps = append(steps, s.working(r.Species[i], r)...)
	}
	steps = append(steps, m.mediumWorking()...)
	steps = append(steps, m.filledWorking()...)
	if m.Cost != nil {
		steps = steps.Add("cost", "lots as weighed x cost per kg, whole bags x cost per bag, each to the cent", working.Text(m.Cost.String()), "", "")
	}
	for _, note := range m.Notes {
		steps = steps.Add("left out", "", working.Text(note), "", "")
	}
	return steps
}

func (s SpeciesMix) working(asked Species, r Recipe) (steps working.Steps) {
	formula := "as asked"
	if asked.TargetFilledFraction != nil {
		formula = fmt.Sprintf("-ln(1 - target %s) / emergence %s", unit.Plain(*asked.TargetFilledFraction), unit.Plain(asked.EmergenceFraction))
	}
	steps = steps.Add(s.Name, formula, working.Number(s.LiveSeedsPerPlacement, 1), "live seeds per placement", "")
	part := shares(asked.draws())
	for i, l := range s.Lots {
		live := "units per kg x purity x germination"
		if asked.Lots[i].CountHard {
			live = "units per kg x purity x (germination + hard)"
		}
		steps = steps.
			Add(l.Code+", live seed", live, working.Number(l.LivePerKg, 0), "live seeds per kg", liveSource).
			Add(l.Code+", per row-km", fmt.Sprintf("live seeds per placement x share %.3g x placements per row-km / live seeds per kg", part[i]), working.Number(l.KgPerKm, 4), "kg per row-km", "").
			Add(l.Code+", weighed", fmt.Sprintf("row-km and spare; in steps of %s g", unit.Plain(r.scaleStepG())), working.Number(l.WeighedKg, 3), "kg", "")
	}
	return steps
}

func (m Mix) mediumWorking() working.Steps {
	steps := working.Steps{}.
		Add("seed, own volume", "kg / bulk density, lot by lot; nothing for a lot without a bulk density", working.Number(m.SeedL, 2), "L", "").
		Add("medium", fmt.Sprintf("mix less seed x (1 - %s that fills voids)", unit.Plain(m.recipe.SeedFillsVoidsFraction)), working.Number(m.MediumL, 1), "L", "").
		Add("medium, weight", fmt.Sprintf("L x %s kg per m³ / 1000", unit.Plain(m.recipe.Medium.BulkDensityKgPerM3)), working.Number(m.MediumKg, 1), "kg", "")
	if m.MediumBags != nil {
		steps = steps.Add("medium, bags", fmt.Sprintf("L / %s L, whole bags up", unit.Plain(*m.recipe.Medium.BagL)), working.Number(float64(*m.MediumBags), 0), "bags", "")
	}
	return steps.Add("tubs", fmt.Sprintf("mix / %s L, the last one a part", unit.Plain(m.recipe.TubL)), working.Number(float64(len(m.Batches)), 0), "tubs", "")
}

func (m Mix) filledWorking() working.Steps {
	steps := working.Steps{}.
		Add("plants in a placement, mean", "sum of live seeds x emergence", working.Number(m.meanPlants(), 3), "plants", "").
		Add("placements filled", "1 - e^(-mean)", working.Number(m.ExpectedFilledFraction, 3), "fraction", filledSource)
	if m.ExpectedFilledLowFraction != nil {
		steps = steps.
			Add("placements filled, low", "germination tests at the low end", working.Number(*m.ExpectedFilledLowFraction, 3), "fraction", endsSource).
			Add("placements filled, high", "germination tests at the high end", working.Number(*m.ExpectedFilledHighFraction, 3), "fraction", endsSource)
	}
	if r := m.Range; r != nil {
		steps = r.span(steps, "tests alone in doubt", r.Tests, endsOfTests)
		steps = r.span(steps, "emergence alone in doubt", r.Emergence, "the contractor's own range, read as 95 %")
		steps = r.span(steps, "tests and emergence", r.Span, "both by squares, on the scale of logarithms")
	}
	return steps
}

func (FilledRange) span(steps working.Steps, what string, s Span, source string) working.Steps {
	return steps.
		Add("placements filled, from", what, working.Number(s.LowFraction, 3), "fraction", source).
		Add("placements filled, to", what, working.Number(s.HighFraction, 3), "fraction", source)
}
