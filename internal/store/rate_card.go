package store

import (
	"context"
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// rateCardRow is a rate card without its lines.
type rateCardRow struct {
	ID         int64
	Name, Note string
}

// rateCardLineRow is one line of a rate card.
type rateCardLineRow struct {
	CardID      int64
	Position    int
	Description string
	Unit        string
	Basis       bill.Basis
	Quantity    money.Factor
	UnitPrice   money.Factor
	Optional    bool
	TaxCategory string
	TaxReason   string
}

func (r rateCardLineRow) rate() bill.Rate {
	return bill.Rate{Position: r.Position, Description: r.Description, Unit: r.Unit, Basis: r.Basis, Quantity: r.Quantity, UnitPrice: r.UnitPrice, Optional: r.Optional,
		TaxCategory: r.TaxCategory, TaxReason: r.TaxReason}
}

// RateCards is every rate card with its lines, by name.
func (s *Store) RateCards(ctx context.Context) ([]bill.Card, error) {
	rows, err := all[rateCardRow](s.reader(ctx).Order("lower(name)"))
	if err != nil {
		return nil, err
	}
	lines, err := all[rateCardLineRow](s.reader(ctx).Order("card_id, position"))
	cards, at := make([]bill.Card, len(rows)), map[int64]int{}
	for i, r := range rows {
		cards[i], at[r.ID] = bill.Card{ID: r.ID, Name: r.Name, Note: r.Note}, i
	}
	for _, l := range lines {
		if i, ok := at[l.CardID]; ok {
			cards[i].Rates = append(cards[i].Rates, l.rate())
		}
	}
	return cards, err
}

// KeepRateCard keeps a rate card, a new one where it has no number. Two cards of one name are
// refused ("name").
func (s *Store) KeepRateCard(ctx context.Context, a job.Act, card bill.Card) (int64, error) {
	return s.do(ctx, a, "keep a rate card", func(t tx) (int64, error) {
		row, taken := rateCardRow{card.ID, card.Name, card.Note}, fault.Refuse("name", "there is a rate card %q already, enter another name", card.Name)
		if card.ID == 0 {
			if err := t.add(&row, taken); err != nil {
				return 0, err
			}
		} else if err := t.change(&row, "rate card", card.ID, taken); err != nil {
			return 0, err
		} else if err := t.Where("card_id = ?", card.ID).Delete(&rateCardLineRow{}).Error; err != nil {
			return 0, err
		}
		row.ID = max(row.ID, card.ID)
		for i, r := range card.Rates {
			if err := fault.Under(fmt.Sprintf("rates[%d]", i), r.CheckTax()); err != nil {
				return 0, err
			}
			line := rateCardLineRow{row.ID, i + 1, r.Description, r.Unit, r.Basis, r.Quantity, r.UnitPrice, r.Optional, r.TaxCategory, r.TaxReason}
			if err := t.Create(&line).Error; err != nil {
				return 0, err
			}
		}
		return row.ID, t.tell("rate card", row.ID, "kept the rate card %s with %d lines", row.Name, len(card.Rates))
	})
}

// DropRateCard takes a rate card off. Jobs keep what they took from it.
func (s *Store) DropRateCard(ctx context.Context, a job.Act, id int64) error {
	return s.done(ctx, a, "drop a rate card", func(t tx) error {
		row, err := one[rateCardRow](t.DB, "rate card", id)
		if err != nil {
			return err
		}
		if err := t.Where("card_id = ?", id).Delete(&rateCardLineRow{}).Error; err != nil {
			return err
		}
		if err := t.Where("id = ?", id).Delete(&rateCardRow{}).Error; err != nil {
			return err
		}
		return t.tell("rate card", id, "took the rate card %s off", row.Name)
	})
}
