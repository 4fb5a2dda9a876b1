package store

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/seed"
)

func TestNamesAreTakenOnce(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		_, err := s.AddFarm(y.ctx, y.act(), job.Farm{Name: "first farm"})
		refused(t, err, fault.Refused, "name", "a farm is called first farm already")
		_, err = s.AddPaddock(y.ctx, y.act(), job.Paddock{FarmID: y.farm, Name: "BORE"})
		refused(t, err, fault.Refused, "name", "a paddock called BORE already")
		_, err = s.AddProduct(y.ctx, y.act(), mix.Product{Name: "Vermiculite"}, 0)
		refused(t, err, fault.Refused, "name", "a medium is called Vermiculite already")
		_, err = s.AddMachine(y.ctx, y.act(), machine.Machine{Name: "Tractor"})
		refused(t, err, fault.Refused, "name", "a machine is called Tractor already")
		_, err = s.AddLot(y.ctx, y.act(), lot("D1"), 0)
		refused(t, err, fault.Refused, "code", "a lot has the number D1 already")
		other := y.id(s.AddFarm(y.ctx, y.act(), job.Farm{Name: "Second Farm"}))
		y.id(s.AddPaddock(y.ctx, y.act(), job.Paddock{FarmID: other, Name: "Bore"}))
		refused(t, s.ChangeFarm(y.ctx, y.act(), job.Farm{ID: other, Name: "First Farm"}), fault.Refused, "name", "already")
	})
}

func TestWhatIsNotThereIsMissed(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		a := y.act()
		for _, missed := range []struct {
			word string
			err  error
		}{
			{"farm", second(s.Farm(y.ctx, 99))},
			{"paddock", second(s.Paddock(y.ctx, 99))},
			{"job", second(s.Job(y.ctx, 99))},
			{"lot", second(s.Lot(y.ctx, 99))},
			{"medium", second(s.Product(y.ctx, 99))},
			{"machine", second(s.Machine(y.ctx, 99))},
			{"paper", second(s.Paper(y.ctx, 99))},
			{"log", second(s.LogContent(y.ctx, 99))},
			{"farm", s.ChangeFarm(y.ctx, a, job.Farm{ID: 99, Name: "x"})},
			{"paddock", s.ChangePaddock(y.ctx, a, job.Paddock{ID: 99, Name: "x"})},
			{"job", s.ChangeJob(y.ctx, a, job.Job{ID: 99})},
			{"lot", s.ChangeLot(y.ctx, a, lot("D9"))},
			{"machine", s.ChangeMachine(y.ctx, a, machine.Machine{ID: 99})},
			{"tub", s.UnmixTub(y.ctx, a, 99)},
			{"catch test", s.WithdrawCatch(y.ctx, a, 99)},
			{"log", s.RemoveLog(y.ctx, a, 99)},
			{"link", s.WithdrawLink(y.ctx, a, 99)},
			{"farm", second(s.AddPaddock(y.ctx, a, job.Paddock{FarmID: 99, Name: "x"}))},
			{"job", s.KeepLayout(y.ctx, a, job.Layout{JobID: 99})},
			{"job", s.KeepRecipe(y.ctx, a, job.Recipe{JobID: 99})},
			{"job", s.KeepSown(y.ctx, a, job.Sown{JobID: 99})},
			{"lot", s.HoldLot(y.ctx, a, 99, "2026-07-20", "why")},
			{"lot", s.FreeLot(y.ctx, a, 99)},
			{"lot", second(s.AddTest(y.ctx, a, seed.Test{LotID: 99, Replicates: make([]seed.Replicate, 1)}))},
		} {
			refused(t, missed.err, fault.Missing, "", "there is no "+missed.word)
		}
	})
}

func TestChangingABoundaryLeavesIssuedPapersAlone(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := quote(y.job)
		p.Paddock, p.Farm, p.Map = "Bore", "First Farm", `{"rows":[1]}`
		p = y.issue(p)
		y.must(s.ChangePaddock(y.ctx, y.act(), job.Paddock{ID: y.paddock, FarmID: 99, Name: "Bore East", Boundary: "new"}))
		y.must(s.ChangeFarm(y.ctx, y.act(), job.Farm{ID: y.farm, Name: "Renamed"}))
		after, err := s.Paper(y.ctx, p.ID)
		y.must(err)
		same(t, after, p)
		paddock, err := s.Paddock(y.ctx, y.paddock)
		y.must(err)
		if paddock.FarmID != y.farm || paddock.Boundary != "new" {
			t.Errorf("the paddock is %+v", paddock)
		}
		paddocks, err := s.Paddocks(y.ctx, y.farm)
		y.must(err)
		same(t, paddocks, []job.Paddock{paddock})
	})
}

func TestALinkOpensItsFarmUntilItIsWithdrawn(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.must(s.AddLink(y.ctx, y.act(), y.farm, "unguessable"))
		farm, err := s.FarmByToken(y.ctx, "unguessable")
		y.must(err)
		if farm.ID != y.farm || farm.Name != "First Farm" {
			t.Errorf("the link opens %+v", farm)
		}
		links, err := s.Links(y.ctx, y.farm)
		y.must(err)
		if len(links) != 1 || links[0].WithdrawnAt != nil || !links[0].MadeAt.Equal(morning) {
			t.Fatalf("the links are %+v", links)
		}
		y.must(s.WithdrawLink(y.ctx, y.act(), links[0].ID))
		refused(t, s.WithdrawLink(y.ctx, y.act(), links[0].ID), fault.Clash, "", "withdrawn already")
		refused(t, second(s.FarmByToken(y.ctx, "unguessable")), fault.Missing, "", "ask the contractor for a new one")
		links, err = s.Links(y.ctx, y.farm)
		y.must(err)
		if links[0].WithdrawnAt == nil || !links[0].WithdrawnAt.Equal(morning) {
			t.Errorf("the links are %+v", links)
		}
	})
}
