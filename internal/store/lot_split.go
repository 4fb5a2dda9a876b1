package store

import (
	"cmp"
	"context"
	"slices"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// LotSources is which lots came from which others; lotID 0 gives those of every lot.
func (s *Store) LotSources(ctx context.Context, lotID int64) ([]seed.Source, error) {
	return all[seed.Source](of(s.reader(ctx), "lot_id", lotID).Order("lot_id, position"))
}

// SplitLot bags part of a lot's free seed in the shed under a code of its own. What the
// label, the tests and the store say of the lot holds for the new one; its tests are known
// as copied. It gives the new lot's number.
func (s *Store) SplitLot(ctx context.Context, a job.Act, fromID int64, code string, grams int64) (int64, error) {
	return s.do(ctx, a, "split a lot", func(t tx) (int64, error) {
		lot, err := locked[seed.Lot](t, "lot", fromID)
		if err != nil {
			return 0, err
		}
		if code == "" {
			return 0, fault.Refuse("code", "the new lot has no code, enter one of its own such as %s-B", lot.Code)
		}
		from := lot.Code
		lot.ID, lot.Code = 0, code
		if err := t.add(&lot, lotNumbered(lot)); err != nil {
			return 0, err
		}
		if err := t.openStock(job.LotStock, lot.ID, 0, 0); err != nil {
			return 0, err
		}
		if err := t.pour(seed.Source{LotID: lot.ID, SourceID: fromID, Grams: grams}, lot.Code); err != nil {
			return 0, err
		}
		if err := t.copyKnown(fromID, lot.ID); err != nil {
			return 0, err
		}
		return lot.ID, t.tell("lot", lot.ID, "split %s of %s off as %s", amount(job.LotStock, grams), from, code)
	})
}

// BlendLots pours free seed of several lots together in the shed under a new code. The
// lot's figures follow from the weights; code, day and note are as given.
// Where every part has a test that counts, the blend begins with a test worked out from
// them. It gives the new lot's number.
func (s *Store) BlendLots(ctx context.Context, a job.Act, lot seed.Lot, sources []seed.Source) (int64, error) {
	return s.do(ctx, a, "blend lots", func(t tx) (int64, error) {
		parts, err := t.blendParts(sources)
		if err != nil {
			return 0, err
		}
		blend, err := seed.Blend(parts)
		if err != nil {
			return 0, err
		}
		if lot.Code == "" {
			return 0, fault.Refuse("code", "the blend has no code, enter one of its own")
		}
		blend.Code, blend.ReceivedOn, blend.Note = lot.Code, lot.ReceivedOn, lot.Note
		if err := t.add(&blend, lotNumbered(blend)); err != nil {
			return 0, err
		}
		if err := t.openStock(job.LotStock, blend.ID, 0, 0); err != nil {
			return 0, err
		}
		for i, p := range parts {
			p.Source.LotID, p.Source.Position = blend.ID, i
			if err := t.pour(p.Source, blend.Code); err != nil {
				return 0, err
			}
		}
		if err := t.addBlendTest(blend, parts); err != nil {
			return 0, err
		}
		return blend.ID, t.tell("lot", blend.ID, "blended %d lots into %s", len(parts), blend.Code)
	})
}

// blendParts reads what the parts of a blend are known by, locked in one order.
func (t tx) blendParts(sources []seed.Source) ([]seed.BlendPart, error) {
	var parts []seed.BlendPart
	for _, s := range slices.SortedFunc(slices.Values(sources), func(a, b seed.Source) int { return cmp.Compare(a.SourceID, b.SourceID) }) {
		lot, err := locked[seed.Lot](t, "lot", s.SourceID)
		if err != nil {
			return nil, err
		}
		known, err := tests(t.DB, lot.ID)
		if err != nil {
			return nil, err
		}
		parts = append(parts, seed.BlendPart{Lot: lot, Tests: known, Source: s})
	}
	return parts, nil
}

func (t tx) addBlendTest(blend seed.Lot, parts []seed.BlendPart) error {
	test, ok := seed.BlendTest(parts, t.today())
	if !ok {
		return nil
	}
	test.LotID = blend.ID
	_, err := t.addTest(test)
	return err
}

// pour moves free seed in the shed from one lot to another, and keeps where it came from.
func (t tx) pour(s seed.Source, into string) error {
	st, err := t.stock(job.LotStock, s.SourceID)
	if err != nil {
		return err
	}
	if err := above0(job.LotStock, s.Grams); err != nil {
		return err
	}
	if free := min(st.onHand[job.Shed], st.total()-st.heldBack(0)); s.Grams > free {
		return fault.Refuse("quantity", "%s of %s lie free in the shed, %s cannot go into %s",
			amount(job.LotStock, max(free, 0)), st.name, amount(job.LotStock, s.Grams), into)
	}
	if err := t.take(st, job.Movement{Kind: moved, Note: "into the lot " + into}, s.Grams, job.Shed); err != nil {
		return err
	}
	arrival := job.Movement{Kind: moved, StockKind: job.LotStock, StockID: s.LotID, Place: job.Shed, Quantity: s.Grams, Note: "out of the lot " + st.name}
	if err := t.move(arrival); err != nil {
		return err
	}
	return t.Create(&s).Error
}

// copyKnown copies the tests and storage conditions of a lot to one split off from it.
func (t tx) copyKnown(fromID, toID int64) error {
	known, err := tests(t.DB, fromID)
	if err != nil {
		return err
	}
	for _, test := range known {
		test.LotID, test.CopiedFrom = toID, test.ID
		if _, err := t.addTest(test); err != nil {
			return err
		}
	}
	conditions, err := all[seed.StorageCondition](t.Where("lot_id = ?", fromID).Order("since"))
	for _, c := range conditions {
		c.ID, c.LotID = 0, toID
		if err := t.Create(&c).Error; err != nil {
			return err
		}
	}
	return err
}
