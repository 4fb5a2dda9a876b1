package store

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

func TestJobsAreNumberedOneAfterTheOther(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s) // has J-01
		y.id(s.AddJob(y.ctx, y.act(), job.Job{Code: "J-03", FarmID: y.farm, Season: 2025}))
		for _, want := range []string{"J-02", "J-04", "J-05"} {
			j, err := s.Job(y.ctx, y.newJob())
			y.must(err)
			if j.Code != want || j.Name != "Bore" {
				t.Errorf("the job is %s %s, want %s Bore", j.Code, j.Name, want)
			}
		}
		_, err := s.AddJob(y.ctx, y.act(), job.Job{Code: "J-03", FarmID: y.farm})
		refused(t, err, fault.Refused, "code", "a job has the number J-03 already")
		season, err := s.Jobs(y.ctx, 2025)
		y.must(err)
		if len(season) != 1 || season[0].Code != "J-03" {
			t.Errorf("the season 2025 has %+v", season)
		}
		all, err := s.Jobs(y.ctx, 0)
		y.must(err)
		if len(all) != 5 {
			t.Errorf("there are %d jobs, want 5", len(all))
		}
	})
}

func TestTwentyJobsAtOnceGetCodesWithoutAGap(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		errs := crowd(20, func(int) error {
			return second(s.AddJob(y.ctx, y.act(), job.Job{FarmID: y.farm, Name: "x"}))
		})
		failures(t, errs, fault.Clash)
		codes := map[string]bool{}
		all, err := s.Jobs(y.ctx, 0)
		y.must(err)
		for _, j := range all {
			codes[j.Code] = true
		}
		if len(codes) != 21 || !codes["J-01"] || !codes["J-21"] {
			t.Errorf("the codes are %v", codes)
		}
	})
}

func TestAJobIsOnAPaddockOfItsFarm(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		other := y.id(s.AddFarm(y.ctx, y.act(), job.Farm{Name: "Second Farm"}))
		_, err := s.AddJob(y.ctx, y.act(), job.Job{FarmID: other, PaddockID: y.paddock})
		refused(t, err, fault.Refused, "paddock_id", "Bore is a paddock of another farm")
		later := y.id(s.AddJob(y.ctx, y.act(), job.Job{FarmID: y.farm, Name: "no boundary yet"}))
		j, err := s.Job(y.ctx, later)
		y.must(err)
		j.PaddockID, j.VisitedOn, j.Code, j.FarmID, j.DeclinedOn = y.paddock, "2026-07-02", "J-99", other, "2026-07-03"
		y.must(s.ChangeJob(y.ctx, y.act(), j))
		j, err = s.Job(y.ctx, later)
		y.must(err)
		if j.PaddockID != y.paddock || j.VisitedOn != "2026-07-02" || j.Code != "J-02" || j.FarmID != y.farm || j.DeclinedOn != "" {
			t.Errorf("the job is %+v", j)
		}
	})
}

func TestDecliningLetsTheStockGo(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.agree(y.job, claim(y.lot, 4_000))
		if held := y.held(y.job, y.lot); held != 4_000 {
			t.Fatalf("%d g are held back, want 4 000", held)
		}
		refused(t, s.Decline(y.ctx, y.act(), y.job, "2026-07-20", ""), fault.Refused, "why", "enter why J-01 will not be sown")
		y.must(s.Decline(y.ctx, y.act(), y.job, "2026-07-20", "too salty"))
		if held := y.held(y.job, y.lot); held != 0 {
			t.Errorf("%d g are still held back", held)
		}
		j, err := s.Job(y.ctx, y.job)
		y.must(err)
		if j.DeclinedOn != "2026-07-20" || j.DeclinedWhy != "too salty" {
			t.Errorf("the job is %+v", j)
		}
		y.sound()
	})
}
