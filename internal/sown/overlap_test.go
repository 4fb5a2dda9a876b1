package sown

import (
	"fmt"
	"strings"
	"testing"

	"rowtally/internal/rows"
)

// lines of a log from one share of it to another, under its head.
func shareOf(text string, from, to float64) string {
	head, body, _ := strings.Cut(text, "\n")
	lines := strings.SplitAfter(body, "\n")
	n := float64(len(lines))
	return head + "\n" + strings.Join(lines[int(from*n):int(to*n)], "")
}

func driven(t testing.TB, name, text string, machine Implement) Drive {
	t.Helper()
	return Drive{name, read(t, "csv", text), machine}
}

func matched(t testing.TB, plan rows.Plan, drives ...Drive) Record {
	t.Helper()
	r, err := MatchDrives(plan, drives, Tolerances{})
	if err != nil {
		t.Fatal(err)
	}
	checkLaws(t, r)
	return r
}

// TestOverlappingFilesCountOnce parts one drive into files that overlap, and has a second
// receiver on the same machine: what is sown is what was driven, not more.
func TestOverlappingFilesCountOnce(t *testing.T) {
	plan := paddock(t, 200, 500, 17, 2, 2, 12)
	drives := farm(plan, twin)
	truth := truthM(drives, twin)
	for _, asFlag := range []bool{true, false} {
		l := rtk
		l.asFlag = asFlag
		whole := l.csvLog(plan, drives, 0)
		second := l
		second.seed, second.hz, second.scatterM, second.memoryS = 9, 2, 1.5, 30
		other := second.csvLog(plan, drives, 0)
		for name, parts := range map[string][2]string{
			"a file that goes on from within another": {shareOf(whole, 0, 0.62), shareOf(whole, 0.37, 1)},
			"a file inside another":                   {whole, shareOf(whole, 0.3, 0.6)},
			"a file round another":                    {shareOf(whole, 0.3, 0.6), whole},
			"all of it with another line end":         {whole, strings.ReplaceAll(whole, "\n", "\r\n")},
			"another receiver":                        {whole, other},
			"another receiver for a part":             {shareOf(whole, 0, 0.7), shareOf(other, 0.4, 1)},
		} {
			t.Run(fmt.Sprintf("%s, flag %v", name, asFlag), func(t *testing.T) {
				r := matched(t, plan, driven(t, "day 1.csv", parts[0], twin), driven(t, "day 2.csv", parts[1], twin))
				within := 0.0005 * truth
				if strings.HasPrefix(name, "another") {
					within = 0.002 * truth
				}
				near(t, "sown", r.SownM, truth, within)
				near(t, "doubled", r.DoubledM, 0, within)
				notes := strings.Join(r.Notes, "|")
				if !strings.Contains(notes, "of the same machine and time as") || r.RefusedCount() < 100 {
					t.Errorf("%d left out, notes %q", r.RefusedCount(), notes)
				}
				if len(r.RefusedFixes) > 5 {
					t.Errorf("%d runs of refused fixes: %+v", len(r.RefusedFixes), r.RefusedFixes[:5])
				}
			})
		}
	}
}

// TestTheFileThatTellsTheStateCounts has the same drive with and without the implement's
// state, in either order.
func TestTheFileThatTellsTheStateCounts(t *testing.T) {
	plan := paddock(t, 100, 400, 17, 2, 2, 12)
	l := rtk
	flagged := driven(t, "flagged.csv", l.csvLog(plan, farm(plan, twin), 0), twin)
	l.asFlag = false
	plain := driven(t, "plain.csv", l.csvLog(plan, farm(plan, twin), 0), twin)
	for _, drives := range [][]Drive{{flagged, plain}, {plain, flagged}} {
		r := matched(t, plan, drives...)
		if r.SownBy != "flag" || r.Fixes != len(flagged.Log.Fixes) {
			t.Errorf("told by %s from %d fixes of %d", r.SownBy, r.Fixes, len(flagged.Log.Fixes))
		}
	}
}

// TestAnotherDayCountsAgain: the same drive on another day is another sowing.
func TestAnotherDayCountsAgain(t *testing.T) {
	plan := paddock(t, 100, 400, 17, 2, 2, 12)
	text := rtk.csvLog(plan, farm(plan, twin), 0)
	r := matched(t, plan, driven(t, "1", text, twin), driven(t, "2", strings.ReplaceAll(text, "2026-07-20", "2026-07-21"), twin))
	near(t, "covered", r.CoveredM, plan.RowM, 0.003*plan.RowM)
	near(t, "doubled", r.DoubledM, plan.RowM, 0.003*plan.RowM)
}

// TestUnlikeMachinesAreOneRecord has a twin, and a machine of three rows beside and behind
// its antenna, at the same hours of the same day, each on its own part of the paddock; the
// second sows two belts of the first again.
func TestUnlikeMachinesAreOneRecord(t *testing.T) {
	plan := paddock(t, 190, 500, 17, 6, 2, 12)
	wide := Implement{Rows: 3, RowGapM: 2, OffsetRightM: -1.2, BehindM: 4}
	if len(plan.Rows) != 42 {
		t.Fatalf("%d rows", len(plan.Rows))
	}
	byTwin, byWide := farm(plan, twin), farm(plan, wide)
	first, second := byTwin[:18], byWide[9:]
	truthOne, truthTwo := truthM(first, twin), truthM(second, wide)
	l, m := rtk, rtk
	m.seed, m.hz, m.speedMS = 3, 5, 2.4
	r := matched(t, plan, driven(t, "twin.csv", l.csvLog(plan, first, twin.BehindM), twin), driven(t, "wide.csv", m.csvLog(plan, second, wide.BehindM), wide))
	near(t, "sown", r.SownM, truthOne+truthTwo, 0.001*(truthOne+truthTwo))
	near(t, "covered", r.CoveredM, plan.RowM, 0.001*plan.RowM)
	near(t, "doubled", r.DoubledM, truthOne+truthTwo-plan.RowM, 0.001*plan.RowM)
	near(t, "unplanned", r.UnplannedM, 0, 1)
	if r.Passes != len(first)+len(second) {
		t.Errorf("%d passes of %d", r.Passes, len(first)+len(second))
	}
	if len(r.RefusedFixes) > 0 {
		t.Errorf("of two machines %+v is left out", r.RefusedFixes[0])
	}
}
