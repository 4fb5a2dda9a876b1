package store

import (
	"context"

	"gorm.io/gorm"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// The kinds of movement in the stock ledger.
const (
	received   = "received"
	drawn      = "drawn"
	returned   = "returned"
	writtenOff = "written off"
	counted    = "counted"
	moved      = "moved"
)

// Movements is the stock ledger of one lot or medium, newest first.
func (s *Store) Movements(ctx context.Context, kind job.StockKind, id int64) ([]job.Movement, error) {
	return all[job.Movement](s.reader(ctx).Where("stock_kind = ? AND stock_id = ?", kind, id).Order("id DESC"))
}

// movementsOf is the stock ledger of some jobs, oldest first.
func movementsOf(db *gorm.DB, jobIDs ...int64) ([]job.Movement, error) {
	return all[job.Movement](of(db, "job_id", jobIDs...).Order("id"))
}

// move adds a movement to the ledger at the value that it takes along of what is on hand,
// and changes the balance with it.
func (t tx) move(m job.Movement) error {
	var err error
	if m.Value, err = t.takenAlong(m); err != nil {
		return err
	}
	return t.moveAt(m)
}

// moveAt adds a movement with the value that it says, and changes the balance with it, in
// one statement that the balance itself decides: it never goes below 0.
func (t tx) moveAt(m job.Movement) error {
	m.At, m.Who = t.now, t.act.Who
	if err := t.carryValue(m); err != nil {
		return err
	}
	if err := t.Create(&m).Error; err != nil {
		return err
	}
	done := t.Exec(`UPDATE balances SET on_hand = on_hand + ? WHERE kind = ? AND id = ? AND place = ? AND on_hand + ? >= 0`,
		m.Quantity, m.StockKind, m.StockID, m.Place, m.Quantity)
	if done.Error == nil && done.RowsAffected == 0 {
		return fault.Conflict("there is not as much in the %s any more, load the page again", m.Place)
	}
	return done.Error
}

// openStock gives a new lot or medium its two balances and receives the first of it, at
// what it cost.
func (t tx) openStock(kind job.StockKind, id, quantity int64, cost money.Cents) error {
	if kind == job.MediumStock {
		if err := t.Create(&job.StockWorth{Kind: kind, ID: id}).Error; err != nil {
			return err
		}
	}
	for _, place := range []job.Place{job.Shed, job.Truck} {
		if err := t.Create(&job.Balance{Kind: kind, ID: id, Place: place}).Error; err != nil {
			return err
		}
	}
	if quantity == 0 {
		return nil
	}
	if err := above0(kind, quantity); err != nil {
		return err
	}
	return t.moveAt(job.Movement{Kind: received, StockKind: kind, StockID: id, Place: job.Shed, Quantity: quantity, Value: cost})
}

// take draws a quantity from the places in the order given, as far as each goes.
func (t tx) take(st stock, m job.Movement, quantity int64, places ...job.Place) error {
	for _, place := range places {
		part := min(quantity, st.onHand[place])
		if part == 0 {
			continue
		}
		m.StockKind, m.StockID, m.Place, m.Quantity = st.kind, st.id, place, -part
		if err := t.move(m); err != nil {
			return err
		}
		quantity -= part
	}
	if quantity > 0 {
		return fault.Conflict("there is not as much of %s any more, load the page again", st.name)
	}
	return nil
}
