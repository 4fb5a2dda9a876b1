package site

import (
	"context"
	"strings"
	"testing"
	"time"

	"rowtally/internal/job"
	"rowtally/internal/mix"
)

func TestADrillLoadedWithoutSignalDrawsItsSeedOnce(t *testing.T) {
	w := sownBetween(t)
	w.contractor.post("/jobs/1/understorey", understoreyForm...).mustLead(t, "/jobs/1?done=kept#understorey")
	p := &phoneOf{browser: w.operator}
	p.load()
	taken := p.day.Jobs[0]
	if taken.Drill == nil || len(taken.Drill.Lines) != 1 || taken.Drill.Lines[0].Code != "U26-03" || taken.Drill.Lines[0].Need < 2_000 {
		t.Fatalf("the phone has %+v of the drill", taken.Drill)
	}
	entry := func(key string, kind job.EntryKind) job.TruckEntry {
		return job.TruckEntry{Key: key, Kind: kind, PersonID: p.day.PersonID, JobID: 1, At: moment, SentAt: moment.Add(time.Minute)}
	}
	onHand := func() int64 {
		f := w.facts(t, 1)
		return f.Shelf.OnHand(job.LotStock, 2)
	}
	before := onHand()
	load := entry("load", job.DrillEntry)
	load.Drill = &job.DrillLoad{Ha: 1.5, Note: "first half", Lots: []mix.Ingredient{{LotID: 2, Grams: 2_000}}}
	if once, again := p.handIn(load), p.handIn(load); once.Outcome != entryKept || again != once {
		t.Errorf("answered %+v, then %+v", once, again)
	}
	if got := onHand(); got != before-2_000 {
		t.Errorf("%d g are on hand, were %d", got, before)
	}
	loads, err := w.store.DrillLoads(context.Background(), 1)
	if err != nil || len(loads) != 1 || loads[0].Ha != 1.5 || loads[0].Note != "first half" || loads[0].PersonID != p.day.PersonID {
		t.Errorf("kept %+v (%v)", loads, err)
	}
	p.load()
	if d := p.day.Jobs[0].Drill; d.Lines[0].Loaded != 2_000 || d.LoadedHa != 1.5 {
		t.Errorf("the phone has %+v of the drill", d)
	}
	undo := entry("undo", job.UndoEntry)
	undo.Undoes = &job.Undone{Key: load.Key}
	if told := p.handIn(undo); told.Outcome != entryKept || onHand() != before {
		t.Errorf("undone: %+v, %d g of %d", told, onHand(), before)
	}
	much := entry("much", job.DrillEntry)
	much.Drill = &job.DrillLoad{Ha: 1, Lots: []mix.Ingredient{{LotID: 2, Grams: 900_000_000}}}
	if told := p.handIn(much); told.Outcome != entryRefused || !strings.Contains(told.Told, "load less, or receive more first") {
		t.Errorf("more than there is: %+v", told)
	}
	w.sound(t)
}
