package mix

import (
	"errors"
	"fmt"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// CatchTest asks what the meter really drops: the real mix caught at working speed over
// a measured run. All figures above 0, save a tolerance that may be 0.
type CatchTest struct {
	CaughtML                  float64  `json:"caught_ml"`      // all outlets that were caught, together
	RunM                      float64  `json:"run_m"`          // travelled while catching
	Rows                      *int     `json:"rows,omitempty"` // outlets caught; 1 when left out
	PlacementSpacingM         float64  `json:"placement_spacing_m"`
	IntendedPlacementVolumeML float64  `json:"intended_placement_volume_ml"`
	TubL                      float64  `json:"tub_l"`
	TolerancePercent          *float64 `json:"tolerance_percent,omitempty"` // 5 when left out: usual, no source
	LiveSeedsPerPlacement     *float64 `json:"live_seeds_per_placement,omitempty"`
}

// Metering is what a catch test says.
type Metering struct {
	PlacementVolumeML float64 `json:"placement_volume_ml"`
	MixLPerKm         float64 `json:"mix_l_per_km"`      // of one row
	DeviationPercent  float64 `json:"deviation_percent"` // of the intended volume, + = heavy
	WithinTolerance   bool    `json:"within_tolerance"`
	// NewSettingFactor times the present meter setting gives the intended volume, where
	// the meter drops in proportion to its setting.
	NewSettingFactor float64  `json:"new_setting_factor"`
	PlacementsPerTub float64  `json:"placements_per_tub"`
	RowKmPerTub      float64  `json:"row_km_per_tub"`
	LiveSeedsPerTub  *float64 `json:"live_seeds_per_tub,omitempty"` // that keep the live seeds of a placement as given

	test CatchTest
}

// Measure works out a catch test.
func Measure(c CatchTest) (Metering, error) {
	if err := c.check(); err != nil {
		return Metering{}, err
	}
	m := Metering{test: c, MixLPerKm: c.CaughtML / (c.RunM * float64(c.rows()))} // mL per m is L per km
	m.PlacementVolumeML = m.MixLPerKm * c.PlacementSpacingM
	m.DeviationPercent = 100 * (m.PlacementVolumeML/c.IntendedPlacementVolumeML - 1)
	m.WithinTolerance = math.Abs(m.DeviationPercent) <= c.tolerancePercent()+1e-9
	m.NewSettingFactor = c.IntendedPlacementVolumeML / m.PlacementVolumeML
	m.PlacementsPerTub = c.TubL * 1000 / m.PlacementVolumeML
	m.RowKmPerTub = c.TubL / m.MixLPerKm
	if c.LiveSeedsPerPlacement != nil {
		live := *c.LiveSeedsPerPlacement * m.PlacementsPerTub
		m.LiveSeedsPerTub = &live
	}
	return m, nil
}

func (c CatchTest) rows() int {
	if c.Rows == nil {
		return 1
	}
	return *c.Rows
}

func (c CatchTest) tolerancePercent() float64 {
	if c.TolerancePercent == nil {
		return 5
	}
	return *c.TolerancePercent
}

func (c CatchTest) check() error {
	errs := []error{
		between("caught_ml", "the catch, in mL,", c.CaughtML, leastML, mostML),
		between("run_m", "the run, in metres,", c.RunM, leastM, mostRunM),
		between("placement_spacing_m", "the spacing of placements, in metres,", c.PlacementSpacingM, leastM, mostSpacingM),
		between("intended_placement_volume_ml", "the intended volume of a placement, in mL,", c.IntendedPlacementVolumeML, leastML, mostML),
		between("tub_l", "the tub, in litres,", c.TubL, leastL, mostL),
		between("tolerance_percent", "the tolerance, in %,", c.tolerancePercent(), 0, 100),
		betweenIfGiven("live_seeds_per_placement", "live seeds per placement", c.LiveSeedsPerPlacement, 0, mostLive),
	}
	if rows := c.rows(); rows < 1 || rows > 100 {
		errs = append(errs, fault.Refuse("rows", "rows is %d, enter how many outlets were caught, from 1 to 100", rows))
	}
	return errors.Join(errs...)
}

// Working shows the catch test.
func (m Metering) Working() working.Steps {
	c := m.test
	steps := working.Steps{}.
		Add("mix per row-km", fmt.Sprintf("%s mL caught / (%s m x outlets caught, %d)", unit.Plain(c.CaughtML), unit.Plain(c.RunM), c.rows()), working.Number(m.MixLPerKm, 2), "L per row-km", "").
		Add("placement", fmt.Sprintf("mL per m x spacing %s m", unit.Plain(c.PlacementSpacingM)), working.Number(m.PlacementVolumeML, 1), "mL", "").
		Add("deviation", fmt.Sprintf("against %s mL intended", unit.Plain(c.IntendedPlacementVolumeML)), working.Number(m.DeviationPercent, 1), "%", "").
		Add("tolerance", "the contractor's setting", working.Number(c.tolerancePercent(), 1), "%", "5 % is usual; common practice, no source").
		Add("new meter setting", "present setting x intended / measured", working.Number(m.NewSettingFactor, 3), "times", "").
		Add("placements from a tub", fmt.Sprintf("%s L x 1000 / placement", unit.Plain(c.TubL)), working.Number(m.PlacementsPerTub, 0), "placements", "").
		Add("a tub lasts", "tub / mix per row-km", working.Number(m.RowKmPerTub, 2), "row-km", "")
	if m.LiveSeedsPerTub != nil {
		steps = steps.Add("live seeds to a tub", "live seeds per placement x placements from a tub", working.Number(*m.LiveSeedsPerTub, 0), "live seeds", "")
	}
	return steps
}

// MeterOff is one line of what a meter that is off does to a mix made as planned.
type MeterOff struct {
	DeviationPercent      float64 `json:"deviation_percent"`
	PlacementVolumeML     float64 `json:"placement_volume_ml"`
	RowKm                 float64 `json:"row_km"` // that the mix lasts
	LiveSeedsPerPlacement float64 `json:"live_seeds_per_placement"`
	FilledFraction        float64 `json:"filled_fraction"`   // of the placements that the mix reaches
	PlacementsFilled      float64 `json:"placements_filled"` // of the planned ones: those that the mix reaches, times that share
}

// meterOffPercents are the deviations shown, from a fifth light to three tenths heavy.
var meterOffPercents = []float64{-20, -10, 0, 10, 20, 30}

// MeterOff is the table of what a meter off by -20 to +30 % does to the mix.
func (m Mix) MeterOff() (table []MeterOff) {
	for _, percent := range meterOffPercents {
		table = append(table, m.metered(1+percent/100))
	}
	return table
}

// metered is what the mix does when the meter drops so many times the planned volume:
// each placement gets seed and medium in proportion, and the mix ends so much earlier.
func (m Mix) metered(times float64) MeterOff {
	off := MeterOff{
		DeviationPercent:      100 * (times - 1),
		PlacementVolumeML:     m.recipe.PlacementVolumeML * times,
		RowKm:                 m.MixL / (m.MixLPerKm * times),
		LiveSeedsPerPlacement: m.LiveSeedsPerKm / m.PlacementsPerKm * times,
		FilledFraction:        seed.FilledFraction(m.meanPlants() * times),
	}
	off.PlacementsFilled = min(m.Placements, off.RowKm*m.PlacementsPerKm) * off.FilledFraction
	return off
}
