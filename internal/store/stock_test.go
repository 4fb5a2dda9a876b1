package store

import (
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

func TestEveryChangeOfStockIsAMovement(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		a := y.act()
		y.must(s.Receive(y.ctx, a, job.LotStock, y.lot, 2_000, "second drum"))
		y.must(s.MoveStock(y.ctx, a, job.LotStock, y.lot, job.Shed, job.Truck, 11_000, ""))
		y.must(s.WriteOff(y.ctx, a, job.LotStock, y.lot, 1_500, "mice"))
		y.must(s.CountStock(y.ctx, a, job.LotStock, y.lot, job.Truck, 10_200, "weighed"))
		y.must(s.MoveStock(y.ctx, a, job.LotStock, y.lot, job.Truck, job.Shed, 200, ""))
		ledger, err := s.Movements(y.ctx, job.LotStock, y.lot)
		y.must(err)
		want := []job.Movement{
			{Kind: "moved", Place: job.Shed, Quantity: 200}, {Kind: "moved", Place: job.Truck, Quantity: -200},
			{Kind: "counted", Place: job.Truck, Quantity: -300, Note: "weighed"},
			{Kind: "written off", Place: job.Truck, Quantity: -500, Note: "mice"},
			{Kind: "written off", Place: job.Shed, Quantity: -1_000, Note: "mice"},
			{Kind: "moved", Place: job.Truck, Quantity: 11_000}, {Kind: "moved", Place: job.Shed, Quantity: -11_000},
			{Kind: "received", Place: job.Shed, Quantity: 2_000, Note: "second drum"}, {Kind: "received", Place: job.Shed, Quantity: 10_000},
		}
		for i := range want {
			want[i].At, want[i].Who, want[i].StockKind, want[i].StockID = morning.UTC(), "Contractor One", job.LotStock, y.lot
			want[i].ID = ledger[min(i, len(ledger)-1)].ID
		}
		same(t, ledger, want)
		if shed, truck := y.onHand(job.LotStock, y.lot, job.Shed), y.onHand(job.LotStock, y.lot, job.Truck); shed != 200 || truck != 10_000 {
			t.Errorf("%d g in the shed and %d g on the truck, want 200 and 10 000", shed, truck)
		}
		y.sound()
	})
}

func TestStockThatIsNotThereIsRefused(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		a := y.act()
		for _, c := range []struct {
			err         error
			field, says string
		}{
			{s.WriteOff(y.ctx, a, job.LotStock, y.lot, 10_001, "x"), "quantity", "there is only 10.000 kg of D1"},
			{s.WriteOff(y.ctx, a, job.LotStock, y.lot, 1, ""), "reason", "enter what became of it"},
			{s.Receive(y.ctx, a, job.LotStock, y.lot, 0, ""), "quantity", "above 0"},
			{s.Receive(y.ctx, a, job.MediumStock, y.medium, -5, ""), "quantity", "above 0"},
			{s.Receive(y.ctx, a, job.LotStock, y.lot, mostStock, ""), "quantity", "check the unit"},
			{s.Receive(y.ctx, a, "water", y.lot, 1, ""), "kind", "choose lot or medium"},
			{s.CountStock(y.ctx, a, job.LotStock, y.lot, "barn", 1, ""), "place", "choose shed or truck"},
			{s.CountStock(y.ctx, a, job.LotStock, y.lot, job.Shed, -1, ""), "counted", "0 or more"},
			{s.MoveStock(y.ctx, a, job.LotStock, y.lot, job.Truck, job.Shed, 1, ""), "quantity", "the truck has only 0.000 kg of D1"},
			{s.MoveStock(y.ctx, a, job.LotStock, y.lot, job.Shed, job.Shed, 1, ""), "to", "from the shed to the truck or back"},
		} {
			refused(t, c.err, fault.Refused, c.field, c.says)
		}
		refused(t, s.Receive(y.ctx, a, job.MediumStock, 99, 1, ""), fault.Missing, "", "no medium")
		if n := rowsIn(t, s, "movements"); n != 2 {
			t.Errorf("refused acts left %d movements, want the two of the beginning", n)
		}
		y.sound()
	})
}

func TestTheBalanceItselfRefusesToGoBelowNothing(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		if err := raw(t, s, "UPDATE balances SET on_hand = -1"); err == nil {
			t.Error("a balance below 0 was kept")
		}
		err := s.done(y.ctx, y.act(), "slip past", func(t tx) error {
			return t.move(job.Movement{Kind: drawn, StockKind: job.LotStock, StockID: y.lot, Place: job.Shed, Quantity: -10_001})
		})
		refused(t, err, fault.Clash, "", "not as much in the shed any more")
		y.sound()
	})
}
