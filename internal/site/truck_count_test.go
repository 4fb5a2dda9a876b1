package site

import (
	"context"
	"strings"
	"testing"

	"rowtally/internal/count"
	"rowtally/internal/job"
)

func (p *phoneOf) counted(planID int64, occupied int) job.TruckEntry {
	e := p.entry(job.CountEntry)
	e.Count = &count.Count{PlanID: planID, Kind: count.First, CountedOn: "2026-07-20", CountedBy: operatorName,
		Stretches: []count.Stretch{{Place: 1, Placements: 10, Occupied: occupied}}}
	return e
}

func TestACountTakenWithoutSignalIsKeptOnceAndUndone(t *testing.T) {
	y := newTruckYard(t)
	id := y.first.bore().Facts.Job.ID
	plan := planned(t, y.town, id)
	standing := func() (n int) {
		all, err := y.store.Counts(context.Background(), id)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range all {
			if c.Standing() {
				n++
			}
		}
		return n
	}
	y.first.load()
	if view, err := y.first.bore().View(nil, y.first.day.Day, moment); err != nil || view.Count == nil || view.Count.PlanID != plan {
		t.Fatalf("the phone has %+v ahead (%v)", view.Count, err)
	}
	if told := y.first.handIn(y.first.counted(plan+1, 6)); told.Outcome != entryRefused || standing() != 0 {
		t.Errorf("a count at no plan: %+v", told)
	}
	if told := y.first.handIn(y.first.counted(plan, 11)); told.Outcome != entryRefused || !strings.Contains(told.Told, "11 of 10") {
		t.Errorf("more occupied than looked at: %+v", told)
	}
	e := y.first.counted(plan, 6)
	once, again := y.first.handIn(e), y.first.handIn(e)
	if once.Outcome != entryKept || again != once || standing() != 1 {
		t.Errorf("answered %+v, then %+v; %d counts", once, again, standing())
	}
	undo := y.first.entry(job.UndoEntry)
	undo.Undoes = &job.Undone{Key: e.Key}
	if told := y.first.handIn(undo); told.Outcome != entryKept || standing() != 0 {
		t.Errorf("undone: %+v, %d counts stand", told, standing())
	}
}
