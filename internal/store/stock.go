package store

import (
	"context"
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// mostStock bounds one quantity, in g or mL: a million tonnes. What is above it is a slip
// of the unit.
const mostStock = 1_000_000_000_000

// stock is one lot or medium while an act changes how much of it there is. Whoever holds
// one keeps every other act off the same lot or medium until his act ends.
type stock struct {
	kind   job.StockKind
	id     int64
	name   string // the lot's number or the medium's name
	onHold string // why nothing may be mixed from it
	onHand map[job.Place]int64
	held   []job.Held // what agreed jobs have claimed, latest claim last
}

// Balances is what lies where.
func (s *Store) Balances(ctx context.Context) ([]job.Balance, error) {
	return all[job.Balance](s.reader(ctx).Order("kind, id, place"))
}

// stock locks one lot or medium and reads how much of it there is.
func (t tx) stock(kind job.StockKind, id int64) (stock, error) {
	st := stock{kind: kind, id: id, onHand: map[job.Place]int64{}}
	if err := t.lockStock(&st); err != nil {
		return st, err
	}
	balances, err := all[job.Balance](t.Where("kind = ? AND id = ?", kind, id))
	if err != nil {
		return st, err
	}
	for _, b := range balances {
		st.onHand[b.Place] = b.OnHand
	}
	st.held, err = all[job.Held](t.Where("stock_kind = ? AND stock_id = ? AND held > 0", kind, id).Order("job_id"))
	return st, err
}

func (t tx) lockStock(st *stock) error {
	switch st.kind {
	case job.LotStock:
		lot, err := locked[seed.Lot](t, "lot", st.id)
		st.name, st.onHold = lot.Code, lot.HoldReason
		return err
	case job.MediumStock:
		product, err := locked[mix.Product](t, "medium", st.id)
		st.name = product.Name
		return err
	}
	return fault.Refuse("kind", "%q is no kind of stock, choose lot or medium", st.kind)
}

// total is what lies at both places together.
func (st stock) total() int64 { return st.onHand[job.Shed] + st.onHand[job.Truck] }

// heldBack is what agreed jobs other than the one named have claimed; 0 names none.
func (st stock) heldBack(exceptJob int64) int64 {
	var sum int64
	for _, h := range st.held {
		if h.JobID != exceptJob {
			sum += h.Held
		}
	}
	return sum
}

// amount writes a quantity of stock for a person.
func amount(kind job.StockKind, quantity int64) string {
	name := "kg"
	if kind == job.MediumStock {
		name = "L"
	}
	return fmt.Sprintf("%s %s", unit.Grouped(float64(quantity)/1000, 3), name)
}

// above0 refuses a quantity that nobody could weigh or measure.
func above0(kind job.StockKind, quantity int64) error {
	if quantity <= 0 || quantity > mostStock {
		return fault.Refuse("quantity", "%s is no quantity to enter, enter one above 0 and up to %s",
			amount(kind, quantity), amount(kind, mostStock))
	}
	return nil
}
