package store

import (
	"math"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// intoTheDrill is a load of one lot.
func intoTheDrill(jobID, lotID, grams int64) job.DrillLoad {
	return job.DrillLoad{JobID: jobID, Ha: 12.5, Lots: []mix.Ingredient{{LotID: lotID, Grams: grams}}}
}

func TestTheDrillDrawsWhatIsHeldBackAndGivesItBack(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.agree(y.job, claim(y.lot, 4_000))
		y.must(s.MoveStock(y.ctx, y.act(), job.LotStock, y.lot, job.Shed, job.Truck, 1_000, ""))
		first := y.id(s.LoadDrill(y.ctx, y.once("load"), intoTheDrill(y.job, y.lot, 3_000)))
		if again := y.id(s.LoadDrill(y.ctx, y.once("load"), intoTheDrill(y.job, y.lot, 3_000))); again != first {
			t.Errorf("sent twice it is load %d, then %d", first, again)
		}
		if truck, shed, held := y.onHand(job.LotStock, y.lot, job.Truck), y.onHand(job.LotStock, y.lot, job.Shed), y.held(y.job, y.lot); truck != 0 || shed != 7_000 || held != 1_000 {
			t.Errorf("loaded: %d g on the truck, %d in the shed, %d held back", truck, shed, held)
		}
		ledger, err := s.Movements(y.ctx, job.LotStock, y.lot)
		y.must(err)
		if m := ledger[0]; m.Kind != drawn || m.JobID != y.job || m.DrillLoadID != first || m.Quantity != -2_000 || ledger[1].Quantity != -1_000 {
			t.Errorf("the ledger ends with %+v, %+v", ledger[1], m)
		}
		y.sound()
		y.must(s.UndoDrillLoad(y.ctx, y.act(), first))
		refused(t, s.UndoDrillLoad(y.ctx, y.act(), first), fault.Clash, "", "taken back already")
		refused(t, s.UndoDrillLoad(y.ctx, y.act(), 99), fault.Missing, "", "no drill load")
		if truck, shed, held := y.onHand(job.LotStock, y.lot, job.Truck), y.onHand(job.LotStock, y.lot, job.Shed), y.held(y.job, y.lot); truck != 1_000 || shed != 9_000 || held != 4_000 {
			t.Errorf("taken back: %d g on the truck, %d in the shed, %d held back", truck, shed, held)
		}
		if left, err := s.DrillLoads(y.ctx, 0); err != nil || len(left) != 0 {
			t.Errorf("%v, %v", left, err)
		}
		y.sound()
	})
}

func TestTheDrillTakesNothingThatIsHeldOrShort(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		other := y.newJob()
		y.agree(other, claim(y.lot, 4_000))
		load := func(l job.DrillLoad) error { return second(s.LoadDrill(y.ctx, y.act(), l)) }
		refused(t, load(intoTheDrill(y.job, y.lot, 10_001)), fault.Clash, "", "the drill takes 10.001 kg. Choose another, load less, or receive more first")
		refused(t, load(intoTheDrill(y.job, y.lot, 6_001)), fault.Clash, "", "other jobs hold back 4.000 kg; the drill takes 6.001 kg")
		y.must(s.HoldLot(y.ctx, y.act(), y.lot, "2026-07-20", "weevils"))
		refused(t, load(intoTheDrill(y.job, y.lot, 10)), fault.Clash, "", "on hold: weevils. Choose another lot in the understorey of J-01")
		y.must(s.FreeLot(y.ctx, y.act(), y.lot))
		refused(t, load(intoTheDrill(99, y.lot, 10)), fault.Missing, "", "no job")
		refused(t, load(intoTheDrill(y.job, y.lot, 0)), fault.Clash, "", "more than 0 kg")
		refused(t, load(job.DrillLoad{JobID: y.job, Ha: 1}), fault.Clash, "", "nothing goes into the drill")
		twice := intoTheDrill(y.job, y.lot, 10)
		twice.Lots = append(twice.Lots, twice.Lots[0])
		refused(t, load(twice), fault.Clash, "", "once")
		for _, ha := range []float64{0, -1, math.NaN(), math.Inf(1)} {
			wrong := intoTheDrill(y.job, y.lot, 10)
			wrong.Ha = ha
			refused(t, load(wrong), fault.Refused, "ha", "enter hectares above 0")
		}
		if n := rowsIn(t, s, "drill_loads"); n != 0 {
			t.Errorf("%d loads are kept of what was refused", n)
		}
		y.must(load(intoTheDrill(y.job, y.lot, 6_000)))
		y.sound()
	})
}

// What the books say went into the drill is what the ledger drew.
func TestVerifyFindsADrillLoadThatTheLedgerDoesNotKnow(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.id(s.LoadDrill(y.ctx, y.act(), intoTheDrill(y.job, y.lot, 50)))
		y.must(raw(t, s, "UPDATE drill_load_lots SET grams = 51"))
		broken, err := s.Verify(y.ctx)
		y.must(err)
		if !mention(broken, "a drill load of J-01 and the movements of lot 1 are 1 apart") {
			t.Errorf("verify says %q", broken)
		}
	})
}
