package mix

import (
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Batch is one fill of the tub: weigh the lots in, then fill up with medium to MixL.
type Batch struct {
	Number  int        `json:"number"`
	MixL    float64    `json:"mix_l"`
	MediumL float64    `json:"medium_l"`
	RowKm   float64    `json:"row_km"` // that it lasts at the planned volume of a placement
	Lots    []Weighing `json:"lots"`
}

// Weighing is what one lot gives to a tub, in whole scale steps.
type Weighing struct {
	Code  string  `json:"code"`
	Grams float64 `json:"grams"`
}

// fillTubs divides the mix over full tubs and one part tub. Each tub gets what brings its
// lots nearest to the planned line, so no tub is off by more than a scale step and all
// together are off by no more than half a step.
func (m *Mix) fillTubs() error {
	count := m.tubs()
	if lots := m.lotCount(); count > mostTubs || count*lots > mostWeighed {
		return fault.Refuse("tub_l", "the mix takes %.0f tubs of %s L with %.0f lots each: enter a larger tub or fewer row-km", count, unit.Plain(m.recipe.TubL), lots)
	}
	for number := 1; number < int(count); number++ {
		from := float64(number-1) * m.recipe.TubL
		m.Batches = append(m.Batches, m.batch(number, from, from+m.recipe.TubL))
	}
	m.Batches = append(m.Batches, m.batch(int(count), (count-1)*m.recipe.TubL, m.MixL))
	return nil
}

// tubs counts the fills; a rest that is binary dust does not make a tub.
func (m Mix) tubs() float64 { return max(1, math.Ceil(m.MixL/m.recipe.TubL-1e-9)) }

func (m Mix) lotCount() (lots float64) {
	for _, s := range m.Species {
		lots += float64(len(s.Lots))
	}
	return lots
}

// batch is the stretch of the mix from one litre of it to another.
func (m Mix) batch(number int, fromL, toL float64) Batch {
	b := Batch{Number: number, MixL: toL - fromL, MediumL: m.MediumL * (toL - fromL) / m.MixL}
	b.RowKm = b.MixL / m.MixLPerKm
	for _, s := range m.Species {
		for _, l := range s.Lots {
			steps := m.steps(l.Kg*(toL/m.MixL)) - m.steps(l.Kg*(fromL/m.MixL))
			b.Lots = append(b.Lots, Weighing{l.Code, grams(steps, m.recipe.scaleStepG())})
		}
	}
	return b
}

// FullTub is one full fill of the tub on its own, whatever the mix adds up to; its
// grams are the whole scale steps nearest to the planned figure.
func (m Mix) FullTub() Batch { return m.batch(1, 0, m.recipe.TubL) }

// steps rounds a weight to whole scale steps.
func (m Mix) steps(kg float64) float64 { return math.Round(kg * 1000 / m.recipe.scaleStepG()) }

// grams turns whole scale steps into grams; a microgram is beyond any scale, and the
// rounding keeps binary dust off the sheet.
func grams(steps, stepG float64) float64 { return math.Round(steps*stepG*1e6) / 1e6 }

// weighed is the exact weight in kg of whole scale steps.
func weighed(steps, stepG float64) money.Factor {
	return money.Whole(int64(steps)).Times(money.FactorOf(stepG, 6)).Times(money.MustFactor("0.001"))
}
