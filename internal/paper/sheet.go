package paper

import "rowtally/internal/unit"

// Sheet is what a mixing sheet says: the figures of a job's mix as they were worked out
// on the day of printing. The sheet prints them and works out none.
type Sheet struct {
	Business  string
	JobCode   string // "J-03"
	JobName   string
	Farm      string
	Paddock   string
	Season    int
	PrintedOn unit.Date
	Layout    string // one sentence

	RowKm              float64
	PlacementsPerRowKm float64
	PlacementML        float64
	LPerRowKm          float64 // litres of mix
	TubL               float64 // a full tub, to the line

	Medium  string  // "vermiculite, medium grade"
	MediumL float64 // for the whole job
	Lots    []SheetLot
	Tubs    []SheetTub
	Catch   SheetCatch
	Notes   []string // cautions of this job, beside those on every sheet
}

// SheetLot is a lot of the mix with what the whole job takes of it.
type SheetLot struct {
	Code       string
	Species    string // botanical name
	CommonName string
	Kg         float64
	Treatment  string // product and date; "" for untreated seed
}

// described names a lot in words, with its treatment.
func (l SheetLot) described() string {
	words := joined(", ", l.CommonName, l.Species)
	if l.Treatment != "" {
		words += ", treated: " + l.Treatment
	}
	return words
}

// SheetTub is one fill of the tub.
type SheetTub struct {
	Number  int
	LineL   float64 // litres of mix: fill up to here
	MediumL float64
	RowKm   float64     // how far it should last
	Lots    []SheetDose // in the order of adding
}

// SheetDose is what one lot gives to one tub.
type SheetDose struct {
	Code  string
	Grams int64
}

// SheetCatch is what one outlet should drop over a catch run, and the band around it that
// counts as right. The zero SheetCatch leaves the figures out.
type SheetCatch struct {
	RunM                        float64
	Placements                  float64
	ExpectedML, LeastML, MostML float64
	TolerancePercent            float64
}
