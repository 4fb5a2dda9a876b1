package calc

import "rowtally/internal/seed"

func seedCalculations() []calculation {
	return []calculation{
		of("germination-test", "what a germination test says, and whether its replicates agree", seed.JudgeGermination),
		of("retest-agreement", "whether two germination tests of one lot agree", seed.CompareTests),
		of("binomial-interval", "limits around a share that was counted", seed.IntervalOf),
		of("pure-live-seed", "the live share of a lot's mass, and the seed as bagged that gives a rate", seed.LiveSeedOf),
		of("seed-storage", "how long a lot keeps in its store, by the viability equation", seed.Keep),
		of("placements-filled", "the share of placements with at least one plant, or the live seeds that fill a target", seed.FilledPlacements),
	}
}
