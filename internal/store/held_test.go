package store

import (
	"testing"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

func TestAYesHoldsBackWhatIsFree(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		second := y.newJob()
		y.agree(y.job, claim(y.lot, 4_000), claim(y.lot, 2_000), job.Held{StockKind: job.MediumStock, StockID: y.medium, Wanted: 600_000})
		y.agree(second, claim(y.lot, 7_000))
		got, err := s.HeldBack(y.ctx, 0)
		y.must(err)
		same(t, got, []job.Held{
			{JobID: y.job, StockKind: job.LotStock, StockID: y.lot, Wanted: 6_000, Held: 6_000},
			{JobID: y.job, StockKind: job.MediumStock, StockID: y.medium, Wanted: 600_000, Held: 500_000},
			{JobID: second, StockKind: job.LotStock, StockID: y.lot, Wanted: 7_000, Held: 4_000},
		})
		y.sound()
	})
}

func TestANewYesAndANewRecipeLetTheOldClaimsGo(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		other := y.id(s.AddLot(y.ctx, y.act(), lot("D2"), 1_000))
		refused(t, s.ReclaimStock(y.ctx, y.act(), y.job, []job.Held{claim(other, 1)}), fault.Clash, "", "J-01 is not agreed yet")
		y.agree(y.job, claim(y.lot, 9_000))
		y.agree(y.job, claim(y.lot, 8_000))
		if held := y.held(y.job, y.lot); held != 8_000 {
			t.Errorf("%d g are held back, want 8 000", held)
		}
		y.must(s.ReclaimStock(y.ctx, y.act(), y.job, []job.Held{claim(other, 1_200)}))
		if a, b := y.held(y.job, y.lot), y.held(y.job, other); a != 0 || b != 1_000 {
			t.Errorf("%d g and %d g are held back, want 0 and 1 000", a, b)
		}
		refused(t, s.ReclaimStock(y.ctx, y.act(), y.job, []job.Held{claim(other, -1)}), fault.Refused, "claims", "check the recipe")
		refused(t, s.ReclaimStock(y.ctx, y.act(), y.job, []job.Held{claim(99, 1)}), fault.Missing, "", "no lot")
		if held := y.held(y.job, other); held != 1_000 {
			t.Errorf("a refused claim left %d g held back, want 1 000", held)
		}
		y.sound()
	})
}

func TestLostStockTakesTheLatestClaimsFirst(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		later := y.newJob()
		y.agree(y.job, claim(y.lot, 4_000))
		y.agree(later, claim(y.lot, 4_000))
		y.must(s.WriteOff(y.ctx, y.act(), job.LotStock, y.lot, 3_000, "mice"))
		if a, b := y.held(y.job, y.lot), y.held(later, y.lot); a != 4_000 || b != 3_000 {
			t.Errorf("%d g and %d g are held back, want 4 000 and 3 000", a, b)
		}
		y.must(s.CountStock(y.ctx, y.act(), job.LotStock, y.lot, job.Shed, 2_500, ""))
		if a, b := y.held(y.job, y.lot), y.held(later, y.lot); a != 2_500 || b != 0 {
			t.Errorf("%d g and %d g are held back, want 2 500 and 0", a, b)
		}
		y.sound()
	})
}

func TestAnInvoiceEndsTheClaims(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		agreed := y.agree(y.job, claim(y.lot, 4_000))
		p := invoice(y.job)
		p.AnswersID = agreed.ID
		y.issue(p)
		if held := y.held(y.job, y.lot); held != 0 {
			t.Errorf("%d g are still held back", held)
		}
		y.sound()
	})
}

func TestAYesIsToTheNewestQuoteWhileItHolds(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		yes := func(id int64) error {
			return s.AcceptQuote(y.ctx, y.act(), bill.Acceptance{PaperID: id, Name: "A Farmer"}, []job.Held{claim(y.lot, 1_000)})
		}
		old := y.quote(y.job)
		newest := quote(y.job)
		newest.UntilOn = "2026-07-20"
		newest = y.issue(newest)
		refused(t, yes(old.ID), fault.Clash, "", "Q2026-0001 was replaced by Q2026-0002, revision 2")
		refused(t, yes(99), fault.Missing, "", "no quote")
		late := y.act()
		late.Now = morning.AddDate(0, 0, 1)
		refused(t, s.AcceptQuote(y.ctx, late, bill.Acceptance{PaperID: newest.ID}, nil), fault.Clash, "", "held until 20 Jul 2026, ask for a new one")
		y.must(yes(newest.ID))
		refused(t, yes(newest.ID), fault.Clash, "", "Q2026-0002 is agreed already")
		billed := y.issue(invoice(y.job))
		refused(t, yes(billed.ID), fault.Clash, "", "T2026-0001 is no quote")
		y.must(s.Decline(y.ctx, y.act(), y.job, "2026-07-20", "too wet"))
		refused(t, yes(y.quote(y.job).ID), fault.Clash, "", "J-01 was declined on 20 Jul 2026")
		yeses, err := s.Acceptances(y.ctx, 0)
		y.must(err)
		if len(yeses) != 1 || yeses[0].PaperID != newest.ID || !yeses[0].AcceptedAt.Equal(morning) {
			t.Errorf("the yeses are %+v", yeses)
		}
		y.sound()
	})
}

// A quote that holds until the 20th can be accepted on the 20th where the business is,
// though the day is another one elsewhere.
func TestAQuoteRunsOutByTheDayOfTheBusiness(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		p := quote(y.job)
		p.UntilOn = "2026-07-19"
		p = y.issue(p)
		a := y.act()
		a.Now = morning.Add(-3 * time.Hour) // 6:30 on the 20th, 21:00 on the 19th in UTC
		refused(t, s.AcceptQuote(y.ctx, a, bill.Acceptance{PaperID: p.ID}, nil), fault.Clash, "", "held until 19 Jul 2026")
	})
}
