package job

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rowtally/internal/count"
	"rowtally/internal/fault"
	"rowtally/internal/ground"
	"rowtally/internal/mix"
)

var tenEach = CountWanted{PerStretch: 10, SharePercent: 50, WithinPercent: 10, Rho: 0.1}

// sownToHalf is a job whose rows are sown over their southern half.
func sownToHalf(t *testing.T) Facts {
	t.Helper()
	f := sceneOf(t, 24)
	laid, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	var rows []string
	for _, row := range laid.Rows {
		for _, span := range row.Spans {
			rows = append(rows, fmt.Sprintf(`{"row":%d,"sown":[[%f,%f]]}`, row.Number, span.FromM-20, (span.FromM+span.ToM)/2))
		}
	}
	f.Sown = &Sown{JobID: 3, PlannedM: laid.RowM, CoveredM: laid.RowM / 2, Detail: `{"rows":[` + strings.Join(rows, ",") + `]}`}
	return f
}

func TestPlacesAreDrawnWhereRowsAreSown(t *testing.T) {
	f := sownToHalf(t)
	plan, err := f.DrawCountPlan(tenEach, 19)
	if err != nil || len(plan.Places) != 19 {
		t.Fatalf("%d places, %v", len(plan.Places), err)
	}
	laid, _ := f.Rows()
	for _, p := range plan.Places {
		end, _ := ground.WGS84.Reach(p.At, plan.BearingDeg, plan.LengthM())
		row := laid.numbered(p.Row)
		along, offset := laid.Along(laid.Frame.ToPlane(p.At))
		last, _ := laid.Along(laid.Frame.ToPlane(end))
		if middle := (row.Spans[0].FromM + row.Spans[0].ToM) / 2; along < row.Spans[0].FromM-0.01 || last > middle+0.01 {
			t.Errorf("place %+v is not where its row is sown", p)
		}
		if math.Abs(offset-row.OffsetM) > 0.01 || math.Abs(along-row.Spans[0].FromM-p.AlongM) > 0.01 {
			t.Errorf("place %+v stands %v m along, %v m aside", p, along, offset)
		}
	}
	if again, _ := f.DrawCountPlan(tenEach, 19); fmt.Sprint(again) != fmt.Sprint(plan) {
		t.Error("the same number drew other places")
	}
	if f.Sown = nil; fault.KindOf(second(f.DrawCountPlan(tenEach, 19))) != fault.Clash {
		t.Error("places are drawn where nothing is sown")
	}
}

func second[T any](_ T, err error) error { return err }

// countedAs is the job counted at 19 places of ten: 116 of 190 occupied, which by hand is
// 61.1 % ± 9.6, and at 476.2 placements a hectare 291 ± 46.
func countedAs(t *testing.T, f Facts, kind count.Kind) Facts {
	t.Helper()
	plan, err := f.DrawCountPlan(tenEach, 19)
	if err != nil {
		t.Fatal(err)
	}
	plan.ID = 1
	c := count.Count{ID: 7, JobID: 3, PlanID: 1, Kind: kind, CountedOn: "2026-07-18"}
	for i, n := range []int{9, 7, 7, 3, 6, 8, 5, 7, 7, 4, 6, 4, 7, 9, 3, 6, 9, 6, 3} {
		c.Stretches = append(c.Stretches, count.Stretch{Place: i + 1, Placements: 10, Occupied: n})
	}
	f.CountPlans, f.Counts = []count.Plan{plan}, append(f.Counts, c)
	return f
}

func TestACountStandsInTheChainWithItsError(t *testing.T) {
	f := countedAs(t, sownToHalf(t), count.First)
	link := ChainOf(f).Links[8]
	if link.Name != "Counts" || link.State != Kept || link.Figures[0].Value != "61.1 % ± 9.6" || !strings.Contains(link.Says, "291 ± 46 plants or more to the net hectare") ||
		!strings.Contains(link.Says, "18 Jul 2026") || !strings.Contains(link.Says, count.Definition) {
		t.Errorf("%+v", link)
	}
	if view := ViewOf(f); len(view.Counts) != 1 || view.Counts[0].Says() != link.Says {
		t.Errorf("the farmer sees %+v", view.Counts)
	}
	if kind, due := f.DueCount(); !due || kind != count.Autumn {
		t.Errorf("due is %q", kind)
	}
	f.Counts[0].WithdrawnOn = "2026-07-19"
	if link := ChainOf(f).Links[8]; link.State == Kept || len(link.Figures) != 0 || len(ViewOf(f).Counts) != 0 || len(f.Lessons()) != 0 {
		t.Errorf("a withdrawn count still counts: %+v", link)
	}
}

// By hand: λ = -ln(1 - 116/190) = 0.94296 plants over 50 live seeds is 1.886 in 100, and over
// 50 × 58 / 45 where the meter dropped 58 mL for 45.
func TestACountTeachesByWhatWasReallySown(t *testing.T) {
	f := countedAs(t, sownToHalf(t), count.First).mixed(t, 2)
	want := -math.Log(1-116.0/190) / 50
	lessons := f.Lessons()
	if len(lessons) != 2 || math.Abs(lessons[0].Fraction/want-1) > 0.002 || !lessons[0].Shared || lessons[0].Sown.Form != "fruit" {
		t.Fatalf("%+v, want %v", lessons, want)
	}
	f.Catches = []mix.Catch{caughtAt(58)}
	if lessons = f.Lessons(); math.Abs(lessons[0].Fraction/(want*45/58)-1) > 0.002 {
		t.Errorf("after the catch %v, want %v", lessons[0].Fraction, want*45/58)
	}
	lot, _ := f.Shelf.Lot(oldManID)
	learned := f.EmergenceLearned(lessons, lot)
	if len(learned) != 1 || !strings.HasPrefix(f.LearnedFrom(learned[0]), "1.5 in 100 (") || !strings.Contains(f.LearnedFrom(learned[0]), "from 1 first count of Atriplex nummularia (J-03 18 Jul 2026)") {
		t.Errorf("%+v", learned)
	}
}

func TestTheQuoteSaysFromWhichCounts(t *testing.T) {
	f := sceneOf(t, 24)
	plainly, err := QuoteDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range plainly.Particulars {
		if p.Heading == "Plants expected" {
			t.Errorf("nothing was counted, and the quote says %q", p.Text)
		}
	}
	f.Recipe.Species[0].EmergenceFrom = "3.1 in 100 (1.9 to 5.1), from 2 first counts"
	draft, err := QuoteDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, p := range draft.Particulars {
		found = found || p.Heading == "Plants expected" && strings.Contains(p.Text, "from 2 first counts")
	}
	if !found {
		t.Errorf("%+v", draft.Particulars)
	}
}
