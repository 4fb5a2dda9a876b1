package sown

import (
	"math"

	"rowtally/internal/fault"
)

// Tolerances decide what of a log counts as sowing on a row. All are optional; the
// defaults are our choice for tractors on rows metres apart, none of them published.
type Tolerances struct {
	CrossTrackM *float64 `json:"cross_track_m,omitempty"` // 3: how far beside a row the middle line of a pass may lie; farther only by what the passes of its log show together, see seating
	HeadingDeg  *float64 `json:"heading_deg,omitempty"`   // 15: how far off the rows' bearing a pass may run
	LeastPassM  *float64 `json:"least_pass_m,omitempty"`  // 2: shorter passes are left out
	BridgeM     *float64 `json:"bridge_m,omitempty"`      // 100: the longest dropout that is bridged when both sides lie on one row
	SpeedMinKmh *float64 `json:"speed_min_kmh,omitempty"` // 0.5: a log without the implement's state counts no slower pass…
	SpeedMaxKmh *float64 `json:"speed_max_kmh,omitempty"` // 25: …and no faster one
	HoldM       *float64 `json:"hold_m,omitempty"`        // 5: a track has left its line when it stays off it this far…
	HoldFixes   *float64 `json:"hold_fixes,omitempty"`    // 3: …and for so many fixes, a whole number
	FlagLagS    *float64 `json:"flag_lag_s,omitempty"`    // 0: by how many seconds the logged state trails the implement; negative when it runs ahead
}

// limits are tolerances with every default filled in.
type limits struct {
	crossTrackM, headingDeg, leastPassM, bridgeM float64
	speedMinMS, speedMaxMS, flagLagS, holdM      float64
	holdFixes                                    int
}

// Check refuses tolerances out of range, each with its field.
func (t Tolerances) Check() error {
	_, err := t.limits()
	return err
}

// limits checks the tolerances and fills in the defaults.
func (t Tolerances) limits() (limits, error) {
	var l limits
	var failed error
	var holdFixes float64
	for _, one := range []struct {
		field           string
		given           *float64
		otherwise       float64
		least, most     float64
		into            *float64
		timesIntoMetric float64
	}{
		{"cross_track_m", t.CrossTrackM, 3, 0.01, 100, &l.crossTrackM, 1},
		{"heading_deg", t.HeadingDeg, 15, 1, 45, &l.headingDeg, 1},
		{"least_pass_m", t.LeastPassM, 2, 0, 1000, &l.leastPassM, 1},
		{"bridge_m", t.BridgeM, 100, 0, 1000, &l.bridgeM, 1},
		{"speed_min_kmh", t.SpeedMinKmh, 0.5, 0, 100, &l.speedMinMS, msPerKmh},
		{"speed_max_kmh", t.SpeedMaxKmh, 25, 0.1, 200, &l.speedMaxMS, msPerKmh},
		{"hold_m", t.HoldM, 5, 0, 100, &l.holdM, 1},
		{"hold_fixes", t.HoldFixes, 3, 1, 100, &holdFixes, 1},
		{"flag_lag_s", t.FlagLagS, 0, -60, 60, &l.flagLagS, 1},
	} {
		value := one.otherwise
		if one.given != nil {
			value = *one.given
		}
		if failed == nil && !(value >= one.least && value <= one.most) {
			failed = fault.Refuse(one.field, "%s is %g, enter %g to %g", one.field, value, one.least, one.most)
		}
		*one.into = value * one.timesIntoMetric
	}
	l.holdFixes = int(holdFixes)
	if failed == nil && float64(l.holdFixes) != holdFixes {
		failed = fault.Refuse("hold_fixes", "hold_fixes is %g, enter a whole number", holdFixes)
	}
	if failed == nil && l.speedMinMS >= l.speedMaxMS {
		failed = fault.Refuse("speed_min_kmh", "the slowest speed is not below the fastest, enter less than %g km/h", l.speedMaxMS/msPerKmh)
	}
	return l, failed
}

// Implement says where the rows of a sowing machine lie by the antenna. Row r of n lies
// OffsetRightM + RowGapM × (r - (n-1)/2) to the antenna's right, BehindM behind it.
type Implement struct {
	Rows         int     `json:"rows"`                     // 1..24
	RowGapM      float64 `json:"row_gap_m"`                // above 0 unless there is one row
	OffsetRightM float64 `json:"offset_right_m,omitempty"` // of the middle of the rows; negative to the left
	BehindM      float64 `json:"behind_m,omitempty"`       // negative when the rows lie ahead of the antenna
}

// Most of a machine: wider or longer ones are taken for a slip of the pen.
const (
	mostImplementRows = 24
	mostImplementM    = 50
)

// AtAntenna is one row sown straight below the antenna.
var AtAntenna = Implement{Rows: 1}

// Check refuses what cannot be a machine.
func (i Implement) Check() error {
	switch {
	case i.Rows < 1 || i.Rows > mostImplementRows:
		return fault.Refuse("rows", "the implement has %d rows, enter 1 to %d", i.Rows, mostImplementRows)
	case !(i.RowGapM >= 0 && i.RowGapM*float64(i.Rows-1) <= mostImplementM):
		return fault.Refuse("row_gap_m", "the row gap is %g m, enter one that makes the implement no wider than %d m", i.RowGapM, mostImplementM)
	case i.Rows > 1 && i.RowGapM == 0:
		return fault.Refuse("row_gap_m", "the row gap is 0 m with %d rows, enter the distance between them", i.Rows)
	case !(math.Abs(i.OffsetRightM) <= mostImplementM):
		return fault.Refuse("offset_right_m", "the implement lies %g m beside the antenna, enter up to %d m", i.OffsetRightM, mostImplementM)
	case !(math.Abs(i.BehindM) <= mostImplementM):
		return fault.Refuse("behind_m", "the implement lies %g m behind the antenna, enter up to %d m", i.BehindM, mostImplementM)
	}
	return nil
}

// rightM is how far right of the antenna row r lies, r from 0.
func (i Implement) rightM(r int) float64 {
	return i.OffsetRightM + i.RowGapM*(float64(r)-float64(i.Rows-1)/2)
}
