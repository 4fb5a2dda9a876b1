package job

import "rowtally/internal/seed"

// LiveWanted is the live seed of one species that a job still wants.
type LiveWanted struct {
	Species string
	Live    float64 // seeds
}

// LiveWanted is what the recipe asks for on the rows not yet mixed for, spare included,
// species by species. It refuses as Rows does; without a recipe nothing is wanted.
func (f Facts) LiveWanted() ([]LiveWanted, error) {
	if f.Recipe == nil {
		return nil, nil
	}
	laid, err := f.Rows()
	if err != nil {
		return nil, err
	}
	placements := f.LeftM(laid.RowM) / f.Layout.SpacingM * (1 + f.Recipe.SparePercent/100)
	var wanted []LiveWanted
	for _, s := range f.Recipe.Species {
		if live := placements * s.liveSeeds(); live >= 1 {
			wanted = append(wanted, LiveWanted{s.Species, live})
		}
	}
	return wanted, nil
}

// liveSeeds is the live seeds meant for one placement.
func (s RecipeSpecies) liveSeeds() float64 {
	if s.TargetFilledPercent == 0 {
		return s.LivePerPlacement
	}
	return seed.MeanPlantsToFill(s.TargetFilledPercent/100) / (s.EmergencePercent / 100)
}
