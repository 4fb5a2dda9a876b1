package sown

import (
	"testing"

	"rowtally/internal/published"
)

// TestFixToFixSumsAreTooLong shows why a sown length is a projection: the plain sum is too
// long by what is published for the log's scatter, the projection is not.
func TestFixToFixSumsAreTooLong(t *testing.T) {
	plan := paddock(t, 60, 1040, 80, 1, 0, 6)
	for _, row := range published.Rows(t, "track_length_excess.csv") {
		l := logger{hz: row.Number("hz"), speedMS: 2, scatterM: row.Number("scatter_m"), memoryS: row.Number("memory_s"),
			withTime: true, asFlag: true, runOutM: 2}
		var track, sown float64
		for seed := range 4 {
			l.seed = uint64(seed)
			r := logged(t, l, plan, farm(plan, AtAntenna), AtAntenna, Tolerances{})
			track, sown = track+r.TrackM, sown+r.SownM
		}
		truth := 4 * plan.RowM
		want := row.Number("polyline_excess_percent")
		near(t, row.Name+": fix to fix, % longer than projected", 100*(track/sown-1), want, 0.15*want+0.02)
		near(t, row.Name+": projected, % too long", 100*(sown/truth-1), 0, 0.2)
	}
}
