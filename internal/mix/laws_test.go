package mix_test

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
)

// anyRecipe draws a recipe that a contractor could have.
func anyRecipe(t *rapid.T) mix.Recipe {
	r := mix.Recipe{
		RowKm:             rapid.Float64Range(0.1, 60).Draw(t, "row-km"),
		PlacementSpacingM: rapid.Float64Range(1, 5).Draw(t, "spacing"),
		PlacementVolumeML: rapid.Float64Range(40, 100).Draw(t, "mL"),
		TubL:              rapid.Float64Range(20, 200).Draw(t, "tub"),
		SparePercent:      rapid.Float64Range(0, 20).Draw(t, "spare"),
		Medium:            mix.Medium{BulkDensityKgPerM3: rapid.Float64Range(64, 160).Draw(t, "medium density")},
	}
	r.SeedFillsVoidsFraction = rapid.Float64Range(0, 1).Draw(t, "voids")
	r.ScaleStepG = pointer(rapid.SampledFrom([]float64{0.1, 0.5, 1, 2, 5, 20}).Draw(t, "scale step"))
	for i := range rapid.IntRange(1, 3).Draw(t, "species") {
		r.Species = append(r.Species, anySpecies(t, fmt.Sprint("S", i)))
	}
	return r
}

func anySpecies(t *rapid.T, name string) mix.Species {
	s := mix.Species{
		Name:                  name,
		EmergenceFraction:     rapid.Float64Range(0.01, 0.3).Draw(t, "emergence"),
		LiveSeedsPerPlacement: pointer(rapid.Float64Range(1, 60).Draw(t, "live")),
	}
	lots := rapid.IntRange(1, 3).Draw(t, "lots")
	for k := range lots {
		l := mix.Lot{UnitsPerKg: rapid.Float64Range(1e6, 5e6).Draw(t, "units per kg")}
		l.Code = fmt.Sprintf("%s-%d", name, k)
		l.Quality = seed.Quality{
			PurityPercent: rapid.Float64Range(50, 100).Draw(t, "purity"), GerminationPercent: rapid.Float64Range(5, 80).Draw(t, "germination"),
			HardPercent: rapid.Float64Range(0, 20).Draw(t, "hard"), CountHard: rapid.Bool().Draw(t, "count hard"),
		}
		l.BulkDensityKgPerL = pointer(rapid.Float64Range(0.3, 1).Draw(t, "bulk density"))
		if rapid.Bool().Draw(t, "priced") {
			l.CostPerKg = pointer(money.FactorOf(rapid.Float64Range(0, 300).Draw(t, "cost"), 2))
		}
		s.Lots = append(s.Lots, l)
	}
	return s
}

// lawful checks a law on many recipes.
func lawful(t *testing.T, law func(*rapid.T, mix.Recipe, mix.Mix)) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		r := anyRecipe(t)
		m, err := mix.MakeUp(r)
		if err != nil {
			t.Fatal(err)
		}
		law(t, r, m)
	})
}

func same(t *rapid.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want))) {
		t.Fatalf("%s: %v, not %v", what, got, want)
	}
}

func TestLawTubsAddUpToTheLotsWithinHalfAScaleStep(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		at := 0
		for _, s := range m.Species {
			for _, l := range s.Lots {
				sum := 0.0
				for _, b := range m.Batches {
					g := b.Lots[at].Grams
					if steps := g / *r.ScaleStepG; b.Lots[at].Code != l.Code || math.Abs(steps-math.Round(steps)) > 1e-6 {
						t.Fatalf("tub %d: %+v is not whole steps of %s", b.Number, b.Lots[at], l.Code)
					}
					if planned := 1000 * l.Kg * b.MixL / m.MixL; !(math.Abs(g-planned) <= *r.ScaleStepG*(1+1e-6)) {
						t.Fatalf("tub %d takes %v g of %s, planned %v", b.Number, g, l.Code, planned)
					}
					sum += g
				}
				if !(math.Abs(sum-1000*l.Kg) <= *r.ScaleStepG/2*(1+1e-6)) {
					t.Fatalf("the tubs take %v g of %s, the mix %v", sum, l.Code, 1000*l.Kg)
				}
				same(t, "weighed", 1000*l.WeighedKg, sum)
				at++
			}
		}
	})
}

func TestLawTubsAddUpToTheMix(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		litres, medium, rowKm := 0.0, 0.0, 0.0
		for i, b := range m.Batches {
			if b.Number != i+1 || b.MixL <= 0 || i+1 < len(m.Batches) && math.Abs(b.MixL-r.TubL) > 1e-9 || b.MixL > r.TubL*(1+1e-8) {
				t.Fatalf("tub %d of %d: %+v", i+1, len(m.Batches), b)
			}
			litres, medium, rowKm = litres+b.MixL, medium+b.MediumL, rowKm+b.RowKm
		}
		same(t, "litres of mix", litres, m.MixL)
		same(t, "litres of medium", medium, m.MediumL)
		same(t, "row-km", rowKm, r.RowKm*(1+r.SparePercent/100))
		same(t, "mix is medium and what seed adds", m.MediumL+m.SeedL*(1-r.SeedFillsVoidsFraction), m.MixL)
	})
}

