package site

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"rowtally/internal/count"
	"rowtally/internal/ground"
	"rowtally/internal/job"
)

// planned puts two places of ten placements in the store for the job of a worked town.
func planned(t *testing.T, w town, jobID int64) int64 {
	t.Helper()
	plan := count.Plan{JobID: jobID, PerStretch: 10, SpacingM: 3, SharePercent: 50, WithinPercent: 10, Rho: 0.1, Number: 1,
		Places: []count.Place{{Row: 1, AlongM: 30, At: ground.LatLon{Lat: -36.4, Lon: 140.1}}, {Row: 4, At: ground.LatLon{Lat: -36.401, Lon: 140.1}}}}
	id, err := w.store.AddCountPlan(context.Background(), w.act(), plan)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func TestACountIsEnteredShownAndWithdrawn(t *testing.T) {
	w := newTown(t)
	ctx := context.Background()
	farm, err := w.store.AddFarm(ctx, w.act(), job.Farm{Name: "Example Farm"})
	if err != nil {
		t.Fatal(err)
	}
	paddock, err := w.store.AddPaddock(ctx, w.act(), job.Paddock{FarmID: farm, Name: "Bore"})
	if err != nil {
		t.Fatal(err)
	}
	id, err := w.store.AddJob(ctx, w.act(), job.Job{FarmID: farm, PaddockID: paddock, Name: "Bore", Season: 2025, AskedOn: "2025-05-01"})
	if err != nil {
		t.Fatal(err)
	}
	path := fmt.Sprintf("/jobs/%d/counts", id)
	if text := w.operator.get(path + "/new").text; !strings.Contains(text, "No places of Bore are drawn yet") {
		t.Errorf("a count without places: %.300s", text)
	}
	planned(t, w, id)
	typed := []string{"kind", "first", "counted_on", "2026-07-18", "counted_by", "Ned", "placements_1", "10", "occupied_2", "6", "placements_2", "10", "occupied_1"}
	refused := w.operator.post(path+"/new", append(typed, "11")...)
	if refused.status != 422 || !strings.Contains(refused.text, "11 of 10 placements are occupied") || !strings.Contains(refused.text, `value="11"`) {
		t.Errorf("%d: a refusal loses what was typed or why", refused.status)
	}
	if kept := w.operator.post(path+"/new", append(typed, "8")...); kept.status != 303 {
		t.Fatalf("%d: %.600s", kept.status, kept.text)
	}
	page := w.contractor.get(path).text
	for _, says := range []string{"70.0 %", "14 of 20 placements in 2 stretches", "18 Jul 2026", count.Definition, "the plan&#39;s 0.1 is taken"} {
		if !strings.Contains(page, says) {
			t.Errorf("the counts do not say %q", says)
		}
	}
	if r := w.contractor.post(path+"/1/withdraw", "why", ""); r.status != 422 {
		t.Errorf("withdrawn without a reason: %d", r.status)
	}
	if r := w.contractor.post(path+"/1/withdraw", "why", "the wrong paddock"); r.status != 303 {
		t.Errorf("withdrawn: %d", r.status)
	}
	if page := w.contractor.get(path).text; !strings.Contains(page, "the wrong paddock") || strings.Contains(page, "70.0 %") {
		t.Error("a withdrawn count still counts, or hides its reason")
	}
	if pdf := w.operator.get(fmt.Sprintf("/jobs/%d/count-sheet.pdf", id)); pdf.status != 200 {
		t.Errorf("the sheet is answered %d: %.300s", pdf.status, pdf.text)
	}
}
