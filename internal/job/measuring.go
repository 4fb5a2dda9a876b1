package job

import (
	"errors"
	"fmt"

	"rowtally/internal/sown"
	"rowtally/internal/unit"
)

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

// Measured is how the job's rows are measured: the usual way where nothing is known.
func (f Facts) Measured() Measuring {
	if f.Measuring == (Measuring{}) {
		return UsualMeasuring
	}
	return f.Measuring
}

// tolerances are the settings as the match takes them.
func (m Measuring) tolerances() sown.Tolerances {
	holdFixes := float64(m.HoldFixes)
	return sown.Tolerances{
		CrossTrackM: &m.CrossTrackM, HeadingDeg: &m.HeadingDeg, LeastPassM: &m.LeastPassM, BridgeM: &m.BridgeM, SpeedMinKmh: &m.SpeedMinKmh,
		SpeedMaxKmh: &m.SpeedMaxKmh, HoldM: &m.HoldM, HoldFixes: &holdFixes, FlagLagS: &m.FlagLagS,
	}
}

// Check refuses settings that cannot be, each with its field.
func (m Measuring) Check() error {
	errs := []error{m.tolerances().Check()}
	if m.SpacingM != 0 {
		errs = append(errs, within("spacing_m", "the spacing of placements, in m,", m.SpacingM, 0.05, 100))
	}
	for _, one := range []struct {
		field, what string
		percent     float64
	}{
		{"spacing_err_percent", "what the spacing may err by, in %,", m.SpacingErrPercent},
		{"counter_err_percent", "what the counter may err by, in %,", m.CounterErrPercent},
		{"mix_err_percent", "what the mix used may err by, in %,", m.MixErrPercent},
		{"rate_err_percent", "what the litres per row-km may err by, in %,", m.RateErrPercent},
	} {
		errs = append(errs, within(one.field, one.what, one.percent, 0, 100))
	}
	return errors.Join(errs...)
}

// Says is the tolerances in a sentence, for a record that was told by the implement's state
// ("flag"), by place, or by both.
func (m Measuring) Says(by string) string {
	says := fmt.Sprintf("Our own settings: a pass counts within %s m and %s° of a row and from %s m on, farther aside only where the whole log drifts; it ends where the track is off it over %s m and at %d fixes or more; dropouts up to %s m are bridged",
		unit.Plain(m.CrossTrackM), unit.Plain(m.HeadingDeg), unit.Plain(m.LeastPassM), unit.Plain(m.HoldM), m.HoldFixes, unit.Plain(m.BridgeM))
	if by != "flag" {
		says += fmt.Sprintf("; without the implement's state, speeds of %s to %s km/h", unit.Plain(m.SpeedMinKmh), unit.Plain(m.SpeedMaxKmh))
	}
	if m.FlagLagS != 0 {
		says += fmt.Sprintf("; the state trails by %s s", unit.Plain(m.FlagLagS))
	}
	return says + "."
}
