package mix_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
)

func pointer[T any](v T) *T { return &v }

// lot is a lot by its 1000-unit weight in grams.
func lot(code string, thousandG, purity, germination float64) mix.Lot {
	return mix.Lot{
		Draw:       mix.Draw{Code: code, Quality: seed.Quality{PurityPercent: purity, GerminationPercent: germination}},
		UnitsPerKg: 1e6 / thousandG,
	}
}

// twoLots is an illustrative recipe: 3.00 m, 45 mL, a tub of 160 L, 34.9 row-km; lot A
// of 12.00 g, 92 % pure, 34 % germinating at 30 live seeds a placement, lot B of 2.10 g,
// 95 and 51 %, at 20. Its figures were worked out by hand, to the digits given below.
func twoLots() mix.Recipe {
	return mix.Recipe{
		RowKm: 34.9, PlacementSpacingM: 3, PlacementVolumeML: 45, TubL: 160,
		Medium: mix.Medium{BulkDensityKgPerM3: 90},
		Species: []mix.Species{
			{Name: "A", EmergenceFraction: 0.05, LiveSeedsPerPlacement: pointer(30.0), Lots: []mix.Lot{lot("A", 12, 92, 34)}},
			{Name: "B", EmergenceFraction: 0.05, LiveSeedsPerPlacement: pointer(20.0), Lots: []mix.Lot{lot("B", 2.1, 95, 51)}},
		},
	}
}

func madeUp(t testing.TB, r mix.Recipe) mix.Mix {
	t.Helper()
	m, err := mix.MakeUp(r)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// near compares a figure with one that is known to so much.
func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, not %v", what, got, want)
	}
}

func TestTheIllustrativeMix(t *testing.T) {
	m := madeUp(t, twoLots())
	a, b := m.Species[0].Lots[0], m.Species[1].Lots[0]
	near(t, "placements per row-km", m.PlacementsPerKm, 333.3, 0.05)
	near(t, "mix per row-km", m.MixLPerKm, 15, 1e-12)
	near(t, "mix", m.MixL, 523.5, 1e-9)
	near(t, "live seeds per row-km", m.LiveSeedsPerKm, 50*333.3333, 1)
	near(t, "live per kg of A", a.LivePerKg, 26_070, 5)
	near(t, "live per kg of B", b.LivePerKg, 230_700, 50)
	near(t, "A per row-km", a.KgPerKm, 0.384, 5e-4)
	near(t, "B per row-km", b.KgPerKm, 0.0289, 5e-5)
	near(t, "A in all", a.Kg, 13.39, 5e-3)
	near(t, "B in all", b.Kg, 1.01, 5e-3)
	near(t, "filled", m.ExpectedFilledFraction, 1-math.Exp(-2.5), 1e-12)
}

func TestTheIllustrativeMixFillsThreeTubsAndAPart(t *testing.T) {
	m := madeUp(t, twoLots())
	if len(m.Batches) != 4 {
		t.Fatalf("%d tubs", len(m.Batches))
	}
	full, part := m.Batches[0], m.Batches[3]
	if full.Lots[0] != (mix.Weighing{Code: "A", Grams: 4092}) || full.Lots[1] != (mix.Weighing{Code: "B", Grams: 308}) {
		t.Errorf("a full tub takes %+v", full.Lots)
	}
	near(t, "a full tub lasts", full.RowKm, 10.67, 5e-3)
	near(t, "the part tub", part.MixL, 43.5, 1e-9)
	near(t, "the part tub lasts", part.RowKm, 2.9, 1e-9)
	if got := m.FullTub().Lots; got[0].Grams != 4092 || got[1].Grams != 308 {
		t.Errorf("a full tub on its own takes %+v", got)
	}
}

