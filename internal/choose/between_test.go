package choose

import (
	"testing"

	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
)

const grass = "Puccinellia ciliata"

// bagged is a lot of grass: its purity and germination in %, of 400 seeds, with hard seed.
type bagged struct {
	code, cost             string
	purity                 float64
	normal, hard, kgOnHand int
}

// between is a job without rows that sows a rate of grass over the square's gross hectares.
func between(t *testing.T, rate job.UnderstoreySpecies, lots ...bagged) job.Facts {
	t.Helper()
	f := job.Facts{Today: "2026-07-20", Job: job.Job{ID: 7, Code: "J-07", Name: "Square", WindowFrom: "2026-08-10"}, Shelf: job.Shelf{Tests: map[int64][]seed.Test{}}}
	if err := job.ReadBoundary(&f.Paddock, "square.geojson", []byte(square), "2026-07-01"); err != nil {
		t.Fatal(err)
	}
	for i, l := range lots {
		id := int64(i + 1)
		f.Shelf.Lots = append(f.Shelf.Lots, seed.Lot{ID: id, Code: l.code, Species: grass, CommonName: "puccinellia", Layer: seed.Understorey, PurityPercent: l.purity,
			UnitsPerKg: 2_000_000, CostPerKg: money.MustFactor(l.cost), RetestMonths: 12})
		f.Shelf.Tests[id] = []seed.Test{{ID: id, LotID: id, TestedOn: "2026-02-10", Replicates: []seed.Replicate{{Seeds: 400, Normal: l.normal, Abnormal: new(0), Hard: new(l.hard), Fresh: new(0), Dead: new(400 - l.normal - l.hard)}}}}
		f.Shelf.Balances = append(f.Shelf.Balances, job.Balance{Kind: job.LotStock, ID: id, Place: job.Shed, OnHand: int64(l.kgOnHand) * 1000})
	}
	rate.Species = grass
	f.Understorey = &job.Understorey{JobID: 7, HectaresOf: job.GrossHa, Species: []job.UnderstoreySpecies{rate}}
	return f
}

func oneBetween(t *testing.T, f job.Facts) Need {
	t.Helper()
	a, err := ForUnderstorey(f)
	if err != nil || len(a.Needs) != 1 {
		t.Fatalf("%d needs, %v", len(a.Needs), err)
	}
	return a.Needs[0]
}

// A holds 0.96 x 0.50 of live seed at 9.60, 20.00 for a live kilogram; B 0.90 x 0.80 at
// 10.80, 15.00; C is the cheapest by the bag at 5.00 and dear by what lives, 0.80 x 0.20,
// 31.25. By the bag C comes first, then A.
func TestTheUnderstoreyTakesTheCheapestOfWhatItsRateCounts(t *testing.T) {
	lots := []bagged{{"A", "9.60", 96, 200, 0, 1000}, {"B", "10.80", 90, 320, 0, 40}, {"C", "5.00", 80, 80, 120, 70}, {"D", "1", 96, 0, 0, 500}}
	live := between(t, job.UnderstoreySpecies{RateKgPerHa: 2, RateIsLive: true}, lots...)
	n := oneBetween(t, live)
	worked, err := live.BetweenWanted()
	if err != nil {
		t.Fatal(err)
	}
	wanted := worked[0].Grams
	if n.codes() != "A B" || n.Of != LiveGrams {
		t.Fatalf("by live seed %q are taken, in %s", n.codes(), n.Of)
	}
	near(t, "B, all that is free", n.Takes[1].Kg, 39.998, 1e-6)
	near(t, "A", n.Takes[0].Kg, (wanted/1000-39.998*0.72)/0.48, 1e-6)
	near(t, "the cost", float64(n.Takes[1].Cost), 39.998*1080, 1)
	if len(n.Ruled) != 1 || n.Ruled[0].Why != "no live seed" {
		t.Errorf("ruled out: %+v", n.Ruled)
	}

	bag := between(t, job.UnderstoreySpecies{RateKgPerHa: 2}, lots...)
	n = oneBetween(t, bag)
	if n.codes() != "C A" && n.codes() != "A C" || n.Of != BaggedGrams {
		t.Fatalf("by the bag %q are taken, in %s", n.codes(), n.Of)
	}
	hard := between(t, job.UnderstoreySpecies{RateKgPerHa: 0.5, RateIsLive: true, CountHard: true}, lots...)
	if n = oneBetween(t, hard); n.codes() != "C" { // 0.80 x 0.50 at 5.00: 12.50 for a live kilogram
		t.Errorf("with hard seed counted %q is taken", n.codes())
	}
}

// What is taken makes the rate again, by the understorey's own sum.
func TestAnUnderstoreyAsProposedHoldsTheRate(t *testing.T) {
	f := between(t, job.UnderstoreySpecies{RateKgPerHa: 2, RateIsLive: true}, bagged{"A", "9.60", 96, 200, 0, 1000}, bagged{"B", "10.80", 90, 320, 0, 40})
	n := oneBetween(t, f)
	for _, take := range n.Takes {
		s := &f.Understorey.Species[0]
		s.LotIDs, s.SharePercents = append(s.LotIDs, take.Lot.ID), append(s.SharePercents, take.SharePercent)
	}
	worked, err := f.WorkUnderstorey()
	if err != nil || len(worked.Short) > 0 || worked.Refusal != "" {
		t.Fatalf("%v, short %+v %s", err, worked.Short, worked.Refusal)
	}
	for i, lot := range worked.Species[0].Lots {
		near(t, lot.Code, lot.Kg, n.Takes[i].Kg, 0.001)
	}
}

func TestAnUnderstoreyThatIsShortSaysWhatToBuy(t *testing.T) {
	f := between(t, job.UnderstoreySpecies{RateKgPerHa: 2, RateIsLive: true}, bagged{"B", "10.80", 90, 320, 0, 40})
	wanted, _ := f.BetweenWanted()
	n := oneBetween(t, f)
	near(t, "short", n.ShortLive, wanted[0].Grams-39_998*0.72, 1)
	near(t, "to buy", n.Buy.Kg, n.ShortLive/720, 0.01)
	a, err := ForSeason([]job.Facts{f})
	if err != nil || len(a.For(7, seed.Understorey)) != 1 || len(a.For(7, seed.Shrub)) != 0 {
		t.Fatalf("%+v, %v", a.Needs, err)
	}
	if says, want := a.Says(), "Puccinellia is short of "+n.Amount(n.ShortLive)+": buy "; says[:len(want)] != want {
		t.Errorf("%q, want %q", says, want)
	}
	// what is in the drill is wanted no more
	f.DrillLoads = []job.DrillLoad{{Ha: 10, Lots: []mix.Ingredient{{LotID: 1, Grams: 10_000}}}}
	less, err := f.BetweenWanted()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "wanted after 10 kg are loaded", less[0].Grams, wanted[0].Grams-7_200, 1e-6)
	f.Understorey.HectaresOf = job.AlleyHa
	if _, err := ForUnderstorey(f); err == nil {
		t.Error("alleys of a job without rows pass")
	}
}
