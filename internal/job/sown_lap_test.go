package job

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// TestCountedHeadlandIsSownGround drives round the outer row of the headland with a machine of
// one row: its metres are covered ones of the job, row by row, on the map and on the sheet.
func TestCountedHeadlandIsSownGround(t *testing.T) {
	f := sceneOf(t, 24)
	layout := *f.Layout
	layout.HeadlandPasses, layout.CountHeadlands, layout.LeastRowM = 1, true, 20
	f.Layout = &layout
	laid := laidOf(t, f)
	if len(laid.Headland) != 2 || laid.HeadlandRowM < 1000 {
		t.Fatalf("%d headland rows, %.1f m", len(laid.Headland), laid.HeadlandRowM)
	}
	var out strings.Builder
	out.WriteString("time,lat,lon,sowing\n")
	clock := time.Date(2026, 7, 15, 0, 0, 0, 0, time.UTC)
	wayM := 0.0
	for _, run := range laid.Headland[0].Runs {
		wayM += run.LengthM
		for i := 1; i < len(run.Path); i++ {
			from, to := run.Path[i-1], run.Path[i]
			steps := math.Max(1, math.Ceil(from.To(to)/2))
			for k := 0.0; k < steps; k++ {
				at := from
				at.E, at.N = from.E+(to.E-from.E)*k/steps, from.N+(to.N-from.N)*k/steps
				place := laid.Frame.ToEarth(at)
				fmt.Fprintf(&out, "%s,%.9f,%.9f,1\n", clock.Format(time.RFC3339), place.Lat, place.Lon)
				clock = clock.Add(time.Second)
			}
		}
	}
	sown, err := Match(f, []Log{{JobID: 3, Name: "day 1.csv", Content: []byte(out.String()), PassRows: 1}})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(sown.PlannedM-laid.RowM) > 1e-6 || math.Abs(sown.CoveredM-wayM) > 0.01*wayM || sown.UnplannedM > 0.01*wayM {
		t.Errorf("planned %.1f of %.1f m, covered %.1f of %.1f, off the plan %.1f", sown.PlannedM, laid.RowM, sown.CoveredM, wayM, sown.UnplannedM)
	}
	f.Sown = &sown
	laps := sown.Headland()
	if len(laps) < 2 || laps[0].MissedM > 0.02*laps[0].PlannedM || laps[len(laps)-1].CoveredM > 1 {
		t.Errorf("%+v", laps)
	}
	sheet, err := SownSheetOf(f)
	if err != nil {
		t.Fatal(err)
	}
	if len(sheet.Headland) != len(laps) || sheet.Headland[0].Sown != nil || len(sheet.Map.Sown) < 4 || len(sheet.Map.Missed) < 4 {
		t.Errorf("%d laps on the sheet, %d stretches drawn sown and %d missed", len(sheet.Headland), len(sheet.Map.Sown), len(sheet.Map.Missed))
	}
}
