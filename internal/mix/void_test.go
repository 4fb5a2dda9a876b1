package mix_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
)

// 160 L to the line with 4 kg of loose seed at 0.2 kg to the litre: 20 L of its own. 150 L of
// medium leave it 10 L, so half of it sits between the grains.
func TestTheFirstTubTellsTheVoids(t *testing.T) {
	tub := mix.FirstTub{TubL: 160, SeedL: 20, MediumL: 150}
	share, err := tub.Voids()
	if err != nil || share != 0.5 {
		t.Errorf("%v, %v", share, err)
	}
	if steps := tub.Working(); len(steps) != 3 {
		t.Errorf("%d steps", len(steps))
	}
	for _, wrong := range []mix.FirstTub{{160, 20, 161}, {160, 20, 139}, {160, 0, 150}, {160, 20, math.NaN()}, {0, 20, 0}} {
		if _, err := wrong.Voids(); fault.KindOf(err) != fault.Refused || wrong.Working() != nil {
			t.Errorf("%+v: %v", wrong, err)
		}
	}
}

// A tub made by the recipe gives the recipe's own share back.
func TestLawAFullTubGivesItsVoidsBack(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		full := m.FullTub()
		seedL := m.SeedL * r.TubL / m.MixL
		share, err := mix.FirstTub{TubL: r.TubL, SeedL: seedL, MediumL: full.MediumL}.Voids()
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(share-r.SeedFillsVoidsFraction) > 1e-6*r.TubL/seedL {
			t.Fatalf("%v of the seed's volume, not %v", share, r.SeedFillsVoidsFraction)
		}
	})
}