// A lot that fell from 27 to 9 % takes three times the seed.
func TestARunDownLotTakesThreeTimesTheSeed(t *testing.T) {
	r := twoLots()
	r.RowKm = 35
	r.Species[0].Lots[0] = lot("A", 11.8, 91, 9)
	r.Species[0].Lots[0].AvailableKg = pointer(22.0)
	now := madeUp(t, r).Species[0].Lots[0]
	near(t, "per row-km at 9 %", now.KgPerKm, 1.441, 5e-4)
	near(t, "in all at 9 %", now.Kg, 50.4, 0.05)
	near(t, "short", now.ShortKg, now.Kg-22, 1e-12)
	r.Species[0].Lots[0].GerminationPercent = 27
	before := madeUp(t, r).Species[0].Lots[0]
	near(t, "per row-km at 27 %", before.KgPerKm, 0.480, 5e-4)
	near(t, "in all at 27 %", before.Kg, 16.8, 0.05)
	near(t, "short before", before.ShortKg, 0, 0)
}

func TestSpareAndSharesAndHardSeed(t *testing.T) {
	r := twoLots()
	r.SparePercent = 10
	r.Species = r.Species[:1]
	r.Species[0].Lots = []mix.Lot{lot("A1", 12, 92, 34), lot("A2", 12, 92, 17)}
	m := madeUp(t, r)
	near(t, "mix with spare", m.MixL, 523.5*1.1, 1e-9)
	near(t, "placements without", m.Placements, 34_900/3.0, 1e-9)
	near(t, "half the germination, twice the seed", m.Species[0].Lots[1].Kg/m.Species[0].Lots[0].Kg, 2, 1e-12)

	r.Species[0].Lots[0].ShareFraction, r.Species[0].Lots[1].ShareFraction = pointer(0.75), pointer(0.25)
	m = madeUp(t, r)
	near(t, "three quarters and one", m.Species[0].Lots[1].Kg/m.Species[0].Lots[0].Kg, 2.0/3, 1e-12)

	r.Species[0].Lots[1].HardPercent = 17
	if uncounted := madeUp(t, r); uncounted.Species[0].Lots[1].Kg != m.Species[0].Lots[1].Kg {
		t.Error("hard seed counts unasked")
	}
	r.Species[0].Lots[1].CountHard = true
	near(t, "hard seed counted", madeUp(t, r).Species[0].Lots[1].Kg/m.Species[0].Lots[1].Kg, 0.5, 1e-12)
}

func TestATargetGivesTheLiveSeeds(t *testing.T) {
	r := twoLots()
	r.Species = r.Species[:1]
	r.Species[0].LiveSeedsPerPlacement, r.Species[0].TargetFilledFraction = nil, pointer(0.95)
	m := madeUp(t, r)
	near(t, "live seeds for 95 % at 5 %", m.Species[0].LiveSeedsPerPlacement, 59.91, 5e-3)
	near(t, "filled", m.ExpectedFilledFraction, 0.95, 1e-12)
}

func TestMediumFillsUpBesideTheSeed(t *testing.T) {
	r := twoLots()
	r.Species[0].Lots[0].BulkDensityKgPerL = pointer(0.15)
	r.Medium.BagL, r.Medium.CostPerBag = pointer(100.0), pointer(money.MustFactor("38.00"))
	m := madeUp(t, r)
	near(t, "seed", m.SeedL, 13.389/0.15, 0.005)
	near(t, "medium", m.MediumL, 523.5-m.SeedL, 1e-9)
	near(t, "medium, kg", m.MediumKg, m.MediumL*0.09, 1e-9)
	if *m.MediumBags != 5 || m.MediumCost.String() != "190.00" {
		t.Errorf("%d bags at %v", *m.MediumBags, m.MediumCost)
	}
	r.SeedFillsVoidsFraction = 1
	m = madeUp(t, r)
	near(t, "medium where seed lies in its voids", m.MediumL, 523.5, 1e-9)
	if *m.MediumBags != 6 {
		t.Errorf("%d bags", *m.MediumBags)
	}
}

