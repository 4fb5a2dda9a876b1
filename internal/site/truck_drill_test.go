package site

import (
	"context"
	"strings"
	"testing"

	"rowtally/internal/job"
	"rowtally/internal/mix"
)

func TestADrillLoadedWithoutSignalDrawsItsSeedOnce(t *testing.T) {
	y := newTruckYard(t)
	p := y.first
	var hut job.TruckJob
	for _, j := range p.day.Jobs {
		if j.Drill != nil && len(j.Drill.Lines) > 0 && j.Drill.Lines[0].Need > 2_000 {
			hut = j
		}
	}
	if hut.Drill == nil {
		t.Fatal("no job of the day has an understorey")
	}
	line := hut.Drill.Lines[0]
	onHand := func() int64 {
		f := y.town.facts(t, hut.Facts.Job.ID)
		return f.Shelf.OnHand(job.LotStock, line.LotID)
	}
	before := onHand()
	load := p.entry(job.DrillEntry)
	load.JobID, load.Drill = hut.Facts.Job.ID, &job.DrillLoad{Ha: 1.5, Note: "first half", Lots: []mix.Ingredient{{LotID: line.LotID, Grams: 2_000}}}
	if once, again := p.handIn(load), p.handIn(load); once.Outcome != entryKept || again != once {
		t.Errorf("answered %+v, then %+v", once, again)
	}
	if got := onHand(); got != before-2_000 {
		t.Errorf("%d g are on hand, were %d", got, before)
	}
	loads, err := y.store.DrillLoads(context.Background(), load.JobID)
	if n := len(loads); err != nil || n == 0 || loads[n-1].Ha != 1.5 || loads[n-1].Note != "first half" || loads[n-1].PersonID != p.day.PersonID {
		t.Errorf("kept %+v (%v)", loads, err)
	}
	undo := p.entry(job.UndoEntry)
	undo.JobID, undo.Undoes = load.JobID, &job.Undone{Key: load.Key}
	if told := p.handIn(undo); told.Outcome != entryKept || onHand() != before {
		t.Errorf("undone: %+v, %d g of %d", told, onHand(), before)
	}
	much := load
	much.Key, much.Drill = "much", &job.DrillLoad{Ha: 1, Lots: []mix.Ingredient{{LotID: line.LotID, Grams: 900_000_000}}}
	if told := p.handIn(much); told.Outcome != entryRefused || !strings.Contains(told.Told, "load less, or receive more first") {
		t.Errorf("more than there is: %+v", told)
	}
	y.town.sound(t)
}
