package choose

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

var vermiculite = mix.Product{ID: 1, Name: "vermiculite", BulkDensityKgPerM3: 96}

const species = "Atriplex nummularia"

// stocked is a lot of 100 000 units to the pure kilogram, wholly pure, tested with 400 seeds,
// and how many kilograms of it there are.
type stocked struct {
	code, origin, cost string
	received           unit.Date
	kg                 float64
	normal             int
}

func shelfWith(lots ...stocked) job.Shelf {
	s := job.Shelf{Tests: map[int64][]seed.Test{}}
	for i, l := range lots {
		id := int64(i + 1)
		s.Lots = append(s.Lots, seed.Lot{ID: id, Code: l.code, Species: species, CommonName: "old man saltbush", Layer: seed.Shrub, Origin: l.origin,
			ReceivedOn: l.received, PurityPercent: 100, UnitsPerKg: 100_000, CostPerKg: money.MustFactor(l.cost), RetestMonths: 12})
		s.Tests[id] = []seed.Test{{ID: id, LotID: id, TestedOn: "2026-02-10", Replicates: []seed.Replicate{{Seeds: 400, Normal: l.normal}}}}
		s.Balances = append(s.Balances, job.Balance{Kind: job.LotStock, ID: id, Place: job.Shed, OnHand: int64(l.kg * 1000)})
	}
	return s
}

// square is a paddock of about 40 ha, and single rows 4 m apart over it.
const square = `{"type":"Polygon","coordinates":[[[140.1,-36.4],[140.107,-36.4],[140.107,-36.3943],[140.1,-36.3943],[140.1,-36.4]]]}`

// jobOn is a job on the shelf that wants a million live seeds for each million asked for.
func jobOn(t testing.TB, id int64, shelf job.Shelf, millions float64, limits job.LotLimits) job.Facts {
	t.Helper()
	f := job.Facts{Today: "2026-07-20", Job: job.Job{ID: id, Code: "J-0" + string(rune('0'+id)), WindowFrom: "2026-08-10"}, Shelf: shelf,
		Layout: &job.Layout{JobID: id, RowsPerBelt: 1, AlleyM: 4, HeadlandM: 10, NoGoMarginM: 10, SpacingM: 3}}
	if err := job.ReadBoundary(&f.Paddock, "square.geojson", []byte(square), "2026-07-01"); err != nil {
		t.Fatal(err)
	}
	laid, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	f.Recipe = &job.Recipe{JobID: id, Limits: limits, PlacementML: 45, TubL: 160, ScaleStepG: 1, Species: []job.RecipeSpecies{{Species: species, EmergencePercent: 5,
		LivePerPlacement: millions * 1e6 * 3 / laid.RowM}}}
	return f
}