func TestWholeBagsAndWholeTubsAreNotRoundedUpForBinaryDust(t *testing.T) {
	r, tenth := twoLots(), 0.1
	r.RowKm = tenth + 2*tenth // 0.30000000000000004, so a hair over 4.5 L
	r.Medium.BagL, r.TubL = pointer(0.5), 1.5
	m := madeUp(t, r)
	if m.MixL <= 4.5 || *m.MediumBags != 9 || len(m.Batches) != 3 {
		t.Errorf("%v L in %d bags, %d tubs", m.MixL, *m.MediumBags, len(m.Batches))
	}
}

func TestCostIsOfWhatIsWeighed(t *testing.T) {
	r := twoLots()
	r.Species[0].Lots[0].CostPerKg = pointer(money.MustFactor("48"))
	m := madeUp(t, r)
	if got := m.Species[0].Lots[0].Cost.String(); got != "642.67" { // 13.389 kg x 48 = 642.672
		t.Errorf("lot A costs %s", got)
	}
	if m.Species[1].Lots[0].Cost != nil || m.Cost.String() != "642.67" {
		t.Errorf("lot B costs %v, the mix %v", m.Species[1].Lots[0].Cost, m.Cost)
	}
	if len(m.Notes) != 4 { // two lots without a density, one lot and the medium without a cost
		t.Errorf("notes %q", m.Notes)
	}
	r.ScaleStepG = pointer(5.0)
	if got := madeUp(t, r).Species[0].Lots[0].Cost.String(); got != "642.72" { // 13.390 kg
		t.Errorf("on a scale of 5 g lot A costs %s", got)
	}
	if nothing := madeUp(t, twoLots()); nothing.Cost != nil || len(nothing.Notes) != 2 {
		t.Errorf("without any cost the mix costs %v, with the notes %q", nothing.Cost, nothing.Notes)
	}
}

// Thirds typed to seven places are shares of the whole; to five they are not.
func TestSharesMayMissTheWholeByAMillionth(t *testing.T) {
	for share, taken := range map[float64]bool{0.3333333: true, 0.33333: false, 0.33334: false} {
		r := twoLots()
		r.Species[0].Lots = []mix.Lot{lot("A1", 12, 92, 34), lot("A2", 12, 92, 34), lot("A3", 12, 92, 34)}
		for i := range r.Species[0].Lots {
			r.Species[0].Lots[i].ShareFraction = &share
		}
		m, err := mix.MakeUp(r)
		if (err == nil) != taken {
			t.Fatalf("three shares of %v: %v", share, err)
		}
		if taken {
			near(t, "a third", m.Species[0].Lots[0].Kg, 13.388747/3, 1e-6)
		}
	}
}

// A lot of which the scale can weigh next to nothing says so.
func TestACoarseScaleIsNoted(t *testing.T) {
	r := twoLots()
	r.RowKm, r.ScaleStepG = 0.2, pointer(20.0) // lot B: 5.8 g
	m := madeUp(t, r)
	if got := m.Species[1].Lots[0].WeighedKg; got != 0 || !strings.Contains(strings.Join(m.Notes, "\n"), "lot B is so little") {
		t.Errorf("%v kg weighed, notes %q", got, m.Notes)
	}
}

// Every test at the end of its interval: 34 % on 400 seeds is 29.4 to 38.9 % (Clopper
// and Pearson), so 30 + 20 live become 25.9 + 20 and 34.3 + 20.
func TestTestsCarryTheirUncertaintyIntoTheFilledShare(t *testing.T) {
	r := twoLots()
	if m := madeUp(t, r); m.ExpectedFilledLowFraction != nil {
		t.Error("limits without a test")
	}
	r.Species[0].Lots[0].SeedsTested = pointer(400)
	m := madeUp(t, r)
	near(t, "low", *m.ExpectedFilledLowFraction, 1-math.Exp(-0.05*(30*29.366216/34+20)), 1e-8)
	near(t, "high", *m.ExpectedFilledHighFraction, 1-math.Exp(-0.05*(30*38.872604/34+20)), 1e-8)
	r.Species[0].Lots[0].SeedsTested = pointer(100)
	if wider := madeUp(t, r); *wider.ExpectedFilledLowFraction >= *m.ExpectedFilledLowFraction {
		t.Error("fewer seeds tested do not widen the limits")
	}
}

