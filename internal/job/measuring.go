package job

// Measuring is how a job's logs are matched to its rows, and what each of the three ways
// to tell the row-km may err by. The job 0 is the business's own, which holds where a job
// has none.
type Measuring struct {
	JobID int64

	CrossTrackM float64 // how far beside a row the middle line of a pass may lie
	HeadingDeg  float64 // how far off the rows' bearing a pass may run
	LeastPassM  float64 // shorter passes are left out
	BridgeM     float64 // the longest dropout that is bridged
	SpeedMinKmh float64 // a log without the implement's state counts no slower pass…
	SpeedMaxKmh float64 // …and no faster one
	FlagLagS    float64 // seconds by which the logged state trails the implement
	HoldFixes   int     // a track has left its line when it stays off for so many fixes…
	HoldM       float64 // …and so far

	SpacingM          float64 // of placements, as measured in the row; 0 for the layout's
	SpacingErrPercent float64 // what the spacing may err by, about 95 %
	CounterErrPercent float64 // …the placement counter
	MixErrPercent     float64 // …the litres of mix used
	RateErrPercent    float64 // …the litres per row-km
}

// UsualMeasuring is what holds until the contractor sets something else: our choice for
// tractors on rows metres apart, none of it published.
var UsualMeasuring = Measuring{
	CrossTrackM: 3, HeadingDeg: 15, LeastPassM: 2, BridgeM: 100, SpeedMinKmh: 0.5, SpeedMaxKmh: 25, HoldFixes: 3, HoldM: 5,
	SpacingErrPercent: 3, CounterErrPercent: 2, MixErrPercent: 3, RateErrPercent: 5,
}
