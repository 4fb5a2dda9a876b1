package site

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"rowtally/internal/job"
	"rowtally/internal/mix"
)

func (p *phoneOf) cleanOut(ml int64, kept bool) job.TruckEntry {
	e := p.entry(job.CleanOutEntry)
	e.Remains = &job.Remains{MixML: ml, Kept: kept, Note: "frost"}
	return e
}

func (y truckYard) cleanOuts(t *testing.T) []mix.CleanOut {
	t.Helper()
	all, err := y.store.CleanOuts(context.Background(), y.first.bore().Facts.Job.ID)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestACleanOutSentTwiceIsKeptOnceAsThePhoneSplitIt(t *testing.T) {
	y := newTruckYard(t)
	e := y.first.cleanOut(20_000, true)
	told, err := y.first.bore().TryRemains(*e.Remains)
	if err != nil {
		t.Fatal(err)
	}
	before := len(y.cleanOuts(t))
	once, again := y.first.handIn(e), y.first.handIn(e)
	if once.Outcome != entryKept || again != once {
		t.Errorf("answered %+v, then %+v", once, again)
	}
	all := y.cleanOuts(t)
	if len(all) != before+1 {
		t.Fatalf("%d clean-outs, want %d", len(all), before+1)
	}
	kept := all[before]
	if fmt.Sprint(kept.Ingredient, kept.MediumML) != fmt.Sprint(told.CleanOut.Ingredient, told.CleanOut.MediumML) || !kept.Kept || kept.Note != "frost" || !kept.MadeAt.Equal(moment) {
		t.Errorf("kept %+v, the phone said %+v", kept, told.CleanOut)
	}
	y.second.load()
	view, err := y.second.bore().View(nil, y.second.day.Day, moment)
	if err != nil || view.CleanOut == nil || view.CleanOut.ID != kept.ID {
		t.Fatalf("the other phone sees %+v (%v)", view.CleanOut, err)
	}
	undo := y.second.entry(job.UndoEntry)
	undo.Undoes = &job.Undone{Kind: job.CleanOutEntry, ID: kept.ID}
	if told := y.second.handIn(undo); told.Outcome != entryKept || len(y.cleanOuts(t)) != before {
		t.Errorf("undone from the other phone: %+v, %d clean-outs", told, len(y.cleanOuts(t)))
	}
}

func TestACleanOutOfMoreThanWasMixedIsRefusedAndChangesNothing(t *testing.T) {
	y := newTruckYard(t)
	before := fmt.Sprint(y.state(context.Background(), t, y.first.day.Machines[0].ID))
	e := y.first.cleanOut(90_000_000, true)
	told := y.first.handIn(e)
	if told.Outcome != entryRefused || !strings.Contains(told.Told, "cannot remain") || y.first.handIn(e) != told {
		t.Errorf("told %+v", told)
	}
	if after := fmt.Sprint(y.state(context.Background(), t, y.first.day.Machines[0].ID)); after != before {
		t.Errorf("refused, and yet\n%s\nbefore:\n%s", after, before)
	}
}
