package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// Receive takes stock into the shed; a medium at what its bag costs (see Buy).
func (s *Store) Receive(ctx context.Context, a job.Act, kind job.StockKind, id, quantity int64, note string) error {
	return s.done(ctx, a, "receive stock", func(t tx) error { return t.receive(kind, id, quantity, nil, note) })
}

// receive takes stock into the shed at a cost; at a medium's bag price where none is told.
func (t tx) receive(kind job.StockKind, id, quantity int64, cost *money.Cents, note string) error {
	st, err := t.stock(kind, id)
	if err != nil {
		return err
	}
	if err := above0(kind, quantity); err != nil {
		return err
	}
	if st.total()+quantity > mostStock {
		return fault.Refuse("quantity", "there would be more than %s of %s, check the unit", amount(kind, mostStock), st.name)
	}
	m := job.Movement{Kind: received, StockKind: kind, StockID: id, Place: job.Shed, Quantity: quantity, Note: note}
	switch {
	case cost != nil:
		m.Value = *cost
	case kind == job.MediumStock:
		if m.Value, err = t.bagPrice(id, quantity); err != nil {
			return err
		}
	}
	if err := t.moveAt(m); err != nil {
		return err
	}
	return t.tell(string(kind), id, "received %s of %s into the shed%s", amount(kind, quantity), st.name, because(note))
}

// WriteOff takes spoilt or lost stock out of the books, from the shed while it has some,
// then from the truck. Claims that nothing is left for shrink with it.
func (s *Store) WriteOff(ctx context.Context, a job.Act, kind job.StockKind, id, quantity int64, reason string) error {
	return s.done(ctx, a, "write off stock", func(t tx) error {
		st, err := t.stock(kind, id)
		if err != nil {
			return err
		}
		if err := above0(kind, quantity); err != nil {
			return err
		}
		if reason == "" {
			return fault.Refuse("reason", "stock that is written off keeps its reason, enter what became of it")
		}
		if quantity > st.total() {
			return fault.Refuse("quantity", "there is only %s of %s, %s cannot be written off",
				amount(kind, st.total()), st.name, amount(kind, quantity))
		}
		if err := t.take(st, job.Movement{Kind: writtenOff, Note: reason}, quantity, job.Shed, job.Truck); err != nil {
			return err
		}
		if err := t.shrinkClaims(st, st.total()-quantity); err != nil {
			return err
		}
		return t.tell(string(kind), id, "wrote off %s of %s%s", amount(kind, quantity), st.name, because(reason))
	})
}

// CountStock sets a balance right to what was counted at a place, by a movement. Claims
// that nothing is left for shrink with it.
func (s *Store) CountStock(ctx context.Context, a job.Act, kind job.StockKind, id int64, place job.Place, found int64, note string) error {
	return s.done(ctx, a, "count stock", func(t tx) error {
		st, err := t.stock(kind, id)
		if err != nil {
			return err
		}
		before, known := st.onHand[place]
		switch {
		case !known:
			return fault.Refuse("place", "%q is no place for stock, choose shed or truck", place)
		case found < 0 || found > mostStock:
			return fault.Refuse("counted", "%s cannot be counted, enter 0 or more and up to %s", amount(kind, found), amount(kind, mostStock))
		}
		m := job.Movement{Kind: counted, StockKind: kind, StockID: id, Place: place, Quantity: found - before, Note: note}
		if err := t.move(m); err != nil {
			return err
		}
		if err := t.shrinkClaims(st, st.total()+m.Quantity); err != nil {
			return err
		}
		return t.tell(string(kind), id, "counted %s of %s in the %s where the books had %s%s",
			amount(kind, found), st.name, place, amount(kind, before), because(note))
	})
}

// MoveStock carries stock from one place to the other.
func (s *Store) MoveStock(ctx context.Context, a job.Act, kind job.StockKind, id int64, from, to job.Place, quantity int64, note string) error {
	return s.done(ctx, a, "move stock", func(t tx) error {
		st, err := t.stock(kind, id)
		if err != nil {
			return err
		}
		_, fromKnown := st.onHand[from]
		_, toKnown := st.onHand[to]
		if from == to || !fromKnown || !toKnown {
			return fault.Refuse("to", "stock moves from the shed to the truck or back, not from %q to %q", from, to)
		}
		if err := above0(kind, quantity); err != nil {
			return err
		}
		if quantity > st.onHand[from] {
			return fault.Refuse("quantity", "the %s has only %s of %s, %s cannot leave it",
				from, amount(kind, st.onHand[from]), st.name, amount(kind, quantity))
		}
		if err := t.take(st, job.Movement{Kind: moved, Note: note}, quantity, from); err != nil {
			return err
		}
		arrival := job.Movement{Kind: moved, StockKind: kind, StockID: id, Place: to, Quantity: quantity, Note: note}
		if err := t.move(arrival); err != nil {
			return err
		}
		return t.tell(string(kind), id, "moved %s of %s from the %s to the %s%s", amount(kind, quantity), st.name, from, to, because(note))
	})
}

func because(note string) string {
	if note == "" {
		return ""
	}
	return ": " + note
}
