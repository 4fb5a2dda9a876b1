package job

// HectaresOf tells over which hectares of a paddock its understorey is sown.
type HectaresOf string

const (
	GrossHa HectaresOf = "gross" // the whole paddock inside its boundary, holes left out
	AlleyHa HectaresOf = "alley" // between the belts
)

// Understorey is the grasses and legumes sown over a job's alleys or its whole paddock.
type Understorey struct {
	JobID      int64
	HectaresOf HectaresOf
	Species    []UnderstoreySpecies
}

// UnderstoreySpecies is one species of an understorey: its rate, its lots with their shares
// of the rate, and the inoculant that its seed is given, none while the group is "".
type UnderstoreySpecies struct {
	Species         string
	RateKgPerHa     float64
	RateIsLive      bool // the rate is of pure live seed, else of seed as bagged
	CountHard       bool // hard seed counts as live
	InoculantGroup  string
	InoculantGPerKg float64 // of inoculant, to a kg of seed as bagged
	InoculantHours  float64 // from mixing to the latest sowing; 0 when the label gives none
	LotIDs          []int64
	SharePercents   []float64 // of the rate, by lot; nil for equal shares
}
