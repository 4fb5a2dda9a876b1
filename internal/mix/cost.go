package mix

import (
	"math"

	"rowtally/internal/money"
)

// costOf is the cost of so much at a price, to the cent; nil without a price.
func costOf(quantity money.Factor, price *money.Factor) *money.Cents {
	if price == nil {
		return nil
	}
	cents := quantity.Times(*price).Cents()
	return &cents
}

// plus adds two amounts of which either may be unknown.
func plus(a, b *money.Cents) *money.Cents {
	if a == nil {
		return b
	}
	if b == nil {
		return a
	}
	sum := *a + *b
	return &sum
}

// addCosts adds up what is known of the cost.
func (m *Mix) addCosts() {
	for _, s := range m.Species {
		for _, l := range s.Lots {
			m.SeedCost = plus(m.SeedCost, l.Cost)
		}
	}
	if m.MediumBags != nil {
		m.MediumCost = costOf(money.Whole(int64(*m.MediumBags)), m.recipe.Medium.CostPerBag)
	}
	m.Cost = plus(m.SeedCost, m.MediumCost)
}

// addNotes says what the figures leave out.
func (m *Mix) addNotes() {
	for i, s := range m.Species {
		for k, l := range s.Lots {
			m.Notes = append(m.Notes, l.notes(m.recipe.Species[i].Lots[k], m.Cost != nil)...)
		}
	}
	if m.Cost != nil && m.MediumCost == nil {
		m.Notes = append(m.Notes, "the cost leaves out the medium: no cost per bag is given")
	}
}

// notes says what the figures of one lot leave out.
func (out LotMix) notes(l Lot, costed bool) (notes []string) {
	const offByMuch = 0.05
	if l.BulkDensityKgPerL == nil {
		notes = append(notes, "lot "+l.Code+" is taken to fill no volume of its own: no bulk density is given")
	}
	if math.Abs(out.WeighedKg/out.Kg-1) > offByMuch {
		notes = append(notes, "lot "+l.Code+" is so little that a step of the scale changes it by over 5 %: use a finer scale")
	}
	if costed && out.Cost == nil {
		notes = append(notes, "the cost leaves out lot "+l.Code+": no cost per kg is given")
	}
	return notes
}
