package sown

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/ground"
)

func input(t *testing.T) Input {
	t.Helper()
	in := Input{Plan: paddockInput(t, 100, 300, 17, 2, 2, 12), Implement: &Implement{Rows: 2, RowGapM: 2}}
	plan := paddock(t, 100, 300, 17, 2, 2, 12)
	in.Log = LogText{"csv", rtk.csvLog(plan, farm(plan, twin), 0)}
	return in
}

func TestMeasureRefusesByField(t *testing.T) {
	for name, c := range map[string]struct {
		change      func(*Input)
		field, says string
	}{
		"plan":            {func(in *Input) { in.Plan.AlleyM = -1 }, "plan.alley_m", "alley"},
		"plan in metres":  {func(in *Input) { in.Plan.Boundary = nil; in.Plan.BoundaryM = square() }, "plan.boundary_m", "GeoJSON"},
		"no rows":         {func(in *Input) { in.Plan.HeadlandM = 200; in.Plan.PhaseM = nil }, "plan", "no row"},
		"format":          {func(in *Input) { in.Log.Format = "xls" }, "log.format", "xls"},
		"empty":           {func(in *Input) { in.Log.Text = "" }, "log.text", "no fix"},
		"too many rows":   {func(in *Input) { in.Implement.Rows = 1e9 }, "implement.rows", "1 to 24"},
		"no gap":          {func(in *Input) { in.Implement.RowGapM = 0 }, "implement.row_gap_m", "0 m"},
		"too wide":        {func(in *Input) { in.Implement.RowGapM = 100 }, "implement.row_gap_m", "wider"},
		"far aside":       {func(in *Input) { in.Implement.OffsetRightM = -80 }, "implement.offset_right_m", "beside"},
		"far behind":      {func(in *Input) { in.Implement.BehindM = 80 }, "implement.behind_m", "behind"},
		"tolerance":       {func(in *Input) { in.Tolerances.HeadingDeg = ptr(90) }, "tolerances.heading_deg", "1 to 45"},
		"speeds crossed":  {func(in *Input) { in.Tolerances.SpeedMinKmh = ptr(30) }, "tolerances.speed_min_kmh", "fastest"},
		"lag, no times":   {func(in *Input) { in.Tolerances.FlagLagS = ptr(1); in.Log.Text = "lat,lon\n-36.4,140.1\n" }, "tolerances.flag_lag_s", "without a time"},
		"another paddock": {func(in *Input) { in.Log.Text = "lat,lon\n-36.5,140.1\n-36.52,140.1\n" }, "log", "the log lies 11.0 km from the paddock's rows"},
		"next paddock":    {func(in *Input) { in.Log.Text = "lat,lon\n-36.4,140.1045\n" }, "log", " m from the paddock's rows"},
		"another country": {func(in *Input) { in.Log.Text = "lat,lon\n48.2,-100.4\n" }, "log", "km from the paddock's rows"},
		"columns swapped": {func(in *Input) {
			in.Plan.Boundary = moved(in.Plan.Boundary, 76.4)
			in.Log.Text = "lat,lon\n63.7,40.0\n"
		}, "log", "swapped"},
	} {
		in := input(t)
		c.change(&in)
		_, err := Measure(in)
		if message, refused := fault.Fields(err)[c.field]; !refused || !strings.Contains(message, c.says) {
			t.Errorf("%s: %v in %v", name, err, fault.Fields(err))
		}
	}
}

func square() *ground.Polygon {
	return &ground.Polygon{Outer: ground.Ring{{E: 0, N: 0}, {E: 300, N: 0}, {E: 300, N: 300}, {E: 0, N: 300}}}
}

// moved takes a boundary north to where latitude and longitude can be taken for each
// other: 40 degrees north, 63.7 east.
func moved(s ground.Shape, northDeg float64) ground.Shape {
	for i := range s[0].Outer {
		s[0].Outer[i].Lat += northDeg
		s[0].Outer[i].Lon -= 140.1 - 63.7
	}
	return s
}

func TestMeasureInJSON(t *testing.T) {
	r, err := Measure(input(t))
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var fields map[string]any
	if err := json.Unmarshal(text, &fields); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"fixes", "refused_fixes", "passes", "planned_m", "covered_m", "missed_m", "doubled_m",
		"overrun_m", "unplanned_m", "sown_m", "rows", "track_m", "sown_by", "pass_list", "notes"} {
		if fields[name] == nil {
			t.Errorf("%s is missing or null in %s", name, text[:200])
		}
	}
	steps := r.Working()
	if text := steps[7].Value.String(); steps[7].Step != "sown" || text != fmt.Sprintf("%.3f", r.SownM/1000) {
		t.Errorf("the working has %s %s for %.1f m", steps[7].Step, text, r.SownM)
	}
}

func TestWithoutAnImplementOneRowIsBelowTheAntenna(t *testing.T) {
	in := input(t)
	plan := paddock(t, 100, 300, 17, 2, 2, 12)
	in.Implement = nil
	in.Log.Text = rtk.csvLog(plan, farm(plan, AtAntenna), 0)
	r, err := Measure(in)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "covered", r.CoveredM, plan.RowM, 0.01*plan.RowM)
	if r.Passes != len(plan.Rows) {
		t.Errorf("%d passes on %d rows", r.Passes, len(plan.Rows))
	}
}
