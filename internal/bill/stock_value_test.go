package bill

import (
	"fmt"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/published"

	"pgregory.net/rapid"
)

// layer is one published receipt, or with a nil cost one sale.
type layer struct {
	quantity money.Factor
	cost     *money.Factor
}

// layersOf reads "open=2@2;buy=3@3;sale=4"; what follows "ids:" is left to the caller.
func layersOf(t *testing.T, r published.Row) (layers []layer, ids string) {
	t.Helper()
	events, ids, _ := strings.Cut(r.Text("events"), ";ids: ")
	for _, event := range strings.Split(events, ";") {
		_, amount, _ := strings.Cut(event, "=")
		quantity, cost, bought := strings.Cut(amount, "@")
		l := layer{quantity: money.MustFactor(quantity)}
		if bought {
			c := money.MustFactor(cost)
			l.cost = &c
		}
		layers = append(layers, l)
	}
	return layers, ids
}

func receipt(lot string, quantity, cost money.Factor) StockEvent {
	return StockEvent{Kind: "in", Quantity: money.Exact{Factor: quantity}, UnitCost: &cost, Lot: lot}
}

func issue(lot string, quantity money.Factor) StockEvent {
	return StockEvent{Kind: "out", Quantity: money.Exact{Factor: quantity}, Lot: lot}
}

// averaged are the events of the moving average. A periodic row values every sale at the
// period's average: there all receipts stand before the first sale.
func averaged(layers []layer, periodic bool) []StockEvent {
	var events, sales []StockEvent
	for _, l := range layers {
		switch {
		case l.cost != nil:
			events = append(events, receipt("", l.quantity, *l.cost))
		case periodic:
			sales = append(sales, issue("", l.quantity))
		default:
			events = append(events, issue("", l.quantity))
		}
	}
	return append(events, sales...)
}

// oldestFirst makes each receipt a lot of its own and takes every sale from the oldest
// lots: first in, first out, by lot.
func oldestFirst(layers []layer) []StockEvent {
	var events []StockEvent
	var left []money.Factor
	for _, l := range layers {
		if l.cost != nil {
			events = append(events, receipt(fmt.Sprint(len(left)), l.quantity, *l.cost))
			left = append(left, l.quantity)
			continue
		}
		wanted := l.quantity
		for lot := range left {
			taken := left[lot]
			if taken.Compare(wanted) > 0 {
				taken = wanted
			}
			if taken.Sign() > 0 {
				events = append(events, issue(fmt.Sprint(lot), taken))
				left[lot], wanted = left[lot].Minus(taken), wanted.Minus(taken)
			}
		}
	}
	return events
}

// identified are the events by lot where the row names what each sale took, as
// "sale1=200@14, sale2=200@15, sale3=200@14+100@20": the unit cost names the lot.
func identified(layers []layer, ids string) []StockEvent {
	sales := strings.Split(ids, ", ")
	var events []StockEvent
	for _, l := range layers {
		if l.cost != nil {
			events = append(events, receipt(l.cost.String(), l.quantity, *l.cost))
			continue
		}
		_, takings, _ := strings.Cut(sales[0], "=")
		sales = sales[1:]
		for _, taking := range strings.Split(takings, "+") {
			quantity, lot, _ := strings.Cut(taking, "@")
			events = append(events, issue(lot, money.MustFactor(quantity)))
		}
	}
	return events
}

func TestPublishedStockValues(t *testing.T) {
	seen := 0
	for _, r := range published.Rows(t, "stock_value_examples.csv") {
		if r.Text("how_obtained") == "from memory" {
			continue
		}
		seen++
		layers, ids := layersOf(t, r)
		var in StockValueIn
		switch r.Text("method") {
		case "weighted average", "moving average":
			in = StockValueIn{movingAverage, averaged(layers, r.Text("system") == "periodic")}
		case "fifo":
			in = StockValueIn{byLot, oldestFirst(layers)}
		case "specific identification":
			in = StockValueIn{byLot, identified(layers, ids)}
		}
		got, err := ValueStock(in)
		if err != nil || got.IssuedValue != factorIn(t, r, "expected_cogs").Cents() || got.EndingValue != factorIn(t, r, "expected_ending_value").Cents() {
			t.Errorf("%s: issued %s, ending %s, %v", r.Name, got.IssuedValue, got.EndingValue, err)
		}
	}
	if seen != 10 {
		t.Errorf("%d rows were checked, want 10", seen)
	}
}