func near(t *testing.T, what string, got, want, off float64) {
	t.Helper()
	if !(math.Abs(got-want) <= off) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

func one(t *testing.T, f job.Facts) Need {
	t.Helper()
	a, err := ForJob(f)
	if err != nil || len(a.Needs) != 1 {
		t.Fatalf("%d needs, %v", len(a.Needs), err)
	}
	n := a.Needs[0]
	shares, live := 0.0, n.ShortLive
	for _, take := range n.Takes {
		shares += take.SharePercent
		live += take.Live
	}
	if len(n.Takes) > 0 {
		near(t, "the sum of the shares", shares, 100, 1e-9)
	}
	near(t, "live seed taken and short", live, n.Live, 1)
	return n
}

// codes are the lots that a need takes, largest first.
func (n Need) codes() string {
	var codes []string
	for _, t := range n.Takes {
		codes = append(codes, t.Lot.Code)
	}
	return strings.Join(codes, " ")
}

// A and B hold 1 live seed for 1.2 and 1.5 thousandths of a cent; C is dearer.
func TestTheCheapestLotsWithinTheLimitsAreTaken(t *testing.T) {
	shelf := shelfWith(
		stocked{"A", "Lake plain", "48", "2026-02-01", 20, 160},     // 40 000 live per kg, 1.20 per 1000
		stocked{"B", "river flat", "30", "2025-03-01", 50.002, 80},  // 20 000, 1.50
		stocked{"C", "Lake shore", "96", "2026-01-01", 100, 240},    // 60 000, 1.60
		stocked{"D", "lake, untested now", "1", "2024-01-01", 9, 0}, // dead
	)
	for name, c := range map[string]struct {
		limits job.LotLimits
		takes  string
		first  float64 // kg of the first
	}{
		"cheapest":          {job.LotLimits{}, "A B", 20},                                                                                                  // 0.8 M of A, 0.2 M of B
		"least germination": {job.LotLimits{LeastGerminationPercent: 40}, "A C", 20},                                                                       // B has 20 %
		"largest share":     {job.LotLimits{LargestSharePercent: 40}, "A B C", 10},                                                                         // 0.4, 0.4, 0.2 M
		"origin":            {job.LotLimits{OriginContains: "LAKE"}, "A C", 20},                                                                            // in any case
		"oldest first":      {job.LotLimits{OldestFirst: true}, "B", 50},                                                                                   // received in March 2025
		"all together":      {job.LotLimits{LeastGerminationPercent: 40, LargestSharePercent: 50, OriginContains: "lake", OldestFirst: true}, "A C", 12.5}, // half each
		"dearest alone":     {job.LotLimits{LeastGerminationPercent: 60}, "C", 16.667},                                                                     // 1 M / 60 000
	} {
		n := one(t, jobOn(t, 1, shelf, 1, c.limits))
		if n.codes() != c.takes {
			t.Errorf("%s: takes %q, want %q", name, n.codes(), c.takes)
			continue
		}
		near(t, name+": the first", n.Takes[0].Kg, c.first, 0.005)
		if n.Buy != nil {
			t.Errorf("%s: something is to be bought: %+v", name, n.Buy)
		}
	}
}

func TestWhatIsShortIsSaidWithWhatToBuy(t *testing.T) {
	shelf := shelfWith(stocked{"A", "", "48", "2026-02-01", 10, 160}, stocked{"B", "", "30", "2026-02-01", 5, 80})
	shelf.Lots[1].HoldReason = "weevils"
	n := one(t, jobOn(t, 1, shelf, 1, job.LotLimits{}))
	near(t, "short", n.ShortLive, 600_000, 200)
	if n.Buy == nil || n.Buy.Like.Code != "A" {
		t.Fatalf("to buy: %+v", n.Buy)
	}
	near(t, "kg to buy", n.Buy.Kg, 15, 0.01)
	if len(n.Ruled) != 1 || n.Ruled[0].Why != "on hold: weevils" {
		t.Errorf("ruled out: %+v", n.Ruled)
	}
}

// Greedy, job by job, gives the first job lot A, which is cheaper; the second may use A
// alone and is short. All at once, the first takes B and nothing is short.
func TestTheSeasonFindsWhatGreedyMisses(t *testing.T) {
	shelf := shelfWith(stocked{"A", "river flat", "40", "2026-02-01", 25.004, 160}, stocked{"B", "hill", "60", "2026-02-01", 25.01, 160})
	first := jobOn(t, 1, shelf, 1, job.LotLimits{})
	second := jobOn(t, 2, shelf, 1, job.LotLimits{OriginContains: "flat"})

	greedy := one(t, first)
	left := shelf
	left.Balances = append([]job.Balance{}, shelf.Balances...)
	for _, take := range greedy.Takes {
		left.Balances[take.Lot.ID-1].OnHand -= int64(take.Kg * 1000)
	}
	second.Shelf = left
	if n := one(t, second); n.ShortLive < 900_000 {
		t.Fatalf("greedy is short of %v only: the case shows nothing", n.ShortLive)
	}

	second.Shelf = shelf
	a, err := ForSeason([]job.Facts{first, second})
	if err != nil {
		t.Fatal(err)
	}
	for i, code := range []string{"B", "A"} {
		if n := a.Needs[i]; n.codes() != code || n.ShortLive != 0 {
			t.Errorf("%s takes %q and is short of %v", n.Job.Code, n.codes(), n.ShortLive)
		}
	}
	if a.Cost != 250_000 { // 25 kg at 40 and 25 kg at 60
		t.Errorf("it costs %d cents", a.Cost)
	}
}

// Claims of the season's own jobs are theirs to allot; those of other jobs are not.
func TestSeedHeldBackElsewhereIsNotAllotted(t *testing.T) {
	shelf := shelfWith(stocked{"A", "", "40", "2026-02-01", 30, 160})
	shelf.Held = []job.Held{{JobID: 1, StockKind: job.LotStock, StockID: 1, Held: 20_000}, {JobID: 9, StockKind: job.LotStock, StockID: 1, Held: 10_000}}
	f := jobOn(t, 1, shelf, 1, job.LotLimits{})
	a, err := ForSeason([]job.Facts{f, {Job: job.Job{ID: 5, Code: "J-05"}}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "short", a.Needs[0].ShortLive, 200_000, 200)
	if len(a.Unknown) != 1 || a.Unknown[0].Code != "J-05" {
		t.Errorf("unknown: %+v", a.Unknown)
	}
	if other := one(t, jobOn(t, 2, shelf, 1, job.LotLimits{})); math.Abs(other.ShortLive-1_000_000) > 200 {
		t.Errorf("another job finds %v short of a million, though all is held back", other.ShortLive)
	}
}

// A lot whose cost is not entered never passes for the cheapest.
func TestAnUnknownCostIsNotCheap(t *testing.T) {
	shelf := shelfWith(stocked{"A", "", "0", "2026-02-01", 50, 160}, stocked{"B", "", "60", "2026-02-01", 50, 160}, stocked{"C", "", "90", "2026-02-01", 1, 160})
	if n := one(t, jobOn(t, 1, shelf, 1, job.LotLimits{})); n.codes() != "B" {
		t.Errorf("takes %q, want B", n.codes())
	}
}

// A proposal can be mixed: its shares make a recipe that nothing refuses.
func TestAProposalIsARecipeThatHolds(t *testing.T) {
	shelf := shelfWith(stocked{"A", "", "48", "2026-02-01", 7.3, 161}, stocked{"B", "", "30", "2025-03-01", 9.1, 83}, stocked{"C", "", "96", "2026-01-01", 100, 237})
	f := jobOn(t, 1, shelf, 1, job.LotLimits{})
	n := one(t, f)
	for _, take := range n.Takes {
		f.Recipe.Species[0].LotIDs = append(f.Recipe.Species[0].LotIDs, take.Lot.ID)
		f.Recipe.Species[0].SharePercents = append(f.Recipe.Species[0].SharePercents, take.SharePercent)
	}
	f.Shelf.Products = append(f.Shelf.Products, vermiculite)
	f.Recipe.ProductID = vermiculite.ID
	laid, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	w, err := f.WorkRecipe(laid.RowM)
	if err != nil || w.Refusal != "" {
		t.Errorf("%v %q", err, w.Refusal)
	}
	for i, lot := range w.Mix.Species[0].Lots {
		near(t, lot.Code, lot.Kg, n.Takes[i].Kg, 0.001)
	}
}

func TestTheSeasonSaysWhatToBuy(t *testing.T) {
	shelf := shelfWith(stocked{"A", "", "40", "2026-02-01", 30.004, 160})
	first, second := jobOn(t, 1, shelf, 1, job.LotLimits{}), jobOn(t, 2, shelf, 1, job.LotLimits{})
	a, err := ForSeason([]job.Facts{first, second})
	if err != nil {
		t.Fatal(err)
	}
	if says := a.Says(); says != "Old man saltbush is short of "+unit.Grouped(800_000, 0)+" live seeds: buy 20.0 kg as alive as A, more of what is less alive." {
		t.Error(says)
	}
	given := a.ByLot(shelf)
	if len(given) != 1 {
		t.Fatalf("%d lots give", len(given))
	}
	near(t, "given", given[0].Kg, 30, 1e-6)
	near(t, "left", given[0].LeftKg, 0.004, 1e-6)
	if own := a.For(2, seed.Shrub); len(own) != 1 || own[0].Job.Code != "J-02" {
		t.Errorf("the second job's needs are %+v", own)
	}
	none, err := ForSeason(nil)
	if err != nil || none.Says() != "No agreed job wants seed along its rows or between them." {
		t.Errorf("%q, %v", none.Says(), err)
	}
	if n := one(t, jobOn(t, 1, shelf, 1, job.LotLimits{})); n.Says() != "has all it asks for" {
		t.Error(n.Says())
	}
}

// BenchmarkSeasonOfJobs is the whole way from the jobs' facts: 60 jobs, 120 lots.
func BenchmarkSeasonOfJobs(b *testing.B) {
	var lots []stocked
	for i := range 120 {
		lots = append(lots, stocked{code: "L", origin: []string{"flat", "hill", "lake"}[i%3], cost: []string{"40", "55", "72"}[i%3],
			received: unit.Date("2025-01-01").Plus(i), kg: 20 + float64(i%17), normal: 60 + 2*i})
	}
	shelf := shelfWith(lots...)
	var all []job.Facts
	for id := range int64(60) {
		limits := []job.LotLimits{{}, {LargestSharePercent: 40}, {OriginContains: "flat"}, {LeastGerminationPercent: 30, OldestFirst: true}}[id%4]
		all = append(all, jobOn(b, id+1, shelf, 0.6, limits))
	}
	for b.Loop() {
		if _, err := ForSeason(all); err != nil {
			b.Fatal(err)
		}
	}
}
