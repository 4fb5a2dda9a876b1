package store

import (
	"testing"

	"rowtally/internal/job"
)

func termsBack(t *testing.T, y yard) {
	usual, err := y.Terms(y.ctx, y.job)
	y.must(err)
	same(t, usual, job.UsualTerms())
	own, business := filled[job.Terms](t), job.UsualTerms()
	own.JobID, business.Other = y.job, "of the business"
	y.must(y.KeepTerms(y.ctx, y.act(), business))
	for range 2 {
		y.must(y.KeepTerms(y.ctx, y.act(), own))
		got, err := y.Terms(y.ctx, y.job)
		y.must(err)
		same(t, got, own)
		own.Other = ""
	}
	y.must(y.DropTerms(y.ctx, y.act(), y.job))
	got, err := y.Terms(y.ctx, y.job)
	y.must(err)
	same(t, got, business)
}
