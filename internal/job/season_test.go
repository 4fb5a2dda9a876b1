package job

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/machine"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
)

// windowed is a job of the season with its window.
func (f Facts) windowed(id int64, name string, from unit.Date) Facts {
	f.Job.ID, f.Job.Name, f.Job.WindowFrom = id, name, from
	return f
}

// lines are what the season says, line by line.
func lines(all []SeasonLine) (out []string) {
	for _, l := range all {
		out = append(out, l.What+" | "+l.Says+" | "+l.Amount.Value+" "+l.Amount.Unit+" | "+l.By+" | "+l.Mend.Path)
	}
	return out
}

func TestTheSeasonSaysWhatIsShortAndDue(t *testing.T) {
	agreed := sceneOf(t, 24).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03").windowed(4, "Airstrip", "2026-07-27")
	asked := sceneOf(t, 24).windowed(8, "Hut", "")
	held := sceneOf(t, 35).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03").windowed(5, "Gate 4", "2026-08-10")
	held.Recipe = recipeOf(heldID)
	billed := sceneOf(t, 24).windowed(1, "East Swamp", "2025-09-01")
	billed.Papers = []bill.Paper{{ID: 9, Kind: bill.Invoice}}
	declined := sceneOf(t, 24).windowed(6, "Drain Corner", "2026-07-01")
	declined.Job.DeclinedOn = "2026-07-02"

	shelf := shelfOf()
	overdue, test := lotOf(4, "U25-09", "Trifolium fragiferum", 97, 1.57, "16", [4]int{70, 73, 69, 72}, "2025-03-04")
	usedUp, old := lotOf(5, "D20-01", "Atriplex nummularia", 92, 12, "48", [4]int{30, 30, 30, 30}, "2020-03-04")
	shelf.Lots = append(shelf.Lots, overdue, usedUp)
	shelf.Tests[4], shelf.Tests[5] = append(shelf.Tests[4], test), append(shelf.Tests[5], old)
	shelf.Balances = append(shelf.Balances, Balance{LotStock, 4, Shed, 25_000})

	tractor := machine.Machine{ID: 1, Name: "tractor", MeterMin: Minutes(5006.8), ServiceDueMin: Minutes(5050)}
	truck := machine.Machine{ID: 2, Name: "truck", MeterMin: Minutes(10), ServiceDueMin: Minutes(100)}

	s := SeasonOf([]Facts{asked, held, agreed, declined, billed}, shelf, []machine.Machine{tractor, truck}, today)
	got := lines(s.Lines)
	want := []string{
		"Asked | Hut at Example Farm | 24.00 row-km |  | /jobs/8/quote",
		"Agreed | Airstrip at Example Farm | 24.00 row-km | from 27 Jul 2026 | /truck/4",
		"Test | U25-09, Trifolium fragiferum: retest overdue since 4 Mar 2026 | 25.00 kg | overdue since 4 Mar 2026 | /shed/lots/4",
		"Service | tractor, due at 5\u2009050 h | 43.2 h left |  | /machines/1",
	}
	sameText(t, "lines", got, want...)
	if len(s.Trouble) != 1 || s.Trouble[0].What != "Gate 4 at Example Farm" || !strings.Contains(s.Trouble[0].Says, "D25-11 is on hold") || s.Trouble[0].Mend.Path != "/jobs/5/mix" {
		t.Errorf("trouble: %q", lines(s.Trouble))
	}
	var order []string
	for _, c := range s.Jobs {
		order = append(order, c.Job.Name)
	}
	sameText(t, "jobs by window", order, "East Swamp", "Drain Corner", "Airstrip", "Gate 4", "Hut")
	if want := "0 jobs being sown, 2 agreed and to come, 5 things short or due."; s.Summary() != want {
		t.Errorf("%q, want %q", s.Summary(), want)
	}
}

// 300 L are free where the agreed job takes 360. The tub that is mixed has its medium.
func TestTheMediumThatAgreedJobsLackIsSaid(t *testing.T) {
	shelf := shelfOf()
	shelf.Balances[3].OnHand = 300_000
	f := sceneOf(t, 24).quoted(t, 1, "2026-07-01").agreed(1, "2026-07-03") // takes 360 L
	f.Shelf = shelf
	quoted := sceneOf(t, 24).quoted(t, 1, "2026-07-01") // not agreed: takes none yet
	quoted.Shelf = shelf
	s := SeasonOf([]Facts{f, quoted}, shelf, nil, today)
	got := lines(s.Lines)
	if len(got) != 1 || got[0] != "Medium | agreed jobs need more vermiculite than is free | 60.0 L |  | /shed/media/1/stock" {
		t.Errorf("the season says %q", got)
	}
	f.Tubs = []mix.Tub{{MixML: 160_000, MediumML: 160_000, ProductID: vermiculiteID, Number: 1}} // 200 L are still to be mixed
	if s := SeasonOf([]Facts{f}, shelf, nil, today); len(lines(s.Lines)) != 1 || strings.Contains(lines(s.Lines)[0], "Medium") {
		t.Errorf("with a tub mixed the season says %q", lines(s.Lines))
	}
}

func TestAnEmptySeasonSaysSo(t *testing.T) {
	if got := SeasonOf(nil, Shelf{}, nil, today).Summary(); got != "0 jobs being sown, 0 agreed and to come, 0 things short or due." {
		t.Errorf("%q", got)
	}
}

func TestFarmsSayWhoWaits(t *testing.T) {
	for _, c := range []struct {
		farms int
		open  map[int64]int
		want  string
	}{
		{0, nil, "No farm is kept yet."},
		{3, map[int64]int{}, "No farm waits for anything."},
		{1, map[int64]int{1: 1}, "1 of 1 farm waits for something: 1 open job."},
		{3, map[int64]int{2: 4}, "1 of 3 farms waits for something: 4 open jobs."},
		{3, map[int64]int{1: 2, 3: 1}, "2 of 3 farms wait for something: 3 open jobs."},
	} {
		if got := FarmsSay(c.farms, c.open); got != c.want {
			t.Errorf("%d farms, %v open: %q, want %q", c.farms, c.open, got, c.want)
		}
	}
}
