package job

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/rows"
)

// A row of two spans, 0–100 m and 120–200 m of the plane, with a hole between.
func TestARowIsPartedWherePlannedOrSownChange(t *testing.T) {
	spans := []rows.Span{{FromM: 50, ToM: 150, LengthM: 100}, {FromM: 170, ToM: 250, LengthM: 80}}
	sown := &SownRow{Sown: [][2]float64{{45, 110}, {125, 150.02}, {170, 250}}, Doubled: [][2]float64{{200, 220}}}
	want := []RowStretch{
		{-5, 0, "sown past the end"}, {0, 60, "sown"}, {60, 75, "missed"}, {75, 100.02, "sown"}, {100.02, 120, "not planned"},
		{120, 150, "sown"}, {150, 170, "sown twice or more"}, {170, 200, "sown"},
	}
	got := stretchesAlong(spans, sown)
	for i := range got {
		got[i].FromM, got[i].ToM = math.Round(got[i].FromM*100)/100, math.Round(got[i].ToM*100)/100
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("the row is parted as\n%v, want\n%v", got, want)
	}
	unlogged := stretchesAlong(spans, nil)
	if len(unlogged) != 3 || unlogged[0].What != "planned" || unlogged[1].What != "not planned" {
		t.Errorf("without a log the row is %v", unlogged)
	}
}

func TestARowNamesTheLinesItStandsBehind(t *testing.T) {
	f := sceneOf(t, 24.8).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03")
	v, err := f.ViewRow(7)
	if err != nil {
		t.Fatal(err)
	}
	if v.Paper != "quote Q2026-0001" || len(v.Lines) != 3 || !strings.HasPrefix(v.Lines[0], "line 3: Seeding rows on mounds, 24.8") || v.Before != 6 || v.After != 8 || v.Belt != 4 {
		t.Errorf("row 7 is %+v", v)
	}
	if !strings.Contains(v.Says(), "No log is matched to it yet") {
		t.Errorf("the row says %q", v.Says())
	}
	laid, err := f.Rows()
	if err != nil {
		t.Fatal(err)
	}
	span := laid.Rows[6].Spans[0]
	f = f.logged(24.8)
	f.Sown.Detail = `{"rows":[{"row":7,"planned_m":310,"covered_m":300,"missed_m":10,"doubled_m":0,"sown":[]}]}`
	invoice, err := InvoiceDraft(f)
	if err != nil {
		t.Fatal(err)
	}
	invoice.ID, invoice.Number = 2, "T2026-0001"
	f.Papers = append(f.Papers, invoice)
	if v, err = f.ViewRow(7); err != nil || v.Paper != "invoice T2026-0001" || v.Stretches[0].What != "missed" || math.Abs(v.Stretches[0].LengthM()-span.LengthM) > 1e-6 {
		t.Errorf("row 7 billed is %+v, %v", v, err)
	}
	if want := "Row 7, in belt 4: 310.0 m planned, 300.0 m covered, 10.0 m missed, 0.0 m doubled."; v.Says() != want {
		t.Errorf("the row says %q, want %q", v.Says(), want)
	}
	if _, err := f.ViewRow(80); fault.Fields(err)["row"] == "" {
		t.Errorf("row 80 of 79: %v", err)
	}
}