func TestReceivedIsIssuedAndEnding(t *testing.T) {
	quantity := rapid.StringMatching(`[1-9][0-9]{0,3}(\.[0-9]{1,3})?`)
	cost := rapid.StringMatching(`[0-9]{1,3}(\.[0-9]{1,4})?`)
	rapid.Check(t, func(t *rapid.T) {
		method := rapid.SampledFrom([]string{movingAverage, byLot}).Draw(t, "method")
		onHand := map[string]money.Factor{}
		var in StockValueIn
		var received money.Factor
		for range rapid.IntRange(0, 25).Draw(t, "events") {
			lot := rapid.SampledFrom([]string{"A", "B", "C"}).Draw(t, "lot")
			q := money.MustFactor(quantity.Draw(t, "quantity"))
			pool := lot
			if method == movingAverage {
				pool = ""
			}
			if rapid.Bool().Draw(t, "out") && q.Compare(onHand[pool]) <= 0 {
				in.Events = append(in.Events, issue(lot, q))
				onHand[pool] = onHand[pool].Minus(q)
				continue
			}
			c := money.MustFactor(cost.Draw(t, "cost"))
			in.Events = append(in.Events, receipt(lot, q, c))
			onHand[pool], received = onHand[pool].Plus(q), received.Plus(q.Times(c))
		}
		in.Method = method
		got, err := ValueStock(in)
		if err != nil {
			t.Fatal(err)
		}
		left := money.Sum(onHand["A"], onHand["B"], onHand["C"], onHand[""])
		if got.ReceivedValue != received.Cents() || got.IssuedValue+got.EndingValue != got.ReceivedValue || got.EndingQuantity.Compare(left) != 0 {
			t.Fatalf("%+v of %s received, %s left", got, received, left)
		}
		if got.EndingValue < 0 || left.Sign() == 0 && got.EndingValue != 0 {
			t.Fatalf("%s left is worth %s", left, got.EndingValue)
		}
	})
}

// A price that never changes is the price of every issue, whatever the order.
func TestGoodsOfOnePriceAreIssuedAtIt(t *testing.T) {
	price := money.MustFactor("0.12345")
	rapid.Check(t, func(t *rapid.T) {
		onHand, out := money.Whole(1), money.Whole(0)
		events := []StockEvent{receipt("", onHand, price)}
		for range rapid.IntRange(1, 40).Draw(t, "pairs") {
			in, taken := money.Whole(rapid.Int64Range(1, 999).Draw(t, "in")), money.Whole(rapid.Int64Range(1, 999).Draw(t, "out"))
			events, onHand = append(events, receipt("", in, price)), onHand.Plus(in)
			if taken.Compare(onHand) > 0 {
				taken = onHand
			}
			events, onHand, out = append(events, issue("", taken)), onHand.Minus(taken), out.Plus(taken)
		}
		got, err := ValueStock(StockValueIn{movingAverage, events})
		if err != nil || got.IssuedValue != out.Times(price).Cents() {
			t.Fatalf("issued %s for %s, %v", got.IssuedValue, out.Times(price), err)
		}
	})
}

func TestWrongStockEventsAreNamed(t *testing.T) {
	one, below := money.Whole(1), money.Whole(-1)
	good := receipt("D26-01", one, one)
	costed := issue("D26-01", one)
	costed.UnitCost = &one
	uncosted := good
	uncosted.UnitCost = nil
	for field, in := range map[string]StockValueIn{
		"method":              {"fifo", nil},
		"events":              {movingAverage, make([]StockEvent, mostEvents+1)},
		"events[1].quantity":  {movingAverage, []StockEvent{good, issue("", money.MustFactor("1.0001"))}},
		"events[0].quantity":  {movingAverage, []StockEvent{receipt("", money.Whole(0), one)}},
		"events[0].kind":      {movingAverage, []StockEvent{{Kind: "sale", Quantity: money.Exact{Factor: one}}}},
		"events[0].unit_cost": {movingAverage, []StockEvent{uncosted}},
		"events[1].unit_cost": {movingAverage, []StockEvent{good, costed}},
		"events[2].unit_cost": {movingAverage, []StockEvent{good, good, receipt("", one, below)}},
		"events[1].lot":       {byLot, []StockEvent{good, issue(" ", one)}},
	} {
		if _, err := ValueStock(in); fault.Fields(err)[field] == "" {
			t.Errorf("want %s refused, got %v", field, fault.Fields(err))
		}
	}
	huge := receipt("", money.Whole(mostPlain), money.Whole(mostPlain))
	if _, err := ValueStock(StockValueIn{movingAverage, []StockEvent{huge}}); fault.Fields(err)["events"] == "" {
		t.Errorf("too large a value: %v", err)
	}
	// by lot, another lot's stock does not help
	if _, err := ValueStock(StockValueIn{byLot, []StockEvent{good, issue("D26-02", one)}}); fault.Fields(err)["events[1].quantity"] == "" {
		t.Errorf("issued from the wrong lot: %v", err)
	}
}
