package store

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// germinated is a test of four hundred seeds of a lot.
func germinated(lotID int64, normal int) seed.Test {
	return seed.Test{LotID: lotID, TestedOn: "2026-02-10", Replicates: []seed.Replicate{{Seeds: 400, Normal: normal}}}
}

func TestASplitLotKeepsWhatIsKnownOfIt(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		first := y.id(s.AddTest(y.ctx, y.act(), germinated(y.lot, 136)))
		y.id(s.AddStorageCondition(y.ctx, y.act(), seed.StorageCondition{LotID: y.lot, Since: "2026-01-01", Place: "shed"}))
		y.must(s.HoldLot(y.ctx, y.act(), y.lot, "2026-05-06", "weevils"))
		part := y.id(s.SplitLot(y.ctx, y.act(), y.lot, "D1-B", 2_500))
		got, err := s.Lot(y.ctx, part)
		y.must(err)
		if got.Code != "D1-B" || got.PurityPercent != 90 || got.HoldReason != "weevils" {
			t.Errorf("the new lot is %+v", got)
		}
		known, err := s.Tests(y.ctx, part)
		y.must(err)
		if len(known) != 1 || known[0].CopiedFrom != first || known[0].Replicates[0].Normal != 136 {
			t.Errorf("its tests are %+v", known)
		}
		lay, err := s.StorageConditions(y.ctx, part)
		y.must(err)
		sources, err := s.LotSources(y.ctx, part)
		y.must(err)
		if len(lay) != 1 || len(sources) != 1 || sources[0].SourceID != y.lot || sources[0].Grams != 2_500 {
			t.Errorf("it lay in %+v and came from %+v", lay, sources)
		}
		if a, b := y.onHand(job.LotStock, y.lot, job.Shed), y.onHand(job.LotStock, part, job.Shed); a != 7_500 || b != 2_500 {
			t.Errorf("%d g stayed and %d g went, want 7500 and 2500", a, b)
		}
		y.sound()
	})
}

func TestOnlyFreeSeedIsSplitOff(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.agree(y.job, claim(y.lot, 6_000))
		y.must(s.MoveStock(y.ctx, y.act(), job.LotStock, y.lot, job.Shed, job.Truck, 7_000, ""))
		for _, c := range []struct {
			code  string
			grams int64
			field string
			says  string
		}{
			{"D1-B", 3_001, "quantity", "3.000 kg of D1 lie free in the shed"}, {"D1-B", 0, "quantity", "no quantity"},
			{"", 10, "code", "enter one of its own"}, {"D1", 10, "code", "a lot has the number D1 already"},
		} {
			_, err := s.SplitLot(y.ctx, y.act(), y.lot, c.code, c.grams)
			refused(t, err, fault.Refused, c.field, c.says)
		}
		y.must(s.MoveStock(y.ctx, y.act(), job.LotStock, y.lot, job.Truck, job.Shed, 7_000, ""))
		_, err := s.SplitLot(y.ctx, y.act(), y.lot, "D1-B", 4_001)
		refused(t, err, fault.Refused, "quantity", "4.000 kg of D1 lie free")
		if lots, err := s.Lots(y.ctx); err != nil || len(lots) != 1 {
			t.Errorf("%d lots after refusals (%v)", len(lots), err)
		}
		y.id(s.SplitLot(y.ctx, y.act(), y.lot, "D1-B", 4_000))
		y.sound()
	})
}

