package sown

import (
	"rowtally/internal/fault"
	"rowtally/internal/rows"
)

// matcher gathers what logs tell of the rows of a plan.
type matcher struct {
	plan    rows.Plan
	bounds  bounds
	limits  limits
	several bool // more than one log
	rows    []rowTally
	laps    []*lap // of the headland, where it counts
	sums    sums
}

// sums are what belongs to no one row.
type sums struct {
	record         Record // whatever is counted or summed as it comes
	byFlag, place  bool
	dopplerM       float64   // NaN once a speed was missing
	varianceM2     float64   // of the sown length
	scattersM      []float64 // by log
	endRowsSquared float64   // over both ends of every pass, the square of its rows
	asideM         []float64 // by pass on rows, positive to the right of the bearing
	shortM         float64   // in passes too short to count
	outOfWindow    int       // passes that the log calls sowing at no sowing speed
	singles        bool      // a machine of one row drove
}

func newMatcher(plan rows.Plan, drives []Drive, tolerances Tolerances) (*matcher, error) {
	for _, drive := range drives {
		if err := drive.Machine.Check(); err != nil {
			return nil, fault.Under("implement", err)
		}
	}
	l, err := tolerances.limits()
	switch {
	case err != nil:
		return nil, fault.Under("tolerances", err)
	case plan.Frame == nil:
		return nil, fault.Refuse("plan", "the plan is in metres and has no place on the earth, give its boundary in latitude and longitude")
	case len(plan.Rows) == 0:
		return nil, fault.Refuse("plan", "the plan has no row to sow, make the headland or the least row smaller")
	case len(drives) == 0:
		return nil, fault.Refuse("log", "there is no log, load the one that was written while sowing")
	}
	m := &matcher{plan: plan, bounds: boundsOf(plan), limits: l, several: len(drives) > 1}
	for _, drive := range drives {
		if err := m.check(drive.Log); err != nil {
			return nil, err
		}
	}
	m.laps = lapsOf(plan)
	for _, row := range plan.Rows {
		m.rows = append(m.rows, tallyOf(row))
	}
	return m, nil
}

func (m *matcher) check(log Log) error {
	if len(log.Fixes) == 0 {
		return fault.Refuse("log", "the log holds no fix, choose the file that was written while sowing")
	}
	if m.limits.flagLagS != 0 {
		for _, fix := range log.Fixes {
			if !fix.Timed() {
				return fault.Refuse("tolerances.flag_lag_s", "the log has fixes without a time, so a lag in seconds cannot be taken off; leave it out")
			}
		}
	}
	return checkNear(log, m.plan, m.bounds)
}
