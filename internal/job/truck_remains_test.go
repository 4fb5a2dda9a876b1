package job_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"rowtally/internal/job"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

var noon = time.Date(2026, 7, 20, 12, 0, 0, 0, time.UTC)

// twoTubs is a job with two tubs of 150 L mixed, the second of other seed, 45 mL every 2 m
// (22.5 L a row-km) and 4 row-km sown: 90 L are in the rows, 210 L in the hoppers.
func twoTubs() job.TruckJob {
	f := job.Facts{Today: "2026-07-20", Job: job.Job{ID: 3, Code: "J-03", Name: "Bore"}, Layout: &job.Layout{SpacingM: 2, RowsPerBelt: 2},
		Recipe:    &job.Recipe{PlacementML: 45, TubL: 150, ProductID: 1, ScaleStepG: 1},
		DaySheets: []machine.DaySheet{{ID: 1, JobID: 3, RowM: 4000}},
		Shelf: job.Shelf{
			Lots:     []seed.Lot{{ID: 1, Code: "D26-01"}, {ID: 2, Code: "D26-03"}},
			Products: []mix.Product{{ID: 1, Name: "vermiculite"}},
			Balances: []job.Balance{{Kind: job.LotStock, ID: 2, Place: job.Truck, OnHand: 1000}, {Kind: job.MediumStock, ID: 1, Place: job.Truck, OnHand: 5000}},
		}}
	for i, lot := range []int64{1, 2} {
		f.Tubs = append(f.Tubs, mix.Tub{ID: int64(i + 1), JobID: 3, Number: i + 1, MixML: 150_000, MediumML: 140_000, ProductID: 1,
			MixedAt: noon.Add(-time.Hour), Ingredient: []mix.Ingredient{{LotID: lot, Grams: 4000}}})
	}
	return job.TruckJob{Facts: f, Rows: job.RowsPlanned{RowM: 20_000}}
}

func cleanOut(ml int64, kept bool) job.TruckEntry {
	return job.TruckEntry{Key: "out", Kind: job.CleanOutEntry, JobID: 3, At: noon, Remains: &job.Remains{MixML: ml, Kept: kept}}
}

func (s stockLeft) of(j job.TruckJob) stockLeft {
	for _, b := range j.Facts.Shelf.Balances {
		if b.Kind == job.LotStock {
			s.lotG = b.OnHand
		} else {
			s.mediumML = b.OnHand
		}
	}
	return s
}

type stockLeft struct{ lotG, mediumML int64 }

// A fifth of the last tub came out: 30 of 150 L, so 800 of 4 000 g and 28 of 140 L.
func TestACleanOutAtTheTruckTakesMixFromTheHoppers(t *testing.T) {
	level := job.TruckEntry{Key: "level", Kind: job.HopperEntry, JobID: 3, At: noon.Add(-time.Minute), Hopper: &job.HopperReading{LeftL: 200, RowM: 4000}}
	undo := job.TruckEntry{Key: "undo", Kind: job.UndoEntry, JobID: 3, At: noon, Undoes: &job.Undone{Key: "out"}}
	before := stockLeft{1000, 5000}
	for name, c := range map[string]struct {
		entries []job.TruckEntry
		leftL   float64
		stock   stockLeft
	}{
		"nothing yet":           {nil, 210, before},
		"kept":                  {[]job.TruckEntry{cleanOut(30_000, true)}, 180, stockLeft{1800, 33_000}},
		"thrown away":           {[]job.TruckEntry{cleanOut(30_000, false)}, 180, before},
		"after a level":         {[]job.TruckEntry{level, cleanOut(30_000, false)}, 170, before},
		"undone":                {[]job.TruckEntry{cleanOut(30_000, true), undo}, 210, before},
		"more than was mixed":   {[]job.TruckEntry{cleanOut(300_001, true)}, 210, before},
		"all that was left out": {[]job.TruckEntry{level, cleanOut(200_000, false)}, 0, before},
	} {
		now := twoTubs().With(c.entries)
		out, ok := now.RunOut()
		if !ok || math.Abs(out.LeftL-c.leftL) > 1e-9 {
			t.Errorf("%s: %.1f L are left (%v), want %.1f", name, out.LeftL, ok, c.leftL)
		}
		if got := (stockLeft{}).of(now); got != c.stock {
			t.Errorf("%s: the truck has %+v, want %+v", name, got, c.stock)
		}
	}
}

func TestACleanOutIsSplitBeforeItIsKept(t *testing.T) {
	tried, err := twoTubs().TryRemains(job.Remains{MixML: 180_000})
	if err != nil {
		t.Fatal(err)
	}
	want := []job.RemainsPart{{Kind: job.LotStock, Code: "D26-01", Quantity: 800}, {Kind: job.LotStock, Code: "D26-03", Quantity: 4000},
		{Kind: job.MediumStock, Name: "vermiculite", Quantity: 168_000}}
	if len(tried.Parts) != len(want) {
		t.Fatalf("split into %+v", tried.Parts)
	}
	for i, part := range tried.Parts {
		if part != want[i] {
			t.Errorf("part %d is %+v, want %+v", i, part, want[i])
		}
	}
	if _, err := twoTubs().TryRemains(job.Remains{MixML: 300_001}); err == nil || !strings.Contains(err.Error(), "300.0 L have not come back yet") {
		t.Errorf("more than was mixed: %v", err)
	}
}

func TestACleanOutEntryIsChecked(t *testing.T) {
	long := cleanOut(1000, false)
	long.Remains.Note = strings.Repeat("a", 2001)
	empty := cleanOut(1000, false)
	empty.Remains = nil
	for want, e := range map[string]job.TruckEntry{"what remained, in L, is 0.0: enter 0.1": cleanOut(0, true), "at most 2000 letters": long, "lacks what remained": empty} {
		if err := e.Check(unit.Date("2026-07-20")); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("told %v, want %q", err, want)
		}
	}
	if err := cleanOut(30_000, true).Check("2026-07-20"); err != nil {
		t.Error(err)
	}
}