func TestABlendKnowsItsSourcesAndTheirShares(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		other := lot("D2")
		other.PurityPercent = 80
		second := y.id(s.AddLot(y.ctx, y.act(), other, 5_000))
		y.id(s.AddTest(y.ctx, y.act(), germinated(y.lot, 200)))
		late := germinated(second, 100)
		late.TestedOn = "2026-03-02"
		y.id(s.AddTest(y.ctx, y.act(), late))
		parts := []seed.Source{{SourceID: second, Grams: 1_000}, {SourceID: y.lot, Grams: 3_000}}
		blend := y.id(s.BlendLots(y.ctx, y.act(), seed.Lot{Code: "B1", ReceivedOn: "2026-07-20"}, parts))
		got, err := s.Lot(y.ctx, blend)
		y.must(err)
		if got.PurityPercent != 87.5 || got.UnitsPerKg != 80_000 || got.CostPerKg.Fixed(2) != "48.00" || got.Code != "B1" {
			t.Errorf("the blend is %+v, want 3 x 90 + 80 over 4 pure", got)
		}
		known, err := s.Tests(y.ctx, blend)
		y.must(err)
		if len(known) != 1 || known[0].TestedOn != "2026-02-10" {
			t.Fatalf("its tests are %+v, want one of the older day", known)
		}
		// 3 x 90 % of the units at 50 %, 80 % at 25 %
		r := known[0].Replicates[0]
		if live := float64(r.Normal) / float64(r.Seeds); live < 0.44275 || live > 0.44295 {
			t.Errorf("%d of %d germinate, want (2.7 x 0.5 + 0.8 x 0.25) / 3.5 = 0.44286", r.Normal, r.Seeds)
		}
		sources, err := s.LotSources(y.ctx, blend)
		y.must(err)
		if len(sources) != 2 || seed.ShareFraction(sources[0], sources) != 0.75 || sources[0].SourceID != y.lot {
			t.Errorf("it came from %+v", sources)
		}
		if y.onHand(job.LotStock, blend, job.Shed) != 4_000 || y.onHand(job.LotStock, second, job.Shed) != 4_000 {
			t.Error("the grams did not go over")
		}
		y.sound()
	})
}

func TestABlendThatCannotBeChangesNothing(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		second := y.id(s.AddLot(y.ctx, y.act(), lot("D2"), 5_000))
		strange := lot("D3")
		strange.Species = "Atriplex amnicola"
		third := y.id(s.AddLot(y.ctx, y.act(), strange, 5_000))
		blend := func(code string, parts ...seed.Source) error {
			_, err := s.BlendLots(y.ctx, y.act(), seed.Lot{Code: code}, parts)
			return err
		}
		one := seed.Source{SourceID: y.lot, Grams: 100}
		refused(t, blend("B1", one), fault.Refused, "parts", "two lots or more")
		refused(t, blend("B1", one, seed.Source{SourceID: third, Grams: 100}), fault.Refused, "parts", "a blend is of one species")
		refused(t, blend("B1", one, seed.Source{SourceID: second, Grams: 5_001}), fault.Refused, "quantity", "5.000 kg of D2 lie free")
		refused(t, blend("", one, seed.Source{SourceID: second, Grams: 1}), fault.Refused, "code", "enter one of its own")
		refused(t, blend("D2", one, seed.Source{SourceID: second, Grams: 1}), fault.Refused, "code", "D2 already")
		refused(t, blend("B1", one, seed.Source{SourceID: 99, Grams: 1}), fault.Missing, "", "no lot")
		y.must(s.HoldLot(y.ctx, y.act(), second, "2026-07-01", "weevils"))
		refused(t, blend("B1", one, seed.Source{SourceID: second, Grams: 1}), fault.Refused, "parts", "on hold: weevils")
		if y.onHand(job.LotStock, y.lot, job.Shed) != 10_000 {
			t.Error("a refused blend took seed")
		}
		y.sound()
	})
}

func TestADocumentOrDayIsKeptOnce(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		d := seed.Document{LotID: y.lot, Title: "photo", Content: []byte("\x89PNG\r\n\x1a\n...")}
		id := y.id(s.AddDocument(y.ctx, y.act(), d))
		_, err := s.AddDocument(y.ctx, y.act(), d)
		refused(t, err, fault.Refused, "file", "kept with the lot D1 already")
		for _, content := range [][]byte{nil, []byte("<html>"), make([]byte, seed.MostDocumentBytes+1)} {
			_, err := s.AddDocument(y.ctx, y.act(), seed.Document{LotID: y.lot, Content: content})
			refused(t, err, fault.Refused, "file", "choose")
		}
		y.must(s.DropDocument(y.ctx, y.act(), id))
		refused(t, s.DropDocument(y.ctx, y.act(), id), fault.Missing, "", "no document")
		c := seed.StorageCondition{LotID: y.lot, Since: "2026-01-01", Place: "shed"}
		y.id(s.AddStorageCondition(y.ctx, y.act(), c))
		_, err = s.AddStorageCondition(y.ctx, y.act(), c)
		refused(t, err, fault.Refused, "since", "kept already")
		refused(t, s.SetRetestMonths(y.ctx, y.act(), "x", 0), fault.Refused, "months", "from 1 to 120")
		late := germinated(y.lot, 10)
		late.TestedOn = "2026-07-21"
		_, err = s.AddTest(y.ctx, y.act(), late)
		refused(t, err, fault.Refused, "tested_on", "after today, 20 Jul 2026")
	})
}
