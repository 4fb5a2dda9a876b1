package mix_test

import (
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/mix"
)

// What the lots allow can be weighed from them; a scale step and a litre more cannot.
func TestLawTheShareAtHandIsTheLargestThatTheLotsGive(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		at := map[string]float64{}
		for i := range r.Species {
			for k := range r.Species[i].Lots {
				kg := m.Species[i].Lots[k].Kg * rapid.Float64Range(0, 1.5).Draw(t, "at hand")
				r.Species[i].Lots[k].AvailableKg, at[r.Species[i].Lots[k].Code] = &kg, kg
			}
		}
		whole, err := mix.MakeUp(r)
		if err != nil {
			t.Fatal(err)
		}
		share := whole.ShareAtHand()
		if share < 0 || share > 1 {
			t.Fatalf("a share of %v", share)
		}
		const leastRowKm = 0.001
		fits := func(share float64) bool {
			part := r
			part.RowKm *= share
			if part.RowKm < leastRowKm {
				return true // no mix to make
			}
			m, err := mix.MakeUp(part)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range m.Species {
				for _, l := range s.Lots {
					if l.WeighedKg > at[l.Code]+1e-6 {
						return false
					}
				}
			}
			return true
		}
		if !fits(share) {
			t.Fatalf("%v of the mix takes more than the lots hold", share)
		}
		more := min(1, share+1.01*stepShare(whole, *r.ScaleStepG))
		if share < 1 && r.RowKm*more > leastRowKm && fits(more) {
			t.Fatalf("more than %v of the mix can be weighed", share)
		}
	})
}

// stepShare is the share of the mix that takes a scale step more of every lot.
func stepShare(m mix.Mix, stepG float64) (share float64) {
	for _, s := range m.Species {
		for _, l := range s.Lots {
			share = max(share, stepG/1000/l.Kg)
		}
	}
	return share
}
