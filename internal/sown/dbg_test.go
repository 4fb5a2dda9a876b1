package sown
import ("testing";"fmt";"time";"math/rand/v2")
func TestDbg(t *testing.T) {
	for _, gap := range []float64{3, 4, 14} {
	plan := paddock(t, 200, 400, 17, 1, 0, gap)
	for _, same := range []bool{false,true} {
	for _, step := range []float64{2, 10, 50, 400} {
	for _, flag := range []string{"1", "mixed", "none"} {
	for _, timed := range []bool{true,false} {
	for _, sigma := range []float64{0, 0.02, 0.3} {
		if sigma>0 && step>10 {continue}
		text := "time,lat,lon,sowing\n"
		at := time.Date(2026,7,20,0,0,0,0,time.UTC)
		put := func(u,v float64, s string) {
			p := plan.Frame.ToEarth(plan.Place(u+sigma*rand.NormFloat64(),v+sigma*rand.NormFloat64()))
			ts := ""
			if timed { ts = at.Format(time.RFC3339Nano) }
			if flag=="none" {s=""} else if flag=="1" { s="1"}
			text += fmt.Sprintf("%s,%.9f,%.9f,%s\n", ts, p.Lat,p.Lon,s)
			at = at.Add(time.Duration(step/2*1e9))
		}
		for i, row := range plan.Rows {
			sp := row.Spans[0]
			n := int((sp.ToM-sp.FromM)/step)+1
			for k := 0; k<=n; k++ {
				u := sp.FromM+(sp.ToM-sp.FromM)*float64(k)/float64(n)
				if i%2==1 && !same { u = sp.ToM-(sp.ToM-sp.FromM)*float64(k)/float64(n)}
				s := "1"
				put(u,row.OffsetM,s)
			}
			if flag == "mixed" { u := sp.ToM+.001; if i%2==1&&!same {u=sp.FromM-.001}; put(u,row.OffsetM+gap/2,"0") }
		}
		log, err := Read("csv", text)
		if err != nil {t.Fatal(err)}
		r, err := Match(plan, []Log{log}, AtAntenna, Tolerances{})
		if err != nil {t.Fatal(err)}
		if r.Passes != len(plan.Rows) || r.MissedM > 0.005*r.PlannedM || r.SownM > 1.005*r.PlannedM || len(r.RefusedFixes)>0 {
		t.Logf("gap %v same %v step %v flag %v timed %v sigma %v: passes %d/%d planned %.1f covered %.1f missed %.1f dbl %.1f over %.1f unpl %.1f refused %d scatter %.2f %v", gap, same, step, flag, timed, sigma, r.Passes, len(plan.Rows), r.PlannedM, r.CoveredM, r.MissedM, r.DoubledM, r.OverrunM, r.UnplannedM, len(r.RefusedFixes), r.ScatterM, r.Notes)
		if len(r.RefusedFixes)>0 { t.Log(r.RefusedFixes[0]) }
		}
	}}}}}}
}
