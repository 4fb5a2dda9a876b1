package mix

import (
	"math"

	"rowtally/internal/seed"
)

// meanPlants is the mean number of plants that a placement is expected to hold.
func (m Mix) meanPlants() (plants float64) {
	for i, s := range m.Species {
		plants += s.LiveSeedsPerPlacement * m.recipe.Species[i].EmergenceFraction
	}
	return plants
}

// expect works out the share of placements filled, and its limits.
func (m *Mix) expect() error {
	m.ExpectedFilledFraction = seed.FilledFraction(m.meanPlants())
	low, high, tested := 0.0, 0.0, false
	for i, s := range m.recipe.Species {
		plants := m.Species[i].LiveSeedsPerPlacement * s.EmergenceFraction
		for k, share := range shares(s.draws()) {
			ends, err := s.Lots[k].liveEnds()
			if err != nil {
				return err
			}
			tested = tested || s.Lots[k].SeedsTested != nil
			low, high = low+plants*share*ends[0], high+plants*share*ends[1]
		}
	}
	if tested {
		low, high = seed.FilledFraction(low), seed.FilledFraction(high)
		m.ExpectedFilledLowFraction, m.ExpectedFilledHighFraction = &low, &high
	}
	var err error
	m.Range, err = m.rangeOf()
	return err
}

// liveEnds are the ends of the 95 % interval of the lot's live share, over that share;
// 1 and 1 where the lot does not say how many seeds were tested.
func (l Lot) liveEnds() (ends [2]float64, err error) {
	if l.SeedsTested == nil {
		return [2]float64{1, 1}, nil
	}
	share := min(1, l.LivePercent()/100)
	counted := int(math.Round(share * float64(*l.SeedsTested)))
	i, err := seed.IntervalOf(seed.Counted{Successes: counted, Trials: *l.SeedsTested, Method: seed.ClopperPearson})
	return [2]float64{i.LowFraction / share, i.HighFraction / share}, err
}
