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

// BetweenWanted is the seed of one species that a job's understorey still wants.
type BetweenWanted struct {
	Of    UnderstoreySpecies
	Grams float64 // of pure live seed where the rate is live, else of seed as bagged
}

// BetweenWanted is what the understorey's rates ask for over its hectares less what is in the
// drill or the ground already, species by species. It refuses as WorkUnderstorey does where
// the hectares are not known; without an understorey nothing is wanted.
func (f Facts) BetweenWanted() (wanted []BetweenWanted, err error) {
	if f.Understorey == nil {
		return nil, nil
	}
	ha, _, err := f.hectares(f.Understorey.HectaresOf)
	if err != nil {
		return nil, err
	}
	for _, s := range f.Understorey.Species {
		grams := 1000 * s.RateKgPerHa * ha
		for _, lot := range f.Shelf.Lots {
			if lot.Species == s.Species && lot.Layer == seed.Understorey {
				grams -= float64(f.drilled(lot.ID)) * f.LiveBetween(lot, s).CountedPerKg(s) / 1000
			}
		}
		if grams >= 1 {
			wanted = append(wanted, BetweenWanted{s, grams})
		}
	}
	return wanted, nil
}

// LiveBetween is what a lot is worth today to a species of the understorey, whose rate says
// whether hard seed counts as live.
func (f Facts) LiveBetween(lot seed.Lot, s UnderstoreySpecies) LotFigures {
	figures := f.Shelf.LotOn(lot, f.Today)
	if figures.Tested {
		figures.Quality.CountHard = s.CountHard
		figures.weighAs(figures.Quality.GerminationPercent)
	}
	return figures
}

// CountedPerKg is how many grams of a kilogram of the lot the rate of a species counts, 0 to
// 1000.
func (f LotFigures) CountedPerKg(s UnderstoreySpecies) float64 {
	if s.RateIsLive {
		return 10 * f.PLSPercent
	}
	return 1000
}

// liveSeeds is the live seeds meant for one placement.
func (s RecipeSpecies) liveSeeds() float64 {
	if s.TargetFilledPercent == 0 {
		return s.LivePerPlacement
	}
	return seed.MeanPlantsToFill(s.TargetFilledPercent/100) / (s.EmergencePercent / 100)
}
