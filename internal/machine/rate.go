package machine

import (
	"errors"

	"rowtally/internal/fault"
	"rowtally/internal/working"
)

// RateIn asks how fast a machine works: by area, with a width and a field efficiency, or
// along rows, with the row's length and the time of a turn.
type RateIn struct {
	SpeedKmh               float64  `json:"speed_kmh"`                          // 0.01 to 100
	WidthM                 *float64 `json:"width_m,omitempty"`                  // 0.01 to 200
	EfficiencyPercent      *float64 `json:"efficiency_percent,omitempty"`       // 1 to 100: 85, not 0.85
	RowM                   *float64 `json:"row_m,omitempty"`                    // 0.1 to 100,000
	TurnS                  *float64 `json:"turn_s,omitempty"`                   // 0 to 3,600, at each end of a row
	RowsPerPass            *int     `json:"rows_per_pass,omitempty"`            // 1 to 100
	OtherEfficiencyPercent *float64 `json:"other_efficiency_percent,omitempty"` // 1 to 100, 100 when left out
}

// Rate is how fast a machine works, by area or along rows.
type Rate struct {
	HaPerH                float64 `json:"ha_per_h,omitzero"`
	HPerHa                float64 `json:"h_per_ha,omitzero"`
	RowKmPerH             float64 `json:"row_km_per_h,omitzero"` // each row counted
	TurnEfficiencyPercent float64 `json:"turn_efficiency_percent,omitzero"`

	in    RateIn
	runS  float64 // time of one row, without its turn
	other float64 // efficiency besides turning, in per cent
}

// FieldRate works out a work rate.
//
// By area it is speed × width ÷ 10 × efficiency. Along rows one turn is charged to each
// pass, so that n passes bear n turns: the run takes 3.6 × row ÷ speed seconds and the
// turn efficiency is run ÷ (run + turn). Stops to fill are in neither: they belong in
// other_efficiency_percent, or in the field efficiency, never in both.
func FieldRate(in RateIn) (Rate, error) {
	byArea := in.WidthM != nil || in.EfficiencyPercent != nil
	alongRows := in.RowM != nil || in.TurnS != nil || in.RowsPerPass != nil || in.OtherEfficiencyPercent != nil
	speed := within("speed_kmh", in.SpeedKmh, 0.01, 100)
	switch {
	case byArea && alongRows:
		return Rate{}, fault.Refuse("width_m", "the rate by area and the rate along rows are both asked for, enter width_m and efficiency_percent, or row_m, turn_s and rows_per_pass")
	case alongRows:
		if err := errors.Join(speed, in.checkRows()); err != nil {
			return Rate{}, err
		}
		return in.alongRows(), nil
	}
	if err := errors.Join(speed, in.checkArea()); err != nil {
		return Rate{}, err
	}
	return in.byArea(), nil
}

func (in RateIn) byArea() Rate {
	ha := in.SpeedKmh * *in.WidthM / 10 * *in.EfficiencyPercent / 100
	return Rate{HaPerH: ha, HPerHa: 1 / ha, in: in}
}

func (in RateIn) alongRows() Rate {
	out := Rate{in: in, runS: 3.6 * *in.RowM / in.SpeedKmh, other: 100}
	if in.OtherEfficiencyPercent != nil {
		out.other = *in.OtherEfficiencyPercent
	}
	out.TurnEfficiencyPercent = 100 * out.runS / (out.runS + *in.TurnS)
	out.RowKmPerH = float64(*in.RowsPerPass) * in.SpeedKmh * out.TurnEfficiencyPercent / 100 * out.other / 100
	return out
}

func (in RateIn) checkArea() error {
	return errors.Join(needed("width_m", in.WidthM, 0.01, 200), needed("efficiency_percent", in.EfficiencyPercent, 1, 100))
}

func (in RateIn) checkRows() error {
	errs := []error{needed("row_m", in.RowM, 0.1, 100_000), needed("turn_s", in.TurnS, 0, 3600)}
	if in.RowsPerPass == nil {
		errs = append(errs, needed("rows_per_pass", nil, 1, 100))
	} else {
		errs = append(errs, within("rows_per_pass", float64(*in.RowsPerPass), 1, 100))
	}
	if in.OtherEfficiencyPercent != nil {
		errs = append(errs, within("other_efficiency_percent", *in.OtherEfficiencyPercent, 1, 100))
	}
	return errors.Join(errs...)
}

// needed refuses a measure that is not given or not within its bounds.
func needed(field string, v *float64, least, most float64) error {
	if v == nil {
		return fault.Refuse(field, "%s is missing, enter a figure from %s to %s", words(field), plain(least), plain(most))
	}
	return within(field, *v, least, most)
}

// rateSource names the formulas in a working.
const rateSource = "field capacity, speed × width × efficiency ÷ 10 (Iowa State A3-24)"

// Working shows how the rate comes about.
func (r Rate) Working() working.Steps {
	var steps working.Steps
	if r.in.WidthM != nil {
		steps = steps.Add("work rate", plain(r.in.SpeedKmh)+" km/h × "+plain(*r.in.WidthM)+" m ÷ 10 × "+plain(*r.in.EfficiencyPercent)+" %", working.Number(r.HaPerH, 3), "ha/h", rateSource)
		return steps.Add("time for a hectare", "1 ÷ work rate", working.Number(r.HPerHa, 3), "h/ha", "")
	}
	steps = steps.Add("run along one row", "3.6 × "+plain(*r.in.RowM)+" m ÷ "+plain(r.in.SpeedKmh)+" km/h", working.Number(r.runS, 1), "s", "")
	steps = steps.Add("turn efficiency", "run ÷ (run + turn of "+plain(*r.in.TurnS)+" s), one turn to each pass", working.Number(r.TurnEfficiencyPercent, 2), "%", "")
	return steps.Add("work rate", plain(float64(*r.in.RowsPerPass))+" rows × "+plain(r.in.SpeedKmh)+" km/h × turn efficiency × "+plain(r.other)+" %", working.Number(r.RowKmPerH, 3), "row-km/h", "")
}
