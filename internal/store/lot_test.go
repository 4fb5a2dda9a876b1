package store

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

func TestALotOnHoldKeepsItsReasonUntilItIsFreed(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		refused(t, s.HoldLot(y.ctx, y.act(), y.lot, "2026-05-06", ""), fault.Refused, "reason", "enter why nothing may be mixed")
		refused(t, s.FreeLot(y.ctx, y.act(), y.lot), fault.Clash, "", "D1 is not on hold")
		y.must(s.HoldLot(y.ctx, y.act(), y.lot, "2026-05-06", "failed its retest"))
		held, err := s.Lot(y.ctx, y.lot)
		y.must(err)
		if !held.OnHold() || held.HoldReason != "failed its retest" || held.HeldOn != "2026-05-06" {
			t.Errorf("the lot is %+v", held)
		}
		y.must(s.FreeLot(y.ctx, y.act(), y.lot))
		lots, err := s.Lots(y.ctx)
		y.must(err)
		if len(lots) != 1 || lots[0].OnHold() || lots[0].HeldOn != "" {
			t.Errorf("the lots are %+v", lots)
		}
	})
}

func TestTestsStandOldestFirstWithTheirOwnReplicates(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		other := y.id(s.AddLot(y.ctx, y.act(), lot("D2"), 0))
		hard := 12
		for _, test := range []seed.Test{
			{LotID: y.lot, TestedOn: "2026-02-10", Replicates: []seed.Replicate{{Seeds: 100, Normal: 34}, {Seeds: 100, Normal: 36, Hard: &hard}}},
			{LotID: y.lot, TestedOn: "2025-02-10", Replicates: []seed.Replicate{{Seeds: 50, Normal: 20}}},
			{LotID: other, TestedOn: "2025-08-01", Replicates: []seed.Replicate{{Seeds: 25, Normal: 1}}},
		} {
			y.id(s.AddTest(y.ctx, y.act(), test))
		}
		tests, err := s.Tests(y.ctx, y.lot)
		y.must(err)
		if len(tests) != 2 || tests[0].TestedOn != "2025-02-10" || len(tests[0].Replicates) != 1 || tests[1].Replicates[1].Normal != 36 {
			t.Fatalf("the tests are %+v", tests)
		}
		if r := tests[1].Replicates; r[0].Hard != nil || r[1].Hard == nil || *r[1].Hard != 12 {
			t.Errorf("hard seed that was not counted and that was are told apart no more: %+v", r)
		}
		all, err := s.Tests(y.ctx, 0)
		y.must(err)
		if len(all) != 3 || all[1].LotID != other || all[1].Replicates[0].Seeds != 25 {
			t.Errorf("the tests are %+v", all)
		}
		_, err = s.AddTest(y.ctx, y.act(), seed.Test{LotID: y.lot})
		refused(t, err, fault.Refused, "replicates", "at least one replicate")
	})
}

func TestChangingALotOrMediumLeavesItsStock(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		changed := lot("D1b")
		changed.ID = y.lot
		y.must(s.ChangeLot(y.ctx, y.act(), changed))
		product, err := s.Product(y.ctx, y.medium)
		y.must(err)
		product.BagL = 100
		y.must(s.ChangeProduct(y.ctx, y.act(), product))
		products, err := s.Products(y.ctx)
		y.must(err)
		if len(products) != 1 || products[0].BagL != 100 {
			t.Errorf("the media are %+v", products)
		}
		if y.onHand(job.LotStock, y.lot, job.Shed) != 10_000 || y.onHand(job.MediumStock, y.medium, job.Shed) != 500_000 {
			t.Error("the stock changed")
		}
		refused(t, second(s.AddLot(y.ctx, y.act(), lot("D3"), -1)), fault.Refused, "quantity", "enter one above 0")
		refused(t, second(s.AddLot(y.ctx, y.act(), lot("D3"), mostStock+1)), fault.Refused, "quantity", "up to")
		lots, err := s.Lots(y.ctx)
		y.must(err)
		if len(lots) != 1 || lots[0].Code != "D1b" {
			t.Errorf("a refused lot was kept: %+v", lots)
		}
	})
}
