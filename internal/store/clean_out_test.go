package store

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// remains is what remained of a tub of 400 g and 156 L.
func remains(jobID, lotID, mediumID, grams, mediumML int64, kept bool) mix.CleanOut {
	return mix.CleanOut{JobID: jobID, MixML: 10_000, MediumML: mediumML, ProductID: mediumID, Kept: kept, Ingredient: []mix.Ingredient{{LotID: lotID, Grams: grams}}}
}

func TestWhatRemainsReturnsOrIsWrittenOff(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		mixed := tub(y.job, y.lot, 400)
		mixed.ProductID, mixed.MediumML = y.medium, 156_000
		y.id(s.MixTub(y.ctx, y.act(), mixed))
		kept := y.id(s.CleanOut(y.ctx, y.act(), remains(y.job, y.lot, y.medium, 50, 19_000, true)))
		if truck, ml := y.onHand(job.LotStock, y.lot, job.Truck), y.onHand(job.MediumStock, y.medium, job.Truck); truck != 50 || ml != 19_000 {
			t.Errorf("%d g and %d mL are on the truck, want 50 and 19 000", truck, ml)
		}
		thrown := y.id(s.CleanOut(y.ctx, y.act(), remains(y.job, y.lot, y.medium, 30, 11_000, false)))
		if truck := y.onHand(job.LotStock, y.lot, job.Truck); truck != 50 {
			t.Errorf("thrown away, and %d g are on the truck", truck)
		}
		ledger, err := s.Movements(y.ctx, job.LotStock, y.lot)
		y.must(err)
		if ledger[0].Kind != writtenOff || ledger[0].Quantity != -30 || ledger[1].Kind != returned || ledger[1].Quantity != 30 || ledger[0].JobID != y.job {
			t.Errorf("the ledger ends with %+v, %+v", ledger[1], ledger[0])
		}
		y.sound()
		y.must(s.UndoCleanOut(y.ctx, y.act(), thrown))
		y.must(s.UndoCleanOut(y.ctx, y.act(), kept))
		refused(t, s.UndoCleanOut(y.ctx, y.act(), kept), fault.Clash, "", "taken back already")
		if truck := y.onHand(job.LotStock, y.lot, job.Truck); truck != 0 {
			t.Errorf("taken back, and %d g are on the truck", truck)
		}
		if left, err := s.CleanOuts(y.ctx, 0); err != nil || len(left) != 0 {
			t.Errorf("%v, %v", left, err)
		}
		y.sound()
	})
}

func TestMoreThanTheTubsHoldCannotRemain(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		mixed := tub(y.job, y.lot, 400)
		mixed.ProductID, mixed.MediumML = y.medium, 156_000
		y.id(s.MixTub(y.ctx, y.act(), mixed))
		clean := func(c mix.CleanOut) error { return second(s.CleanOut(y.ctx, y.act(), c)) }
		refused(t, clean(remains(y.job, y.lot, y.medium, 401, 1, true)), fault.Clash, "", "0.401 kg of a lot cannot remain of J-01: its tubs hold 0.400 kg")
		refused(t, clean(remains(y.job, y.lot, y.medium, 1, 156_001, true)), fault.Clash, "", "156.001 L of medium cannot remain")
		refused(t, clean(remains(y.job, y.lot, y.medium, 0, 1, true)), fault.Clash, "", "cannot remain")
		refused(t, clean(mix.CleanOut{JobID: y.job}), fault.Refused, "mix_ml", "enter litres above 0")
		refused(t, clean(remains(99, y.lot, y.medium, 1, 1, true)), fault.Missing, "", "no job")
		y.must(clean(remains(y.job, y.lot, y.medium, 300, 100_000, false)))
		refused(t, clean(remains(y.job, y.lot, y.medium, 101, 1, true)), fault.Clash, "", "its tubs hold 0.100 kg of it that no clean-out has taken yet")
		if n := rowsIn(t, s, "clean_outs"); n != 1 {
			t.Errorf("%d clean-outs are kept, want 1", n)
		}
		y.sound()
	})
}

// What the books say remained is what the ledger moved.
func TestVerifyFindsACleanOutThatTheLedgerDoesNotKnow(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		mixed := tub(y.job, y.lot, 400)
		mixed.ProductID, mixed.MediumML = y.medium, 156_000
		y.id(s.MixTub(y.ctx, y.act(), mixed))
		y.id(s.CleanOut(y.ctx, y.act(), remains(y.job, y.lot, y.medium, 50, 19_000, true)))
		y.must(raw(t, s, "UPDATE clean_out_lots SET grams = 51"))
		broken, err := s.Verify(y.ctx)
		y.must(err)
		if !mention(broken, "the clean-outs of J-01 and the movements of lot 1 are 1 apart") {
			t.Errorf("verify says %q", broken)
		}
	})
}

func TestTheFactsOfAJobHaveItsSowerAndItsLedger(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.must(s.KeepRecipe(y.ctx, y.act(), job.Recipe{JobID: y.job, ProductID: y.medium, SowerID: y.tractor}))
		y.id(s.MixTub(y.ctx, y.act(), tub(y.job, y.lot, 400)))
		y.must(s.KeepUnderstorey(y.ctx, y.act(), job.Understorey{JobID: y.job, HectaresOf: job.GrossHa, Species: []job.UnderstoreySpecies{{Species: "x", LotIDs: []int64{y.lot}}}}))
		refused(t, s.KeepUnderstorey(y.ctx, y.act(), job.Understorey{JobID: y.job, HectaresOf: "net", Species: []job.UnderstoreySpecies{{Species: "x"}}}), fault.Refused, "hectares_of", "choose one")
		f, err := s.Facts(y.ctx, y.job, "2026-07-20")
		y.must(err)
		if f.Sower == nil || f.Sower.Name != "tractor" || len(f.Moved) != 1 || f.Moved[0].Quantity != -400 || f.Understorey == nil {
			t.Errorf("the facts have the sower %+v, the movements %+v, the understorey %+v", f.Sower, f.Moved, f.Understorey)
		}
	})
}

func TestTheFirstTubIsKeptWithTheRecipe(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		refused(t, s.KeepVoids(y.ctx, y.act(), y.job, 0.5, 150), fault.Clash, "", "has no recipe yet")
		y.must(s.KeepRecipe(y.ctx, y.act(), job.Recipe{JobID: y.job, ProductID: y.medium, TubL: 160}))
		y.must(s.KeepVoids(y.ctx, y.act(), y.job, 0.5, 150))
		got, _, err := s.Recipe(y.ctx, y.job)
		y.must(err)
		if got.VoidsFraction != 0.5 || got.FirstTubMediumL != 150 || got.TubL != 160 {
			t.Errorf("kept %+v", got)
		}
	})
}
