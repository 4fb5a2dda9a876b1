package store

import (
	"testing"

	"rowtally/internal/fault"
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

// A quote's planned cost comes back as it was, and a second one leaves it alone.
func TestAPlannedCostStandsWithItsQuote(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := y.issue(quote(y.job))
		want := filled[job.Cost](t)
		want.Lines[0].AsPlan, want.Lines[1].AsPlan, want.LeftOut = false, false, nil
		want.Total = want.Lines[0].Amount + want.Lines[1].Amount
		y.must(y.KeepCostPlan(y.ctx, y.act(), p.ID, want))
		y.must(y.KeepCostPlan(y.ctx, y.act(), p.ID, job.Cost{}))
		f, err := y.Facts(y.ctx, y.job, "2026-07-20")
		y.must(err)
		same(t, f.Costs.Plans, map[int64]job.Cost{p.ID: want})
		bill := y.issue(invoice(y.job))
		refused(t, y.KeepCostPlan(y.ctx, y.act(), bill.ID, want), fault.Clash, "", "is no quote")
		refused(t, y.KeepCostPlan(y.ctx, y.act(), 99, want), fault.Missing, "", "no paper")
		y.sound()
	})
}
