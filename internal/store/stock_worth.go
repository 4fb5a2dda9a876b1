package store

import (
	"context"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/money"
)

// StockWorths is what each medium on hand cost.
func (s *Store) StockWorths(ctx context.Context) ([]job.StockWorth, error) {
	return all[job.StockWorth](s.reader(ctx).Order("kind, id"))
}

// Buy takes a delivery of a medium into the shed, in mL, with what it cost as a whole
// before tax. What is issued from then on costs the moving average.
func (s *Store) Buy(ctx context.Context, a job.Act, productID, ml int64, cost money.Cents, note string) error {
	return s.done(ctx, a, "buy a medium", func(t tx) error {
		if cost < 0 || cost > money.Largest {
			return fault.Refuse("cost", "a delivery costs 0 or more and up to %s, enter what was paid before tax", money.Largest.Shown())
		}
		return t.receive(job.MediumStock, productID, ml, &cost, note)
	})
}

// bagPrice is what so much of a medium costs at the price of a bag; 0 where it comes loose.
func (t tx) bagPrice(productID, ml int64) (money.Cents, error) {
	product, err := one[mix.Product](t.DB, "medium", productID)
	if err != nil || product.BagL <= 0 {
		return 0, err
	}
	return product.CostOf(ml), nil
}

// takenAlong is the value that a medium's movement takes along at the moving average: its
// share of what goes out, the average of what a count finds, and none between places.
func (t tx) takenAlong(m job.Movement) (money.Cents, error) {
	if m.StockKind != job.MediumStock || m.Kind == moved {
		return 0, nil
	}
	worth, onHand, err := t.worth(m.StockID)
	return bill.MovedValue(worth, onHand, m.Quantity), err
}

// carryValue keeps what a medium on hand is worth in step with its ledger.
func (t tx) carryValue(m job.Movement) error {
	if m.Value == 0 {
		return nil
	}
	done := t.Exec(`UPDATE stock_worths SET value = value + ? WHERE kind = ? AND id = ? AND value + ? >= 0`, m.Value, m.StockKind, m.StockID, m.Value)
	if done.Error == nil && done.RowsAffected == 0 {
		return fault.Conflict("the medium on hand is not worth as much any more, load the page again")
	}
	return done.Error
}

// worth is what a medium on hand cost, and how many mL of it there are at both places.
func (t tx) worth(productID int64) (value money.Cents, onHand int64, err error) {
	worth, _, err := maybe[job.StockWorth](t.Where("kind = ? AND id = ?", job.MediumStock, productID))
	if err != nil {
		return 0, 0, err
	}
	err = t.Raw(`SELECT coalesce(sum(on_hand), 0) FROM balances WHERE kind = ? AND id = ?`, job.MediumStock, productID).Scan(&onHand).Error
	return worth.Value, onHand, err
}
