package bill

import (
	"errors"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
)

// StockValueIn is a run of receipts and issues, in the order in which they happened. An
// opening balance is a receipt that stands first.
type StockValueIn struct {
	Method string       `json:"method"` // "moving-average" or "by-lot"
	Events []StockEvent `json:"events"`
}

// StockEvent is one receipt ("in", at its unit cost) or one issue ("out", at what the
// stock on hand cost).
type StockEvent struct {
	Kind     string        `json:"kind"`
	Quantity money.Exact   `json:"quantity"`            // above 0
	UnitCost *money.Factor `json:"unit_cost,omitempty"` // of a receipt, without tax
	Lot      string        `json:"lot,omitempty"`       // needed by-lot, of no effect with the moving average
}

// StockValue is what was received, issued and is left: received = issued + ending, to
// the cent.
type StockValue struct {
	ReceivedValue  money.Cents  `json:"received_value"`
	IssuedValue    money.Cents  `json:"issued_value"`
	EndingQuantity money.Factor `json:"ending_quantity"`
	EndingValue    money.Cents  `json:"ending_value"`
}

// Ways of valuing stock.
const (
	movingAverage = "moving-average"
	byLot         = "by-lot"
)

// mostEvents bounds a run of events.
const mostEvents = 100_000

// ValueStock values issues and what is left. With the moving average, goods are one pool
// whose value and quantity are carried on after each event (perpetual weighted average);
// by lot, each lot is its own pool (specific identification), and a lot received twice
// carries its average. Both are open under AASB 102 / IAS 2 (from memory). An issue costs
// quantity × value ÷ quantity on hand, carried at full precision: only the sums are
// rounded, and the ending value is what the issues leave of the receipts.
//
// An issue of more than is on hand is refused, naming the event.
func ValueStock(in StockValueIn) (StockValue, error) {
	if in.Method != movingAverage && in.Method != byLot {
		return StockValue{}, fault.Refuse("method", "method is %q, enter %q or %q", in.Method, movingAverage, byLot)
	}
	if len(in.Events) > mostEvents {
		return StockValue{}, fault.Refuse("events", "there are %d events, enter at most %d", len(in.Events), mostEvents)
	}
	stock := shelf{pools: map[string]*pool{}}
	for i, event := range in.Events {
		lot := event.Lot
		if in.Method == movingAverage {
			lot = ""
		} else if strings.TrimSpace(lot) == "" {
			return StockValue{}, fault.Refuse(at("events", i)+".lot", "the event names no lot, enter its number")
		}
		if err := stock.take(lot, event); err != nil {
			return StockValue{}, fault.Under(at("events", i), err)
		}
	}
	return stock.value()
}

// pool is goods that share one average cost.
type pool struct{ quantity, value money.Factor }

// shelf is all pools, and what came in and went out.
type shelf struct {
	pools            map[string]*pool
	received, issued money.Factor
}

// valueDecimals is the precision that a pool's value is carried with.
const valueDecimals = 30

func (s *shelf) take(lot string, event StockEvent) error {
	if err := event.check(); err != nil {
		return err
	}
	if s.pools[lot] == nil {
		s.pools[lot] = &pool{}
	}
	if event.Kind == "in" {
		cost := event.Quantity.Times(*event.UnitCost)
		s.received = s.received.Plus(cost)
		s.pools[lot].put(event.Quantity.Factor, cost)
		return nil
	}
	cost, err := s.pools[lot].issue(event.Quantity.Factor)
	s.issued = s.issued.Plus(cost)
	return err
}

func (p *pool) put(quantity, cost money.Factor) {
	p.quantity, p.value = p.quantity.Plus(quantity), p.value.Plus(cost)
}

// issue takes goods out at their average cost; the last of them take all that is left.
func (p *pool) issue(quantity money.Factor) (money.Factor, error) {
	if quantity.Compare(p.quantity) > 0 {
		return money.Factor{}, fault.Refuse("quantity", "quantity issued is %s and %s is on hand, enter at most that, or the receipt first", quantity, p.quantity)
	}
	cost := p.value
	if quantity.Compare(p.quantity) < 0 {
		cost = quantity.Times(p.value).Over(p.quantity, valueDecimals)
	}
	p.quantity, p.value = p.quantity.Minus(quantity), p.value.Minus(cost)
	return cost, nil
}

// MovedValue is the value that a movement carries when stock of one average cost is kept in
// whole cents: an issue (quantity below 0) takes along its share of the value on hand,
// rounded, and the last of the goods take all that is left; goods found again (above 0) come
// in at the average, for nothing where nothing is on hand. onHand counts before the movement.
func MovedValue(value money.Cents, onHand, quantity int64) money.Cents {
	if onHand <= 0 {
		return 0
	}
	if quantity <= -onHand {
		return -value
	}
	return value.Factor().Times(money.Whole(quantity)).Over(money.Whole(onHand), 2).Cents()
}

func (e StockEvent) check() error {
	err := bounded("quantity", e.Quantity.Factor)
	if e.Quantity.Sign() <= 0 {
		err = fault.Refuse("quantity", "quantity is %s, enter a figure above 0", e.Quantity)
	}
	switch {
	case e.Kind != "in" && e.Kind != "out":
		return errors.Join(err, fault.Refuse("kind", "kind is %q, enter \"in\" for a receipt or \"out\" for an issue", e.Kind))
	case e.Kind == "in" && e.UnitCost == nil:
		return errors.Join(err, fault.Refuse("unit_cost", "the receipt has no unit cost, enter it, 0 for what cost nothing"))
	case e.Kind == "in":
		return errors.Join(err, fromZero("unit_cost", *e.UnitCost))
	case e.UnitCost != nil:
		return errors.Join(err, fault.Refuse("unit_cost", "an issue is valued at what the stock cost, leave its unit cost out"))
	}
	return err
}

func (s *shelf) value() (StockValue, error) {
	received, err := s.received.Amount()
	if err != nil {
		return StockValue{}, fault.Refuse("events", "the receipts add up to too much: %v", err)
	}
	var quantity money.Factor
	for _, p := range s.pools {
		quantity = quantity.Plus(p.quantity)
	}
	issued := s.issued.Cents()
	return StockValue{received, issued, quantity, received - issued}, nil
}
