package store

import (
	"testing"

	"rowtally/internal/count"
	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

func countPlan(jobID int64) count.Plan {
	return count.Plan{JobID: jobID, PerStretch: 10, SpacingM: 3, BearingDeg: 4.5, SharePercent: 60, WithinPercent: 10.5, Rho: 0.1, Number: 48213,
		Places: []count.Place{{Row: 3, AlongM: 117.25, At: ground.LatLon{Lat: -36.40123, Lon: 140.10456}}, {Row: 9, AlongM: 0, At: ground.LatLon{Lat: -36.4, Lon: 140.1}}}}
}

func countAt(jobID, planID int64) count.Count {
	return count.Count{JobID: jobID, PlanID: planID, Kind: count.First, CountedOn: "2026-07-18", CountedBy: "Contractor One",
		Stretches:  []count.Stretch{{Place: 1, Placements: 10, Occupied: 6}, {Place: 2, Placements: 9, Occupied: 0}},
		Seen:       []count.Seen{{Species: "Atriplex nummularia", Placements: 6}, {Species: "Atriplex undulata", Placements: 2}},
		Volunteers: "barley grass", Note: "after rain, ‘wet’"}
}

func countBack(t *testing.T, y yard) {
	plan := countPlan(y.job)
	plan.ID = y.id(y.AddCountPlan(y.ctx, y.act(), plan))
	plan.MadeAt, plan.PersonID = morning.UTC(), y.contractor
	plans, err := y.CountPlans(y.ctx, y.job)
	y.must(err)
	same(t, plans, []count.Plan{plan})
	want := countAt(y.job, plan.ID)
	want.ID = y.id(y.AddCount(y.ctx, y.act(), want))
	want.KeptAt, want.PersonID = morning.UTC(), y.contractor
	got, err := y.Counts(y.ctx, y.job)
	y.must(err)
	same(t, got, []count.Count{want})
	counted, err := y.JobsCounted(y.ctx)
	y.must(err)
	same(t, counted, []int64{y.job})
}

func TestAMistakenCountIsWithdrawnAndStays(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		plan := y.id(s.AddCountPlan(y.ctx, y.act(), countPlan(y.job)))
		id := y.id(s.AddCount(y.ctx, y.act(), countAt(y.job, plan)))
		refused(t, s.WithdrawCount(y.ctx, y.act(), id, ""), fault.Refused, "why", "keeps its reason")
		y.must(s.WithdrawCount(y.ctx, y.act(), id, "another paddock's"))
		refused(t, s.WithdrawCount(y.ctx, y.act(), id, "again"), fault.Clash, "", "withdrawn already, on 20 Jul 2026")
		all, err := s.Counts(y.ctx, y.job)
		y.must(err)
		if len(all) != 1 || all[0].Standing() || all[0].WithdrawnWhy != "another paddock's" {
			t.Errorf("%+v", all)
		}
		if counted, err := s.JobsCounted(y.ctx); err != nil || len(counted) != 0 {
			t.Errorf("%v, %v", counted, err)
		}
		for _, statement := range []string{"DELETE FROM counts", "DELETE FROM count_plans", "UPDATE count_plans SET number = 1"} {
			if err := raw(t, s, statement); err == nil || !mention([]string{err.Error()}, "rows are only added") {
				t.Errorf("%s: %v", statement, err)
			}
		}
	})
}

func TestACountIsHeldAgainstItsPlan(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		plan := y.id(s.AddCountPlan(y.ctx, y.act(), countPlan(y.job)))
		keep := func(change func(*count.Count)) error {
			c := countAt(y.job, plan)
			change(&c)
			_, err := s.AddCount(y.ctx, y.act(), c)
			return err
		}
		refused(t, keep(func(c *count.Count) { c.Stretches[1].Place = 3 }), fault.Refused, "stretches", "the plan has no place 3, it has 2")
		refused(t, keep(func(c *count.Count) { c.Stretches[1].Place = 1 }), fault.Refused, "stretches.1", "counted twice")
		refused(t, keep(func(c *count.Count) { c.Stretches[0].Occupied = 11 }), fault.Refused, "stretches.1.occupied", "11 of 10")
		refused(t, keep(func(c *count.Count) { c.CountedOn = "2026-07-21" }), fault.Refused, "counted_on", "still to come")
		refused(t, keep(func(c *count.Count) { c.Seen = c.Seen[1:] }), fault.Refused, "seen", "every occupied placement holds at least one")
		refused(t, keep(func(c *count.Count) { c.JobID = y.newJob() }), fault.Clash, "", "another job")
		_, err := s.AddCountPlan(y.ctx, y.act(), count.Plan{JobID: y.job, PerStretch: 1})
		refused(t, err, fault.Refused, "places", "at least one place")
	})
}
