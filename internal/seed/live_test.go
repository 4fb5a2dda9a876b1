package seed_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rowtally/internal/fault"
	"rowtally/internal/published"
	"rowtally/internal/seed"
)

func pointer[T any](v T) *T { return &v }

// slips are the two published figures that are known slips; the column of exact
// figures holds for them instead. One page truncates 1.1696 to 1.16 before it
// multiplies, the other prints 91.8375 cut off, and a bulk rate that does not follow.
var slips = map[string]bool{"hard and dormant both counted": true, "soil and water district": true}

func TestPureLiveSeedIsThePublishedOne(t *testing.T) {
	slipped := 0
	for _, r := range published.Rows(t, "pure_live_seed.csv") {
		ask := seed.PureLiveSeed{PurityPercent: r.Number("purity_pct")}
		if r.Has("tz_viable_pct") {
			ask.ViablePercent = pointer(r.Number("tz_viable_pct"))
		} else {
			ask.GerminationPercent, ask.DormantPercent = pointer(r.Number("germ_pct")), pointer(r.Number("hard_or_dormant_pct"))
		}
		if r.Has("pls_rate") {
			ask.LiveRate = pointer(r.Number("pls_rate"))
		}
		got, err := seed.LiveSeedOf(ask)
		if err != nil {
			t.Fatal(err)
		}
		if !(math.Abs(got.PLSPercent-r.Number("computed_pls_pct")) <= 1e-9) {
			t.Errorf("%s: %v %%, not %s", r.Name, got.PLSPercent, r.Text("computed_pls_pct"))
		}
		slip := slips[r.Text("case")]
		agrees := math.Abs(got.PLSPercent-r.Number("published_pls_pct")) <= 0.005
		if r.Has("published_bulk_rate") {
			if !(math.Abs(*got.BulkRate-r.Number("computed_bulk_rate")) <= 6e-5) {
				t.Errorf("%s: bulk %v, not %s", r.Name, *got.BulkRate, r.Text("computed_bulk_rate"))
			}
			agrees = agrees && math.Abs(*got.BulkRate-r.Number("published_bulk_rate")) <= 0.05
		}
		if agrees == slip {
			t.Errorf("%s: agrees with the print: %v; a known slip: %v", r.Name, agrees, slip)
		}
		if slip {
			slipped++
		}
	}
	if slipped != 2 {
		t.Errorf("%d of the two slips were met", slipped)
	}
}

// Pages of three seed firms work these out (their own rounding).
func TestPureLiveSeedOfTheCalibrationExamples(t *testing.T) {
	for _, c := range []struct {
		example        string
		ask            seed.PureLiveSeed
		percent, bulk  float64
		toPercent, toB float64
	}{
		{"PLS with hard seed", seed.PureLiveSeed{PurityPercent: 98, GerminationPercent: pointer(92.0), HardPercent: pointer(5.0), LiveRate: pointer(3.0)}, 95.06, 3.16, 0.005, 0.005},
		{"PLS from tetrazolium", seed.PureLiveSeed{PurityPercent: 95, ViablePercent: pointer(85.0), LiveRate: pointer(0.12)}, 80.75, 0.15, 0.005, 0.005},
		{"PLS simple", seed.PureLiveSeed{PurityPercent: 93, GerminationPercent: pointer(96.0), LiveRate: pointer(0.8928)}, 89, 1, 0.5, 1e-9},
		{"PLS poor lot", seed.PureLiveSeed{PurityPercent: 50, GerminationPercent: pointer(80.0), LiveRate: pointer(1.0)}, 40, 2.5, 1e-9, 1e-9},
	} {
		got, err := seed.LiveSeedOf(c.ask)
		if err != nil || !(math.Abs(got.PLSPercent-c.percent) <= c.toPercent && math.Abs(*got.BulkRate-c.bulk) <= c.toB) {
			t.Errorf("%s: %v %%, bulk %v, %v", c.example, got.PLSPercent, *got.BulkRate, err)
		}
	}
}

func TestBulkSeedHoldsTheLiveRate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		germination := rapid.Float64Range(0.1, 80).Draw(t, "germination")
		hard := rapid.Float64Range(0, 20).Draw(t, "hard")
		rate := rapid.Float64Range(0.01, 100).Draw(t, "rate")
		got, err := seed.LiveSeedOf(seed.PureLiveSeed{PurityPercent: rapid.Float64Range(1, 100).Draw(t, "purity"),
			GerminationPercent: &germination, HardPercent: &hard, LiveRate: &rate})
		if err != nil {
			t.Fatal(err)
		}
		if back := *got.BulkRate * got.PLSPercent / 100; !(math.Abs(back/rate-1) <= 1e-12 && *got.BulkRate >= rate) {
			t.Fatalf("%v as bagged holds %v live, not %v", *got.BulkRate, back, rate)
		}
	})
}

func TestQualityCountsHardSeedOnlyWhenAsked(t *testing.T) {
	q := seed.Quality{PurityPercent: 98, GerminationPercent: 86, HardPercent: 12}
	if got := q.LiveFraction(); !(math.Abs(got-0.8428) <= 1e-12) {
		t.Errorf("without hard seed %v", got)
	}
	q.CountHard = true
	if got := q.LiveFraction(); !(math.Abs(got-0.9604) <= 1e-12) {
		t.Errorf("with hard seed %v", got)
	}
	q.PurityPercent, q.HardPercent = 0, 15
	said := fault.Fields(q.Check())
	if said["purity_percent"] == "" || said["hard_percent"] != "germination 86 % and hard seed 15 % make 101 %, enter figures of no more than 100 % together" {
		t.Errorf("refusals %q", said)
	}
}

func TestPureLiveSeedRefusals(t *testing.T) {
	for field, c := range map[string]seed.PureLiveSeed{
		"purity_percent":      {PurityPercent: 140, GerminationPercent: pointer(50.0)},
		"germination_percent": {PurityPercent: 90},
		"hard_percent":        {PurityPercent: 90, ViablePercent: pointer(50.0), HardPercent: pointer(1.0)},
		"viable_percent":      {PurityPercent: 90, ViablePercent: pointer(50.0), GerminationPercent: pointer(1.0)},
		"dormant_percent":     {PurityPercent: 90, GerminationPercent: pointer(50.0), DormantPercent: pointer(math.NaN())},
		"live_rate":           {PurityPercent: 90, GerminationPercent: pointer(0.0), LiveRate: pointer(2.0)},
	} {
		if _, err := seed.LiveSeedOf(c); fault.Fields(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
	_, err := seed.LiveSeedOf(seed.PureLiveSeed{PurityPercent: 140, GerminationPercent: pointer(50.0)})
	if err.Error() != "purity is 140 %, enter a figure above 0 and up to 100" {
		t.Error(err)
	}
}