// What is put in, counted lot by lot from the certificate, is what was asked for.
func TestLawLiveSeedOutIsLiveSeedAskedFor(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		placements := r.RowKm * (1 + r.SparePercent/100) * 1000 / r.PlacementSpacingM
		for i, s := range r.Species {
			live := 0.0
			for k, l := range s.Lots {
				alive := l.GerminationPercent
				if l.CountHard {
					alive += l.HardPercent
				}
				live += m.Species[i].Lots[k].Kg * l.UnitsPerKg * l.PurityPercent / 100 * alive / 100
			}
			same(t, "live seeds per placement", live/placements, *s.LiveSeedsPerPlacement)
		}
	})
}

func TestLawHalfTheSpacingDoublesThePlacements(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		r.PlacementSpacingM /= 2
		twice, err := mix.MakeUp(r)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "placements", twice.Placements, 2*m.Placements)
		same(t, "mix", twice.MixL, 2*m.MixL)
		same(t, "seed", twice.Species[0].Lots[0].Kg, 2*m.Species[0].Lots[0].Kg)
		same(t, "filled", twice.ExpectedFilledFraction, m.ExpectedFilledFraction)
	})
}

func TestLawKilogramsGrowWithTheRowKm(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		times := rapid.Float64Range(0.1, 5).Draw(t, "times")
		r.RowKm *= times
		more, err := mix.MakeUp(r)
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range m.Species {
			for k, l := range s.Lots {
				same(t, "kg", more.Species[i].Lots[k].Kg, times*l.Kg)
				same(t, "kg per row-km", more.Species[i].Lots[k].KgPerKm, l.KgPerKm)
			}
		}
	})
}

func TestLawAnotherSpeciesLeavesTheFirstAlone(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		r.Species = append(r.Species[:len(r.Species):len(r.Species)], anySpecies(t, "added"))
		r.SeedFillsVoidsFraction = 1 // so that the added seed surely fits
		more, err := mix.MakeUp(r)
		if err != nil {
			t.Fatal(err)
		}
		for i, b := range m.Batches {
			for k, w := range b.Lots {
				if more.Batches[i].Lots[k] != w {
					t.Fatalf("tub %d: %+v became %+v", b.Number, w, more.Batches[i].Lots[k])
				}
			}
		}
		if more.ExpectedFilledFraction < m.ExpectedFilledFraction {
			t.Fatal("a species more fills fewer placements")
		}
	})
}

// The cost of each lot is what is weighed times its price, to the cent, in exact
// fractions; the whole is their sum.
func TestLawCostsAddUpExactly(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		sum := money.Cents(0)
		for i, s := range m.Species {
			for k, l := range s.Lots {
				price := r.Species[i].Lots[k].CostPerKg
				if price == nil {
					continue
				}
				steps := new(big.Rat).SetInt64(int64(math.Round(l.WeighedKg * 1000 / *r.ScaleStepG)))
				step, _ := new(big.Rat).SetString(fmt.Sprintf("%g", *r.ScaleStepG/10))
				cents, _ := new(big.Rat).SetString(price.String())
				cents.Mul(cents, steps).Mul(cents, step) // $/kg x g / 10 = cents
				if l.Cost.String() != new(big.Rat).Quo(cents, big.NewRat(100, 1)).FloatString(2) {
					t.Fatalf("%v kg at %s costs %s, not %s cents", l.WeighedKg, price, l.Cost, cents.FloatString(3))
				}
				sum += *l.Cost
			}
		}
		if m.Cost != nil && *m.Cost != sum {
			t.Fatalf("the lots cost %s, the mix %s", sum, m.Cost)
		}
	})
}

// After a catch the litres follow the meter, the live seeds of a placement do not.
func TestLawAfterACatchLiveSeedsStayAsMeant(t *testing.T) {
	lawful(t, func(t *rapid.T, r mix.Recipe, m mix.Mix) {
		times := rapid.Float64Range(0.8, 1.5).Draw(t, "times")
		r.SeedFillsVoidsFraction = 1
		x, err := mix.AfterCatch(r, mix.Metering{PlacementVolumeML: r.PlacementVolumeML * times})
		if err != nil {
			t.Fatal(err)
		}
		same(t, "litres per row-km", x.Again.MixLPerKm, m.MixLPerKm*times)
		for i, s := range m.Species {
			for k, l := range s.Lots {
				same(t, "kg per row-km", x.Again.Species[i].Lots[k].KgPerKm, l.KgPerKm)
			}
		}
		same(t, "the mix made ends", x.AsMade.RowKm*times, r.RowKm*(1+r.SparePercent/100))
		same(t, "live seeds from it", x.AsMade.LiveSeedsPerPlacement*m.PlacementsPerKm, m.LiveSeedsPerKm*times)
	})
}
