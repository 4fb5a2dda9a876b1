package seed

import (
	"strings"
	"testing"

	"rowtally/internal/fault"
)

func refusedFor(t *testing.T, field string, err error) {
	t.Helper()
	if fault.Fields(err)[field] == "" {
		t.Errorf("%s is not refused: %v", field, err)
	}
}

func TestATestThatCannotBeIsRefused(t *testing.T) {
	lot := Lot{Harvest: "2025-11"}
	dead := 3
	for _, c := range []struct {
		field, says string
		test        Test
	}{
		{"tested_on", "after today, 20 Jul 2026", Test{TestedOn: "2026-07-21"}},
		{"tested_on", "after today", Test{}},
		{"tested_on", "before the lot was harvested in Nov 2025", Test{TestedOn: "2025-10-31"}},
		{"kind", "choose germination", Test{TestedOn: "2026-01-01", Kind: "guess"}},
		{"certificate", "choose lot or sample", Test{TestedOn: "2026-01-01", Certificate: "gold"}},
		{"replicates[1]", "grows no seedlings", Test{TestedOn: "2026-01-01", Kind: CutTest, Replicates: []Replicate{{Seeds: 50, Normal: 3}, {Seeds: 50, Normal: 3, Dead: &dead}}}},
	} {
		err := c.test.Check(lot, "2026-07-20")
		refusedFor(t, c.field, err)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v does not say %q", c.test, err, c.says)
		}
	}
	for _, good := range []Test{
		{TestedOn: "2025-11-01"}, {TestedOn: "2026-07-20", Kind: Tetrazolium, Certificate: LotCertificate, Replicates: []Replicate{{Seeds: 100, Normal: 40}}},
		{TestedOn: "2026-01-01", Kind: GerminationTest, Certificate: SampleCertificate, Replicates: []Replicate{{Seeds: 100, Normal: 97, Dead: &dead}}},
	} {
		if err := good.Check(lot, "2026-07-20"); err != nil {
			t.Error(err)
		}
	}
}

// The last germination test counts while it is in date; then a later tetrazolium test
// takes its place; a cut test never counts.
func TestWhichTestCounts(t *testing.T) {
	old, fresh := Test{ID: 1, TestedOn: "2025-02-01"}, Test{ID: 2, TestedOn: "2026-02-01", Kind: GerminationTest}
	stained, cut := Test{ID: 3, TestedOn: "2026-03-01", Kind: Tetrazolium}, Test{ID: 4, TestedOn: "2026-04-01", Kind: CutTest}
	for name, c := range map[string]struct {
		tests []Test
		want  int64
	}{
		"the last in date":                {[]Test{old, fresh, stained, cut}, 2},
		"tetrazolium for one out of date": {[]Test{cut, stained, old}, 3},
		"an older tetrazolium does not":   {[]Test{old, {ID: 9, TestedOn: "2025-01-01", Kind: Tetrazolium}}, 1},
		"tetrazolium alone":               {[]Test{stained, cut}, 3},
		"a cut test alone":                {[]Test{cut}, 0},
		"entered later on one day":        {[]Test{fresh, {ID: 8, TestedOn: fresh.TestedOn}}, 8},
		"not finished yet":                {[]Test{{ID: 7, TestedOn: "2026-08-01"}}, 0},
	} {
		got, ok := Counts(c.tests, "2026-07-20", 12)
		if got.ID != c.want || ok != (c.want != 0) {
			t.Errorf("%s: test %d counts, want %d", name, got.ID, c.want)
		}
	}
}

func TestHarvestIsAMonth(t *testing.T) {
	for _, bad := range []string{"2025", "2025-13", "Nov 2025", "2025-11-01"} {
		_, err := ParseHarvest(bad)
		refusedFor(t, "harvest", err)
	}
	h, err := ParseHarvest("2025-11")
	if err != nil || h.String() != "Nov 2025" || h.Begins() != "2025-11-01" {
		t.Errorf("%q begins %s (%v)", h, h.Begins(), err)
	}
	if none, err := ParseHarvest(""); err != nil || none.Begins() != "" || none.String() != "" {
		t.Errorf("a harvest not known is %q (%v)", none, err)
	}
}
