package store

import (
	"testing"

	"rowtally/internal/job"
)

func costingBack(t *testing.T, y yard) {
	for _, lines := range []int{2, 1} {
		want := filled[job.Costing](t)
		want.JobID, want.Machines, want.Others = y.job, want.Machines[:lines], want.Others[:lines]
		for i := range want.Machines {
			want.Machines[i].MachineID = y.tractor
		}
		y.must(y.KeepCosting(y.ctx, y.act(), want))
		got, ok, err := y.Costing(y.ctx, y.job)
		y.must(err)
		if !ok {
			t.Error("the costing is not there")
		}
		same(t, got, want)
	}
}

func costRatesBack(t *testing.T, y yard) {
	for range 2 {
		want := filled[job.CostRates](t)
		y.must(y.KeepCostRates(y.ctx, y.act(), want))
		got, err := y.CostRates(y.ctx)
		y.must(err)
		same(t, got, want)
	}
}
