package demo_test

import (
	"testing"

	"rowtally/internal/demo"
	"rowtally/internal/job"
)

// A job costs the same by its own page, where everything of it is read, and among its
// season, where each noun is read once for all jobs.
func TestASeasonReadsTheSameCostsAsItsJobs(t *testing.T) {
	books := demoOf(t).books
	ctx := t.Context()
	tried := 0
	for _, season := range []int{2025, 2026} {
		all, err := books.SeasonFacts(ctx, season, demo.Day)
		if err != nil {
			t.Fatal(err)
		}
		for _, light := range all {
			whole, err := books.Facts(ctx, light.Job.ID, demo.Day)
			if err != nil {
				t.Fatal(err)
			}
			want, err := job.SpentOn(whole)
			if err != nil {
				t.Fatal(err)
			}
			got, err := job.SpentOn(light)
			net, _ := light.BilledNet()
			standing, _ := whole.BilledNet()
			if err != nil || got.Total != want.Total || len(got.Lines) != len(want.Lines) || net != standing {
				t.Errorf("%s costs %s and brings %s in its season, %s and %s by itself, %v", light.Job.Code, got.Total, net, want.Total, standing, err)
			}
			if want.Total > 0 {
				tried++
			}
		}
	}
	if tried < 3 {
		t.Errorf("only %d jobs of the demo cost anything", tried)
	}
}

// A job stands as far by the little that lists read of every job as by all that is known.
func TestAJobStandsTheSameInAList(t *testing.T) {
	books := demoOf(t).books
	standing, err := books.Standings(t.Context(), demo.Day)
	if err != nil || len(standing) < 8 {
		t.Fatalf("%d jobs, %v", len(standing), err)
	}
	for _, light := range standing {
		whole, err := books.Facts(t.Context(), light.Job.ID, demo.Day)
		if err != nil {
			t.Fatal(err)
		}
		if job.StageOf(light) != job.StageOf(whole) || light.Past() != whole.Past() {
			t.Errorf("%s stands as %s, past %v; by itself %s, %v", light.Job.Code, job.StageOf(light), light.Past(), job.StageOf(whole), whole.Past())
		}
	}
}
