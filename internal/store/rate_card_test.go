package store

import (
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/money"
)

func TestARateCardComesBackAsItWasAndTouchesNoJob(t *testing.T) {
	onEachEngine(t, func(t *testing.T, s *Store) {
		y := newYard(t, s)
		line := bill.Rate{Position: 1, Description: "rows", Unit: "row-km", Basis: bill.RowKm, UnitPrice: money.MustFactor("105.25"), TaxCategory: "S", Optional: true}
		card := bill.Card{Name: "Autumn ‘26", Note: "mounded ground", Rates: []bill.Rate{line, {Position: 2, Description: "set-up", Unit: "each", Basis: bill.Fixed, Quantity: money.MustFactor("1.50"), UnitPrice: money.MustFactor("380"), TaxCategory: "Z", TaxReason: "a ruling, read on 3 Jul 2026"}}}
		card.ID = y.id(s.KeepRateCard(y.ctx, y.act(), card))
		y.must(s.KeepRates(y.ctx, y.act(), y.job, card.Rates))
		if rates, err := s.Rates(y.ctx, y.job); err != nil || rates[1].TaxCategory != "Z" || rates[1].TaxReason != card.Rates[1].TaxReason {
			t.Errorf("the job's rates come back as %+v, %v", rates, err)
		}
		unsaid := card
		unsaid.Rates = []bill.Rate{{Description: "set-up", Unit: "each", Basis: bill.Fixed, TaxCategory: "E"}}
		_, err := s.KeepRateCard(y.ctx, y.act(), unsaid)
		refused(t, err, fault.Refused, "rates[0].tax_reason", "say why")
		refused(t, s.KeepRates(y.ctx, y.act(), y.job, unsaid.Rates), fault.Refused, "rates[0].tax_reason", "say why")
		got, err := s.RateCards(y.ctx)
		y.must(err)
		same(t, got, []bill.Card{card})
		_, err = s.KeepRateCard(y.ctx, y.act(), bill.Card{Name: "AUTUMN ‘26"})
		refused(t, err, fault.Refused, "name", "enter another name")
		card.Rates = card.Rates[:1]
		y.id(s.KeepRateCard(y.ctx, y.act(), card))
		got, err = s.RateCards(y.ctx)
		y.must(err)
		same(t, got, []bill.Card{card})
		y.must(s.DropRateCard(y.ctx, y.act(), card.ID))
		if got, err = s.RateCards(y.ctx); err != nil || len(got) != 0 {
			t.Errorf("%d cards are left, %v", len(got), err)
		}
		if rates, err := s.Rates(y.ctx, y.job); err != nil || len(rates) != 2 {
			t.Errorf("the job has %d rates, %v", len(rates), err)
		}
		refused(t, s.DropRateCard(y.ctx, y.act(), 99), fault.Missing, "", "no rate card with the number 99")
	})
}
