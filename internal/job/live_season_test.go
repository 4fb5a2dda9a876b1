package job

import (
	"math"
	"testing"
)

// Two jobs of 24.8 row-km want 30 and 20 live seeds in each of 24 800 / 3 placements; the
// first has a window that begins later, the second none. By hand 413 333 live seeds each.
func TestLiveSeedWantedByTheWindows(t *testing.T) {
	f := sceneOf(t, 24.8)
	f.Job.WindowFrom = today.Plus(10)
	unset := sceneOf(t, 24.8)
	unset.Job.WindowFrom = ""
	bare := sceneOf(t, 24.8)
	bare.Recipe = nil
	l := SeasonOf([]Facts{unset, f, bare}, f.Shelf, nil, today).Live
	each := 24_800.0 / 3 * 50
	if len(l.Steps) != 1 || l.Steps[0].On != today.Plus(10) || math.Abs(l.Steps[0].Need/each-1) > 1e-3 || math.Abs(l.Unset/each-1) > 1e-3 || l.Unsaid != 1 {
		t.Errorf("wanted %+v, want %v each", l, each)
	}
	var ready, held float64
	for _, lot := range f.Shelf.Lots {
		live := float64(f.Shelf.OnHand(LotStock, lot.ID)) / 1000 * LotToday(lot, f.Shelf.Tests[lot.ID], today).LivePerKg
		if lot.OnHold() {
			held += live
		} else {
			ready += live
		}
	}
	if math.Abs(l.Free-ready) > 1e-6 || math.Abs(l.Held-held) > 1e-6 || held == 0 {
		t.Errorf("ready %v and held %v, want %v and %v", l.Free, l.Held, ready, held)
	}
	for i := range f.Shelf.Balances {
		f.Shelf.Balances[i].OnHand = 1
	}
	if short := SeasonOf([]Facts{f}, f.Shelf, nil, today).Live; short.ShortOn != today.Plus(10) {
		t.Errorf("an empty shed is short on %q", short.ShortOn)
	}
}
