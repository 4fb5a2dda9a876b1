package calc

import "rowtally/internal/mix"

func mixCalculations() []calculation {
	return []calculation{
		of("mix", "what to weigh and what to fill up with, lot by lot and tub by tub", mix.MakeUp),
		of("catch-test", "what the meter really drops, and how far a tub goes", mix.Measure),
	}
}
