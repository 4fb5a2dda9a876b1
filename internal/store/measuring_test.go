package store

import (
	"testing"

	"rowtally/internal/job"
)

// measuringBack keeps the business's own and a job's: the job's goes before, and the
// business's stands again once the job has none.
func measuringBack(t *testing.T, y yard) {
	got, err := y.Measuring(y.ctx, y.job)
	y.must(err)
	same(t, got, job.UsualMeasuring)
	ours, its := filled[job.Measuring](t), filled[job.Measuring](t)
	ours.JobID, its.JobID, its.BridgeM = 0, y.job, 7
	for _, want := range []job.Measuring{ours, its} {
		y.must(y.KeepMeasuring(y.ctx, y.act(), want))
		got, err := y.Measuring(y.ctx, y.job)
		y.must(err)
		same(t, got, want)
	}
	y.must(y.DropMeasuring(y.ctx, y.act(), y.job))
	got, err = y.Measuring(y.ctx, y.job)
	y.must(err)
	same(t, got, ours)
}
