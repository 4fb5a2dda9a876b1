package job

import (
	"testing"

	"rowtally/internal/mix"
	"rowtally/internal/seed"
)

// shelved is a shelf with three lots: ready, overdue and on hold; the first on the truck in
// part and held back in part.
func shelved() Shelf {
	ready, tests := tested(92, 34, 0)
	overdue, old := tested(97, 71, 0)
	overdue.ID, overdue.Code, old[0].LotID, old[0].TestedOn = 2, "U25-09", 2, "2025-03-04"
	held, low := tested(91, 9, 0)
	held.ID, held.Code, held.HoldReason, low[0].LotID = 3, "D25-11", "failed its retest", 3
	return Shelf{
		Lots:     []seed.Lot{overdue, ready, held},
		Tests:    map[int64][]seed.Test{1: tests, 2: old, 3: low},
		Products: []mix.Product{{ID: 1, Name: "vermiculite", BagL: 100}, {ID: 2, Name: "sand"}},
		Balances: []Balance{
			{LotStock, 1, Shed, 28_100}, {LotStock, 1, Truck, 13_400}, {LotStock, 2, Shed, 25_000}, {LotStock, 3, Shed, 22_000},
			{MediumStock, 1, Shed, 4_600_000}, {MediumStock, 1, Truck, 180_000}, {MediumStock, 2, Shed, 400_000},
		},
		Held: []Held{{JobID: 5, StockKind: LotStock, StockID: 1, Wanted: 14_000, Held: 13_400}, {JobID: 6, StockKind: LotStock, StockID: 1, Wanted: 100, Held: 100}},
	}
}

func TestStandingAddsPlacesAndClaimsUp(t *testing.T) {
	want := Standing{OnHand: 41_500, AtTruck: 13_400, Held: 13_500, Free: 28_000}
	if got := shelved().Standing(LotStock, 1); got != want {
		t.Errorf("stands at %+v, want %+v", got, want)
	}
	if got := shelved().Standing(MediumStock, 3); got != (Standing{}) {
		t.Errorf("an unknown medium stands at %+v", got)
	}
}

func TestLotsStandInOrderOfTheirCodes(t *testing.T) {
	var codes []string
	for _, l := range shelved().LotsOn("2026-07-20") {
		codes = append(codes, l.Lot.Code)
	}
	if len(codes) != 3 || codes[0] != "D25-11" || codes[1] != "D26-01" || codes[2] != "U25-09" {
		t.Errorf("in order %v", codes)
	}
}

func TestTheShedSaysWhatItWants(t *testing.T) {
	all := shelved()
	if got, want := ShedSays(all.LotsOn("2026-07-20")), "One lot is due a retest; one is on hold; one is held back for a job."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := ShedSays(all.LotsOn("2027-07-20")), "2 lots are due a retest; one is on hold; one is held back for a job."; got != want {
		t.Errorf("a year later %q, want %q", got, want)
	}
	all.Balances, all.Held = nil, nil // used up: nobody tests what is not there
	if got, want := ShedSays(all.LotsOn("2026-07-20")), "No lot is due a retest."; got != want {
		t.Errorf("an empty shed says %q, want %q", got, want)
	}
	if got, want := ShedSays(nil), "No seed lot is kept yet."; got != want {
		t.Errorf("a new shed says %q, want %q", got, want)
	}
}

func TestBagsOfWhatComesInBags(t *testing.T) {
	media := shelved().Media() // by name: sand, vermiculite
	if got := media[1].Bags(); got != 47.8 {
		t.Errorf("4780 L in bags of 100 L are %v bags, want 47.8", got)
	}
	if got := media[0].Bags(); got != 0 {
		t.Errorf("loose sand is %v bags, want 0", got)
	}
}

// A published 5 million seeds per kg of puccinellia is a weight of 0.20 g a thousand.
func TestUnitsPerKgIsTheInverseOfTheThousandWeight(t *testing.T) {
	if got := UnitsPerKg(0.2); got < 4_999_999.99 || got > 5_000_000.01 {
		t.Errorf("0.2 g a thousand give %v per kg, want 5 million", got)
	}
}

func TestJudgedSaysHowReplicatesAgree(t *testing.T) {
	_, tests := tested(92, 34, 0)
	for _, c := range []struct {
		normal []int
		want   string
	}{
		// At an average of 34 % four replicates of 100 may span 18 (US 7 CFR 201.55).
		{[]int{25, 43, 34, 34}, "agree: highest and lowest differ by 18\u00a0%, up to 18\u00a0% allowed"},
		{[]int{24, 43, 34, 34}, "too far apart: highest and lowest differ by 19\u00a0%, at most 18\u00a0% allowed"},
		{[]int{34, 34, 34}, "not judged: the published table holds for two or four replicates"},
	} {
		tests[0].Replicates = nil
		for _, n := range c.normal {
			tests[0].Replicates = append(tests[0].Replicates, seed.Replicate{Seeds: 100, Normal: n})
		}
		g, ok := GerminationOf(tests[0])
		if got := Judged(g); !ok || got != c.want {
			t.Errorf("%v: %q, want %q", c.normal, got, c.want)
		}
	}
}
