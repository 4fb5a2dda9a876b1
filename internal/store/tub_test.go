package store

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

func TestATubDrawsFromTheTruckFirst(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.must(s.MoveStock(y.ctx, y.act(), job.LotStock, y.lot, job.Shed, job.Truck, 300, ""))
		mixed := tub(y.job, y.lot, 400)
		mixed.ProductID, mixed.MediumML = y.medium, 156_000
		id := y.id(s.MixTub(y.ctx, y.act(), mixed))
		if shed, truck := y.onHand(job.LotStock, y.lot, job.Shed), y.onHand(job.LotStock, y.lot, job.Truck); shed != 9_600 || truck != 0 {
			t.Errorf("%d g in the shed and %d g on the truck, want 9 600 and 0", shed, truck)
		}
		if ml := y.onHand(job.MediumStock, y.medium, job.Shed); ml != 344_000 {
			t.Errorf("%d mL of medium are left, want 344 000", ml)
		}
		ledger, err := s.Movements(y.ctx, job.LotStock, y.lot)
		y.must(err)
		if m := ledger[0]; m.Kind != "drawn" || m.JobID != y.job || m.TubID != id || m.Quantity != -100 || ledger[1].Quantity != -300 {
			t.Errorf("the ledger begins with %+v, %+v", ledger[0], ledger[1])
		}
		y.sound()
	})
}

func TestATubIsRefusedWithTheWayOut(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		a := y.act()
		mix := func(tub mix.Tub) error { return second(s.MixTub(y.ctx, a, tub)) }
		refused(t, mix(tub(y.job, y.lot, 10_001)), fault.Clash, "", "D1 is short: 10.000 kg on hand, the tub takes 10.001 kg. Choose another")
		other := y.newJob()
		y.agree(other, claim(y.lot, 7_000))
		refused(t, mix(tub(y.job, y.lot, 3_001)), fault.Clash, "", "10.000 kg on hand, of which other jobs hold back 7.000 kg; the tub takes 3.001 kg")
		y.must(mix(tub(y.job, y.lot, 3_000)))
		again := tub(y.job, y.lot, 1)
		again.Number = 1
		refused(t, mix(again), fault.Clash, "", "tub 1 of J-01 is mixed already")
		y.must(s.HoldLot(y.ctx, a, y.lot, "2026-05-06", "failed its retest"))
		refused(t, mix(tub(other, y.lot, 1)), fault.Clash, "", "D1 is on hold: failed its retest. Choose another lot in the recipe of J-02, or free this one")
		if left := y.onHand(job.LotStock, y.lot, job.Shed); left != 7_000 {
			t.Errorf("%d g are left, want 7 000", left)
		}
		y.sound()
	})
}

func TestATubThatCannotBeIsRefused(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		twice := tub(y.job, y.lot, 1)
		twice.Ingredient = append(twice.Ingredient, mix.Ingredient{LotID: y.lot, Grams: 2})
		for _, c := range []struct {
			tub         mix.Tub
			field, says string
		}{
			{mix.Tub{JobID: y.job}, "ingredient", "the tub is empty"},
			{twice, "ingredient[1].lot_id", "named twice"},
			{tub(y.job, y.lot, 0), "ingredient[0].grams", "above 0"},
			{mix.Tub{JobID: y.job, MediumML: -1}, "medium_ml", "0 or more"},
		} {
			refused(t, second(s.MixTub(y.ctx, y.act(), c.tub)), fault.Refused, c.field, c.says)
		}
		refused(t, second(s.MixTub(y.ctx, y.act(), mix.Tub{JobID: y.job, MediumML: 5})), fault.Missing, "", "no medium")
		refused(t, second(s.MixTub(y.ctx, y.act(), tub(y.job, 99, 5))), fault.Missing, "", "no lot")
		if n := rowsIn(t, s, "tubs"); n != 0 {
			t.Errorf("refused tubs were kept: %d", n)
		}
	})
}

func TestOnlyTheLastTubIsEmptiedBack(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		a := y.act()
		y.agree(y.job, claim(y.lot, 5_000))
		y.must(s.MoveStock(y.ctx, a, job.LotStock, y.lot, job.Shed, job.Truck, 600, ""))
		first := y.id(s.MixTub(y.ctx, a, tub(y.job, y.lot, 400)))
		last := y.id(s.MixTub(y.ctx, a, tub(y.job, y.lot, 500)))
		if held := y.held(y.job, y.lot); held != 4_100 {
			t.Errorf("%d g are held back after two tubs, want 4 100", held)
		}
		refused(t, s.UnmixTub(y.ctx, a, first), fault.Clash, "", "that is tub 2")
		y.must(s.UnmixTub(y.ctx, a, last))
		refused(t, s.UnmixTub(y.ctx, a, last), fault.Clash, "", "that is tub 1")
		if shed, truck := y.onHand(job.LotStock, y.lot, job.Shed), y.onHand(job.LotStock, y.lot, job.Truck); shed != 9_400 || truck != 200 {
			t.Errorf("%d g in the shed and %d g on the truck, want 9 400 and 200", shed, truck)
		}
		if held := y.held(y.job, y.lot); held != 4_600 {
			t.Errorf("%d g are held back, want 4 600", held)
		}
		y.id(s.MixTub(y.ctx, a, tub(y.job, y.lot, 450)))
		tubs, err := s.Tubs(y.ctx, 0)
		y.must(err)
		if len(tubs) != 2 || tubs[1].Number != 2 || tubs[1].Ingredient[0].Grams != 450 {
			t.Errorf("the tubs are %+v", tubs)
		}
		y.sound()
	})
}

func TestEmptyingBackNeverHoldsMoreThanTheJobWanted(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.agree(y.job, claim(y.lot, 300))
		id := y.id(s.MixTub(y.ctx, y.act(), tub(y.job, y.lot, 900)))
		if held := y.held(y.job, y.lot); held != 0 {
			t.Errorf("%d g are held back, want 0", held)
		}
		y.must(s.UnmixTub(y.ctx, y.act(), id))
		if held := y.held(y.job, y.lot); held != 300 {
			t.Errorf("%d g are held back, want 300", held)
		}
		y.sound()
	})
}