func TestTheWorkingHoldsTheFiguresShown(t *testing.T) {
	m := madeUp(t, twoLots())
	var shown string
	for _, step := range m.Working() {
		shown += fmt.Sprintf("%s = %s %s\n", step.Step, step.Value, step.Unit)
	}
	for _, want := range []string{"mix = 523.5 L\n", "A, weighed = 13.389 kg\n", "A, live seed = 26\u2009067 live seeds per kg\n", "tubs = 4 tubs\n", "left out = lot A is taken to fill no volume of its own: no bulk density is given"} {
		if !strings.Contains(shown, want) {
			t.Errorf("no %q in\n%s", want, shown)
		}
	}
}

func TestMixRefusals(t *testing.T) {
	for _, c := range []struct {
		field, says string // says may be empty: any sentence
		spoil       func(*mix.Recipe)
	}{
		{"row_km", "row-km is 0, enter a figure from 0.001 to 100000", func(r *mix.Recipe) { r.RowKm = 0 }},
		{"row_km", "", func(r *mix.Recipe) { r.RowKm = math.NaN() }},
		{"placement_spacing_m", "", func(r *mix.Recipe) { r.PlacementSpacingM = -3 }},
		{"placement_volume_ml", "", func(r *mix.Recipe) { r.PlacementVolumeML = math.Inf(1) }},
		{"tub_l", "", func(r *mix.Recipe) { r.TubL = 0 }},
		{"tub_l", "the mix takes 10470 tubs of 0.05 L with 2 lots each: enter a larger tub or fewer row-km", func(r *mix.Recipe) { r.TubL = 0.05 }},
		{"tub_l", "", func(r *mix.Recipe) { r.RowKm, r.TubL = 100_000, 0.001 }},
		{"spare_percent", "", func(r *mix.Recipe) { r.SparePercent = -1 }},
		{"seed_fills_voids_fraction", "", func(r *mix.Recipe) { r.SeedFillsVoidsFraction = 1.1 }},
		{"scale_step_g", "", func(r *mix.Recipe) { r.ScaleStepG = pointer(0.0) }},
		{"medium.bulk_density_kg_per_m3", "", func(r *mix.Recipe) { r.Medium.BulkDensityKgPerM3 = 0 }},
		{"medium.bag_l", "a bag has a cost but no litres, enter bag_l too", func(r *mix.Recipe) { r.Medium.CostPerBag = pointer(money.Whole(38)) }},
		{"medium.cost_per_bag", "", func(r *mix.Recipe) { r.Medium.CostPerBag = pointer(money.Whole(-1)) }},
		{"species", "there are 0 species, enter from 1 to 40", func(r *mix.Recipe) { r.Species = nil }},
		{"species[1].emergence_fraction", "", func(r *mix.Recipe) { r.Species[1].EmergenceFraction = 5 }},
		{"species[1].live_seeds_per_placement", "", func(r *mix.Recipe) { r.Species[1].LiveSeedsPerPlacement = nil }},
		{"species[1].target_filled_fraction", "", func(r *mix.Recipe) { r.Species[1].TargetFilledFraction = pointer(0.9) }},
		{"species[1].target_filled_fraction", "a target stands for a single species, enter live_seeds_per_placement for each", func(r *mix.Recipe) {
			r.Species[1].LiveSeedsPerPlacement, r.Species[1].TargetFilledFraction = nil, pointer(0.9)
		}},
		{"species[0].lots", "there are 0 lots of A, enter from 1 to 40", func(r *mix.Recipe) { r.Species[0].Lots = nil }},
		{"species[0].lots[0].purity_percent", "purity is 140 %, enter a figure above 0 and up to 100", func(r *mix.Recipe) { r.Species[0].Lots[0].PurityPercent = 140 }},
		{"species[0].lots[0].germination_percent", "lot A has no live seed: choose another lot", func(r *mix.Recipe) { r.Species[0].Lots[0].GerminationPercent = 0 }},
		{"species[0].lots[0].germination_percent", "", func(r *mix.Recipe) { r.Species[0].Lots[0].GerminationPercent = -1 }},
		{"species[0].lots[0].hard_percent", "", func(r *mix.Recipe) { r.Species[0].Lots[0].HardPercent = 70 }},
		{"species[0].lots[0].units_per_kg", "", func(r *mix.Recipe) { r.Species[0].Lots[0].UnitsPerKg = 0 }},
		{"species[0].lots[0].units_per_kg", "lot A would take over 1000000 kg: correct its units per kg, or choose another lot", func(r *mix.Recipe) { r.Species[0].Lots[0].UnitsPerKg = 1e-300 }},
		{"species[0].lots[0].bulk_density_kg_per_l", "", func(r *mix.Recipe) { r.Species[0].Lots[0].BulkDensityKgPerL = pointer(0.0) }},
		{"species[0].lots[0].seeds_tested", "", func(r *mix.Recipe) { r.Species[0].Lots[0].SeedsTested = pointer(0) }},
		{"species[0].lots[0].available_kg", "", func(r *mix.Recipe) { r.Species[0].Lots[0].AvailableKg = pointer(-1.0) }},
		{"species[0].lots[0].cost_per_kg", "", func(r *mix.Recipe) { r.Species[0].Lots[0].CostPerKg = pointer(money.MustFactor("-0.01")) }},
		{"species[0].lots[0].code", "", func(r *mix.Recipe) { r.Species[0].Lots[0].Code = "" }},
		{"species[1].lots[0].code", "lot A is named twice, name each lot once", func(r *mix.Recipe) { r.Species[1].Lots[0].Code = "A" }},
		{"species[0].lots[0].share_fraction", "", func(r *mix.Recipe) { r.Species[0].Lots[0].ShareFraction = pointer(0.0) }},
		{"species[0].lots", "the shares of A make 0.5, not 1: correct a share, or leave all out for equal shares", func(r *mix.Recipe) { r.Species[0].Lots[0].ShareFraction = pointer(0.5) }},
		{"species[0].lots[1].share_fraction", "lot A2 has no share, while others of A have: enter every share, or none for equal shares", func(r *mix.Recipe) {
			r.Species[0].Lots[0].ShareFraction = pointer(0.5)
			r.Species[0].Lots = append(r.Species[0].Lots, lot("A2", 12, 92, 34))
		}},
		{"placement_volume_ml", "the seed alone takes 57.54 mL of a placement of 45 mL: enter a larger placement, fewer live seeds, or a lot with more live seed to the kilogram", func(r *mix.Recipe) {
			r.Species[0].Lots[0].BulkDensityKgPerL = pointer(0.02)
		}},
	} {
		r := twoLots()
		c.spoil(&r)
		_, err := mix.MakeUp(r)
		if says, refused := fault.Fields(err)[c.field]; !refused || c.says != "" && says != c.says {
			t.Errorf("%s: %q of %v", c.field, says, err)
		}
	}
}

// A mix of 8 species with 6 lots each must answer while a finger is still on the key.
func BenchmarkMixOfEightSpecies(b *testing.B) {
	r := twoLots()
	r.Species = nil
	for i := range 8 {
		s := mix.Species{Name: fmt.Sprint("species ", i), EmergenceFraction: 0.05, LiveSeedsPerPlacement: pointer(5.0)}
		for k := range 6 {
			s.Lots = append(s.Lots, lot(fmt.Sprintf("%d-%d", i, k), 2, 90, 40))
			s.Lots[k].SeedsTested, s.Lots[k].BulkDensityKgPerL = pointer(400), pointer(0.3)
			s.Lots[k].CostPerKg, s.Lots[k].AvailableKg = pointer(money.Whole(50)), pointer(10.0)
		}
		r.Species = append(r.Species, s)
	}
	for b.Loop() {
		if _, err := mix.MakeUp(r); err != nil {
			b.Fatal(err)
		}
	}
}
