package store

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"gorm.io/gorm"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// sameAloneAsTogether reads the facts of every job by itself and of all together: but for
// what is read for one job alone, they are the same, and every noun that was kept of a job
// hangs on it alone.
func sameAloneAsTogether(t *testing.T, y yard) {
	t.Helper()
	last := y.lastFacts()
	const today unit.Date = "2026-07-20"
	together, err := y.FactsWhere(y.ctx, today, func(job.Job) bool { return true })
	y.must(err)
	standing, err := y.Standings(y.ctx, today)
	y.must(err)
	for i, f := range together {
		if s := standing[i]; s.Job != f.Job || job.StageOf(s) != job.StageOf(f) || s.Past() != f.Past() || s.PaidOn() != f.PaidOn() || s.Queried() != f.Queried() {
			t.Errorf("job %d stands as %s, past %v; by everything known %s, %v", s.Job.ID, job.StageOf(s), s.Past(), job.StageOf(f), f.Past())
		}
	}
	var filled []string
	for _, f := range together {
		alone, err := y.Facts(y.ctx, f.Job.ID, today)
		y.must(err)
		alone.Costs, alone.Yard = f.Costs, f.Yard
		for i := range reflect.TypeOf(f).NumField() {
			field := reflect.TypeOf(f).Field(i)
			if !field.IsExported() {
				continue
			}
			one, all := reflect.ValueOf(alone).Field(i).Interface(), reflect.ValueOf(f).Field(i).Interface()
			if !reflect.DeepEqual(one, all) {
				t.Errorf("%s of job %d: alone %+v, among all %+v", field.Name, f.Job.ID, one, all)
			}
			if v := reflect.ValueOf(f).Field(i); !v.IsZero() {
				filled = append(filled, fmt.Sprint(f.Job.ID, field.Name))
			}
		}
	}
	for _, noun := range []string{"Layout", "Recipe", "Rates", "Papers", "Catches", "Tubs", "CleanOuts", "Moved", "Understorey", "DrillLoads", "DaySheets", "Logs", "Sown",
		"CountPlans", "Counts", "Measuring", "Questions", "Terms", "Farm", "Paddock", "Readings", "Acceptances", "Placed"} {
		if !strings.Contains(fmt.Sprint(filled), noun) {
			t.Errorf("no job has %s", noun)
		}
	}
	if f := together[len(together)-1]; f.Job.ID != last || f.Layout == nil || f.Layout.BearingDeg != 45 || len(f.Papers) != 1 || f.Tubs != nil || f.Logs != nil {
		t.Errorf("the last job has what is another's: %+v", f)
	}
}

// lastFacts adds a job of its own with what no other test leaves behind, and a reading of the
// paddock that all share.
func (y yard) lastFacts() int64 {
	y.t.Helper()
	jobID := y.newJob()
	y.must(y.KeepLayout(y.ctx, y.act(), job.Layout{JobID: jobID, BearingDeg: 45, RowsPerBelt: 1, AlleyM: 4, SpacingM: 3}))
	y.must(y.KeepUnderstorey(y.ctx, y.act(), job.Understorey{JobID: jobID, HectaresOf: job.AlleyHa, Species: []job.UnderstoreySpecies{
		{Species: "Puccinellia ciliata", RateKgPerHa: 4, LotIDs: []int64{y.lot}}, {Species: "Trifolium michelianum", RateKgPerHa: 2}}}))
	y.id(y.AddReading(y.ctx, y.act(), salt(y.paddock)))
	p := y.issue(invoice(jobID))
	y.id(y.Pay(y.ctx, y.act(), paid(y.farm, 1_000_00, bill.Placing{PaperID: p.ID, Amount: 400_00, PlacedBy: bill.ByHand})))
	return jobID
}

// What is said of logs is read beside them: a log may be as large as 200 MB.
func TestListsOfLogsAreReadBesideTheLogs(t *testing.T) {
	t.Parallel()
	y := onFile(t)
	dry := logHeads(y.reader(y.ctx).Session(&gorm.Session{DryRun: true}), 1, 2).Find(&[]job.Log{}).Statement
	type step struct{ Detail string }
	var plan []step
	y.must(y.reader(y.ctx).Raw("EXPLAIN QUERY PLAN "+dry.SQL.String(), dry.Vars...).Scan(&plan).Error)
	if !strings.Contains(fmt.Sprint(plan), "COVERING INDEX logs_heads") {
		t.Errorf("%s is read by %v: keep all that is said of a log in the index logs_heads", dry.SQL.String(), plan)
	}
}
