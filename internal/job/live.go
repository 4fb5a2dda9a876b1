package job

// LiveBy is the contractor's choice of the live seed that a recipe's lots are weighed by.
type LiveBy string

const (
	ByLatestTest LiveBy = ""          // the test that counts, as it was found
	ByPrediction LiveBy = "predicted" // foreseen on the sowing day
	BySafeSide   LiveBy = "safe side" // the lower 95 % limit of what is foreseen, or of the test
)

// LotLimits bound the lots that may be proposed for a job. The zero LotLimits bound
// nothing; lots on hold and seed held back for other jobs are never proposed.
type LotLimits struct {
	LeastGerminationPercent float64 // on the sowing day, 0 to 100
	LargestSharePercent     float64 // of a species' live seed from one lot, above 0 up to 100; 0 for any
	OriginContains          string  // "" for any origin
	OldestFirst             bool    // before the cheapest
}
