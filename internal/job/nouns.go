package job

import (
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/unit"
)

// Business is the contractor's own.
type Business struct {
	Name          string
	ABN           string // digits
	Address       string
	Phone         string
	Email         string
	Registered    bool // for the tax
	RegisteredOn  unit.Date
	Currency      string    // "AUD"
	TaxLabel      string    // "GST"
	TaxPercent    string    // decimal, "10": the rate until the first of TaxRates
	PricesInclude bool      // whether quotes are priced with the tax in them
	PayTo         string    // account name, BSB, account: as printed on invoices
	TermsDays     int       // days from an invoice's issue to its due day
	ValidDays     int       // days that a quote holds
	Zone          string    // time zone of the business's days, "Australia/Adelaide"
	DemoDay       unit.Date // the fixed day of the demo; "" in real use

	// Imagery under the map that boundaries are drawn on. Without an address nothing is fetched.
	TileAddress string // "https://tiles.example.org/{z}/{x}/{y}.png"; "" for none
	TileCredit  string // whose imagery it is, as it stands under the map
	TileClosest int    // the closest level that is served, 1..24; 0 without an address

	TaxRates []bill.TaxRate `gorm:"-"` // changes of the rate, in the order of their days
}

// Role tells what a person may do.
type Role string

const (
	Contractor Role = "contractor"
	Operator   Role = "operator"
)

// Person signs in.
type Person struct {
	ID           int64
	Name         string
	Role         Role
	PasswordHash string
	Left         bool // may no longer sign in
}

// Job is the work on one paddock of one farm in one season.
type Job struct {
	ID          int64
	Code        string // "J-03"
	FarmID      int64
	PaddockID   int64
	Name        string // the paddock's name at first; may be changed
	Season      int    // year
	AskedOn     unit.Date
	VisitedOn   unit.Date // site visit; "" when nobody went yet
	VisitNote   string
	WindowFrom  unit.Date
	WindowTo    unit.Date
	DeclinedOn  unit.Date
	DeclinedWhy string
	Note        string
}

// Layout is how a job's rows are laid: the settings, not the figures that follow.
type Layout struct {
	JobID       int64
	BearingDeg  float64 // true
	RowsPerBelt int
	RowGapM     float64
	AlleyM      float64
	HeadlandM   float64
	NoGoMarginM float64
	SpacingM    float64 // of placements along the row
	LeastRowM   float64

	Phase          Phase
	PhaseM         float64 // first row, right of the left-most point; used where Phase is PhaseTyped
	FromRight      bool    // driven and numbered from the right
	HeadlandPasses int     // belts sown round the headland, 0..20
	CountHeadlands bool    // whether they are in the row-km
	Edges          string  // stretches of the outside with a headland of their own, as JSON of EdgeHeadland; "" for none
	NoGoMargins    string  // no-go areas with a margin of their own, as JSON of NoGoMargin; "" for none

	// at what rate it is worked; a speed of 0 where that is not told
	SpeedKmh               float64
	TurnS                  float64 // one turn to a pass
	OtherEfficiencyPercent float64 // of the time besides turns; 0 stands for 100
}

// Phase says where the first row stands.
type Phase string

// The headland away from the left-most point, a typed distance, or where most row-km fit.
const (
	PhaseAtHeadland Phase = ""
	PhaseTyped      Phase = "typed"
	PhaseBest       Phase = "best"
)

// Recipe is what goes into the tubs of a job: the settings, not the figures that follow.
type Recipe struct {
	JobID        int64
	PlacementML  float64
	TubL         float64
	SparePercent float64
	ProductID    int64 // bulking medium
	ScaleStepG   float64
	LiveBy       LiveBy    // by which live seed the lots are weighed
	Limits       LotLimits // that its lots are chosen within
	SowerID      int64     // machine that sows it; 0 while none is named

	// VoidsFraction, 0..1, is the share of the seed's own volume that disappears between the
	// medium's grains, as FirstTubMediumL showed: what the first tub took to its line, 0 while
	// that was not measured.
	VoidsFraction   float64
	FirstTubMediumL float64

	Species []RecipeSpecies
}

// RecipeSpecies is one species of a recipe and the lots that supply it.
type RecipeSpecies struct {
	Species          string
	EmergencePercent float64 // share of live seeds that become established plants

	// the ends between which 95 of 100 seasons lie, as the contractor judges; 0 and 0 for none
	EmergenceLowPercent, EmergenceHighPercent float64

	EmergenceFrom string // the counts that the share was learned from; "" for the contractor's own figure

	LivePerPlacement    float64 // 0 when TargetFilledPercent rules
	TargetFilledPercent float64
	LotIDs              []int64
	SharePercents       []float64 // of the live seed, by lot; nil for equal shares
}

// Log is one file of a sowing log as it was loaded.
type Log struct {
	ID       int64
	JobID    int64
	Name     string
	Format   string // "gpx", "csv", "nmea", "geojson"
	SHA256   string
	Content  []byte
	LoadedAt time.Time
	PersonID int64

	// what the log's machine sowed with
	PassRows     int     // rows sown in one pass
	RowGapM      float64 // between them
	OffsetRightM float64 // of the rows' middle, right of the antenna
	BehindM      float64 // the rows, behind the antenna; below 0 ahead of it
}

// Sown is the sown record: the job's logs matched to its rows. Lengths in metres of row.
type Sown struct {
	JobID                                                              int64
	MadeAt                                                             time.Time
	PlannedM, CoveredM, MissedM, DoubledM, OverrunM, UnplannedM, SownM float64
	Fixes, Passes                                                      int

	SownBy       string  // "flag", "place" or "flag and place": what told where the machine sowed
	Refused      int     // fixes and lines that were not used
	UncertaintyM float64 // of SownM, about 95 %
	BridgedM     float64 // across dropouts, part of SownM
	PastEndsM    float64 // driven straight on past planned ends, not in SownM
	CurvedM      float64 // part of UnplannedM that runs along no straight line
	TrackM       float64 // driven while sowing, summed fix to fix: metres driven, not of row
	TrackRowsM   float64 // that sum times the rows sown in each pass: what summing would say
	ScatterM     float64 // of the fixes beside their passes, standard deviation

	Detail string // JSON of the match: rows with their stretches, files, notes

	read *remembered[string, detail] // nil: the detail is read at every asking
}
