package job_test

import (
	"strings"
	"testing"

	"rowtally/internal/job"
	"rowtally/internal/mix"
)

// Two lots, of which the office knows 5 of 40 kg and nothing of 6 kg loaded, for 3 of 20 ha.
func drilling() job.TruckJob {
	j := twoTubs()
	j.Facts.DrillLoads = []job.DrillLoad{{ID: 8, JobID: 3, Ha: 3, Lots: []mix.Ingredient{{LotID: 5, Grams: 5_000}}}}
	j.Drill = &job.Drill{Ha: 20, LoadedHa: 3, Lines: []job.DrillLine{{LotID: 5, Code: "U26-01", Need: 40_000, Loaded: 5_000, Drawn: 5_000}, {LotID: 6, Code: "U26-02", Need: 6_000}}}
	return j
}

func drillEntry(key string, ha float64, lots ...mix.Ingredient) job.TruckEntry {
	return job.TruckEntry{Key: key, Kind: job.DrillEntry, JobID: 3, At: noon, Drill: &job.DrillLoad{Ha: ha, Lots: lots}}
}

func TestADrillLoadWithoutSignalLowersWhatIsLeft(t *testing.T) {
	load := drillEntry("load", 6, mix.Ingredient{LotID: 5, Grams: 12_000}, mix.Ingredient{LotID: 6, Grams: 1_800})
	undo := func(u job.Undone) job.TruckEntry {
		return job.TruckEntry{Key: "undo", Kind: job.UndoEntry, JobID: 3, At: noon, Undoes: &u}
	}
	for name, c := range map[string]struct {
		entries  []job.TruckEntry
		grass    int64
		clover   int64
		leftHa   float64
		standing int
	}{
		"as the office has it":      {nil, 35_000, 6_000, 17, 1},
		"one load more":             {[]job.TruckEntry{load}, 23_000, 4_200, 11, 2},
		"and undone":                {[]job.TruckEntry{load, undo(job.Undone{Key: "load"})}, 35_000, 6_000, 17, 1},
		"the office's load undone":  {[]job.TruckEntry{undo(job.Undone{Kind: job.DrillEntry, ID: 8})}, 40_000, 6_000, 20, 0},
		"more than was worked out":  {[]job.TruckEntry{drillEntry("much", 30, mix.Ingredient{LotID: 6, Grams: 9_000})}, 35_000, 0, 0, 2},
		"another lot than it names": {[]job.TruckEntry{drillEntry("odd", 1, mix.Ingredient{LotID: 9, Grams: 9_000})}, 35_000, 6_000, 16, 2},
	} {
		before := drilling()
		now := before.With(c.entries)
		d := now.Drill
		if d.Lines[0].Left() != c.grass || d.Lines[1].Left() != c.clover || d.LeftHa() != c.leftHa || len(now.Facts.DrillLoads) != c.standing {
			t.Errorf("%s: %+v, %d loads", name, d, len(now.Facts.DrillLoads))
		}
		if before.Drill.Lines[0].Loaded != 5_000 || len(before.Facts.DrillLoads) != 1 {
			t.Errorf("%s: the job itself changed", name)
		}
	}
	view, err := drilling().View([]job.TruckEntry{load}, "2026-07-20", noon)
	if err != nil || view.Drill == nil || view.Loaded == nil || view.Loaded.Grams() != 13_800 || view.Loaded.ID >= 0 {
		t.Errorf("the page sees %+v, last %+v (%v)", view.Drill, view.Loaded, err)
	}
}

func TestADrillEntryIsChecked(t *testing.T) {
	lacking := drillEntry("none", 1)
	lacking.Drill = nil
	grass := mix.Ingredient{LotID: 5, Grams: 1_000}
	for want, e := range map[string]job.TruckEntry{"lacks the drill load": lacking, "enter the kg of one lot": drillEntry("empty", 1),
		"0.0 ha cannot be sown": drillEntry("nowhere", 0, grass), "goes into the drill once": drillEntry("twice", 1, grass, grass)} {
		if err := e.Check("2026-07-20"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("told %v, want %q", err, want)
		}
	}
	e := drillEntry("good", 6, grass)
	if err := e.Check("2026-07-20"); err != nil || e.Says() != "drill loaded, 1.0 kg for 6.0 ha" {
		t.Errorf("%v, %q", err, e.Says())
	}
}
