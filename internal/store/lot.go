package store

import (
	"context"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// Lots is every seed lot, by number.
func (s *Store) Lots(ctx context.Context) ([]seed.Lot, error) {
	return all[seed.Lot](s.reader(ctx).Order("code"))
}

// Lot is one seed lot.
func (s *Store) Lot(ctx context.Context, id int64) (seed.Lot, error) {
	return one[seed.Lot](s.reader(ctx), "lot", id)
}

// AddLot keeps a new seed lot and receives its first grams into the shed; 0 for none yet.
func (s *Store) AddLot(ctx context.Context, a job.Act, lot seed.Lot, grams int64) (int64, error) {
	return s.do(ctx, a, "add a lot", func(t tx) (int64, error) {
		lot.ID, lot.HoldReason, lot.HeldOn = 0, "", ""
		if err := t.add(&lot, lotNumbered(lot)); err != nil {
			return 0, err
		}
		if err := t.openStock(job.LotStock, lot.ID, grams, 0); err != nil {
			return 0, err
		}
		return lot.ID, t.tell("lot", lot.ID, "added the lot %s, %s, with %s", lot.Code, lot.Species, amount(job.LotStock, grams))
	})
}

// ChangeLot changes what a lot's certificate and label say; its hold and its stock stay.
func (s *Store) ChangeLot(ctx context.Context, a job.Act, lot seed.Lot) error {
	return s.done(ctx, a, "change a lot", func(t tx) error {
		if err := t.change(&lot, "lot", lot.ID, lotNumbered(lot), "HoldReason", "HeldOn"); err != nil {
			return err
		}
		return t.tell("lot", lot.ID, "changed the lot %s", lot.Code)
	})
}

// HoldLot keeps a lot out of every tub until it is freed.
func (s *Store) HoldLot(ctx context.Context, a job.Act, id int64, on unit.Date, reason string) error {
	return s.done(ctx, a, "put a lot on hold", func(t tx) error {
		if reason == "" {
			return fault.Refuse("reason", "a lot on hold keeps its reason, enter why nothing may be mixed from it")
		}
		lot, err := locked[seed.Lot](t, "lot", id)
		if err != nil {
			return err
		}
		if err := t.set(&seed.Lot{}, "lot", id, map[string]any{"hold_reason": reason, "held_on": on}); err != nil {
			return err
		}
		return t.tell("lot", id, "put the lot %s on hold: %s", lot.Code, reason)
	})
}

// FreeLot lets a lot into tubs again.
func (s *Store) FreeLot(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "free a lot", func(t tx) error {
		lot, err := locked[seed.Lot](t, "lot", id)
		if err != nil {
			return err
		}
		if !lot.OnHold() {
			return fault.Conflict("the lot %s is not on hold", lot.Code)
		}
		if err := t.set(&seed.Lot{}, "lot", id, map[string]any{"hold_reason": "", "held_on": ""}); err != nil {
			return err
		}
		return t.tell("lot", id, "freed the lot %s, which was on hold: %s", lot.Code, lot.HoldReason)
	})
}

func lotNumbered(lot seed.Lot) error {
	return fault.Refuse("code", "a lot has the number %s already, give this one a number of its own", lot.Code)
}
