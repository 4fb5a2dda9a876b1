package store

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/published"
)

// bought takes a published receipt "100@5.5" in, a litre for each unit.
func (y yard) bought(medium int64, quantity, unitCost string) {
	cost := money.MustFactor(quantity).Times(money.MustFactor(unitCost)).Cents()
	y.must(y.Buy(y.ctx, y.act(), medium, whole(quantity)*1000, cost, ""))
}

func whole(s string) int64 { return int64(money.MustFactor(s).Float()) }

// worthOf is what a medium on hand is kept at, and what its ledger says came in and went out.
func (y yard) worthOf(medium int64) (worth, in, out money.Cents) {
	y.t.Helper()
	worths, err := y.StockWorths(y.ctx)
	y.must(err)
	for _, w := range worths {
		if w.ID == medium {
			worth = w.Value
		}
	}
	moves, err := y.Movements(y.ctx, job.MediumStock, medium)
	y.must(err)
	for _, m := range moves {
		if m.Value > 0 {
			in += m.Value
		} else {
			out -= m.Value
		}
	}
	return worth, in, out
}

// The published moving-average example through the ledger itself: receipts at their cost,
// issues at the average, in whole cents.
func TestTheLedgerValuesPublishedIssuesAtTheMovingAverage(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		tried := 0
		for _, r := range published.Rows(t, "stock_value_examples.csv") {
			if r.Text("method") != "moving average" {
				continue
			}
			tried++
			medium := y.id(y.AddProduct(y.ctx, y.act(), mix.Product{Name: r.Name}, 0))
			for _, event := range strings.Split(r.Text("events"), ";") {
				_, amount, _ := strings.Cut(event, "=")
				if quantity, cost, buys := strings.Cut(amount, "@"); buys {
					y.bought(medium, quantity, cost)
				} else {
					y.must(y.WriteOff(y.ctx, y.act(), job.MediumStock, medium, whole(amount)*1000, "sold"))
				}
			}
			worth, in, out := y.worthOf(medium)
			if out.Factor().Compare(money.MustFactor(r.Text("expected_cogs"))) != 0 || worth.Factor().Compare(money.MustFactor(r.Text("expected_ending_value"))) != 0 || in != out+worth {
				t.Errorf("%s: issued %s and %s left of %s, want %s and %s", r.Name, out, worth, in, r.Text("expected_cogs"), r.Text("expected_ending_value"))
			}
		}
		if tried == 0 {
			t.Error("no published row was tried")
		}
	})
}

// What a job drew carries its value to the cent, comes back with it, and the last of a
// medium takes all that is left.
func TestATubTakesItsValueAndBringsItBack(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		medium := y.id(y.AddProduct(y.ctx, y.act(), mix.Product{Name: "sand", BagL: 100, CostPerBag: money.MustFactor("38.00")}, 100_000))
		y.must(y.Buy(y.ctx, y.act(), medium, 200_000, 100_01, "")) // 300 L for 138.01
		mixed := tub(y.job, y.lot, 10)
		mixed.ProductID, mixed.MediumML, mixed.MixML = medium, 100_000, 101_000
		first := y.id(y.MixTub(y.ctx, y.act(), mixed))
		is := func(when string, want money.Cents) {
			t.Helper()
			if worth, _, _ := y.worthOf(medium); worth != want {
				t.Errorf("%s: kept at %s, want %s", when, worth, want)
			}
		}
		is("a third is mixed", 138_01-46_00)
		y.must(y.UnmixTub(y.ctx, y.act(), first))
		is("it is emptied back", 138_01)
		y.must(y.MoveStock(y.ctx, y.act(), job.MediumStock, medium, job.Shed, job.Truck, 50_000, ""))
		is("some is on the truck", 138_01)
		y.must(y.CountStock(y.ctx, y.act(), job.MediumStock, medium, job.Shed, 100_000, "short"))
		is("half is missing", 69_00) // 69.005 went, rounded up
		y.must(y.WriteOff(y.ctx, y.act(), job.MediumStock, medium, 150_000, "spoilt"))
		is("nothing is left", 0)
		broken, err := s.Verify(y.ctx)
		y.must(err)
		if len(broken) != 0 {
			t.Errorf("the store is not sound: %v", broken)
		}
	})
}

// Mix that is thrown away stays the job's cost; mix that is kept gives its value back.
func TestACleanOutGivesBackWhatItsMediumCost(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		y.must(y.Buy(y.ctx, y.act(), y.medium, 500_000, 500_00, "")) // 1000 L for 500.00
		for _, kept := range []bool{true, false} {
			y.job = y.newJob()
			mixed := tub(y.job, y.lot, 400)
			mixed.ProductID, mixed.MediumML, mixed.MixML = y.medium, 100_000, 101_000
			tubID := y.id(y.MixTub(y.ctx, y.act(), mixed))
			remains := y.id(y.CleanOut(y.ctx, y.act(), mix.CleanOut{JobID: y.job, ProductID: y.medium, MixML: 40_000, MediumML: 40_000, Kept: kept}))
			want := map[bool]money.Cents{true: 470_00, false: 450_00}[kept]
			if worth, _, _ := y.worthOf(y.medium); worth != want {
				t.Errorf("kept %v: the medium is kept at %s, want %s", kept, worth, want)
			}
			y.must(y.UndoCleanOut(y.ctx, y.act(), remains))
			if worth, _, _ := y.worthOf(y.medium); worth != 450_00 {
				t.Errorf("undone: the medium is kept at %s, want 450.00", worth)
			}
			y.must(y.UnmixTub(y.ctx, y.act(), tubID))
		}
	})
}

// Whatever comes and goes: what came in is what went out and what is on hand.
func TestMovedValueKeepsEveryCent(t *testing.T) {
	value, onHand := money.Cents(0), int64(0)
	for i := range int64(500) {
		got := money.Cents(i * 37 % 1000)
		value, onHand = value+got, onHand+i%7*1000
		if onHand == 0 {
			value = 0
			continue
		}
		part := -(i * 991 % (onHand + 1))
		taken := bill.MovedValue(value, onHand, part)
		value, onHand = value+taken, onHand+part
		if value < 0 || taken > 0 || onHand == 0 && value != 0 {
			t.Fatalf("after issue %d of %d mL the %d mL left are kept at %s", i, -part, onHand, value)
		}
	}
}
