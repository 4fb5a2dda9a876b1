package walk

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// sownAnswer is calc's answer to a log laid over the rows.
type sownAnswer struct {
	Fixes      int     `json:"fixes"`
	PlannedM   float64 `json:"planned_m"`
	CoveredM   float64 `json:"covered_m"`
	MissedM    float64 `json:"missed_m"`
	DoubledM   float64 `json:"doubled_m"`
	OverrunM   float64 `json:"overrun_m"`
	UnplannedM float64 `json:"unplanned_m"`
	Rows       []struct {
		Row      int     `json:"row"`
		PlannedM float64 `json:"planned_m"`
		CoveredM float64 `json:"covered_m"`
		MissedM  float64 `json:"missed_m"`
		DoubledM float64 `json:"doubled_m"`
		OverrunM float64 `json:"overrun_m"`
	} `json:"rows"`
}

const (
	skippedBelt = 3
	doubledBelt = 7
)

// drive is how the season's rows were sown.
func (w *walk) drive() drive {
	return drive{plan: w.plan, bearingDeg: amount(w.t, w.layout.bearingDeg), skip: skippedBelt, twice: doubledBelt, begin: dayOf(w.t, -1)}
}

// loadLog loads the machine's log: what it covered, missed and doubled is what calc says,
// and what the drive was made to do.
func (w *walk) loadLog() {
	b := w.contractor
	log := logOf(w.logName, w.drive().fixes())
	w.sown = w.sownOf(log)
	b.open(w.job)
	b.press("Load a log")
	w.badLogs()
	b.attach("Log of the machine", w.keepFile(w.logName, log))
	if got := ask[string](b, "value", "Rows sown in one pass"); got != w.layout.rowsPerBelt {
		w.t.Errorf("the form offers %q rows in a pass, the belts have %s", got, w.layout.rowsPerBelt)
	}
	b.press("Load the log")
	b.says("Log loaded and matched to the rows.", count(w.sown.Fixes)+" fixes")
	b.shows(fixed(w.sown.CoveredM/1000, 2)+" row-km covered", fixed(w.sown.MissedM/1000, 2)+" missed", fixed(w.sown.DoubledM/1000, 2)+" doubled")
	b.draws("planned", "sown")
	b.unfold("Row by row")
	w.rowsMatch(b)
	w.truth()
	w.next("Sown", "Make the invoice")
}

// keepFile writes a file for a browser to choose.
func (w *walk) keepFile(name, content string) string {
	w.t.Helper()
	path := filepath.Join(w.t.TempDir(), name)
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		w.t.Fatal(err)
	}
	return path
}

func (w *walk) sownOf(log string) sownAnswer {
	w.t.Helper()
	implement := map[string]any{"rows": int(amount(w.t, w.layout.rowsPerBelt)), "row_gap_m": 0.0}
	if w.layout.gapM != "" {
		implement["row_gap_m"] = amount(w.t, w.layout.gapM)
	}
	return calc[sownAnswer](w.t, "sown", map[string]any{
		"log":  map[string]string{"format": strings.TrimPrefix(filepath.Ext(w.logName), "."), "text": log},
		"plan": w.planInput(false), "implement": implement,
	})
}

func (w *walk) sownKm() string { return fixed(w.sown.CoveredM/1000, 2) }

// rowsMatch holds the table of rows on a page against calc's.
func (w *walk) rowsMatch(b *browser) {
	w.t.Helper()
	table := ask[[][]string](b, "table", "planned m")
	if len(table) != len(w.sown.Rows) {
		w.t.Fatalf("%s lists %d rows, calc %d", b.path(), len(table), len(w.sown.Rows))
	}
	for i, r := range w.sown.Rows {
		got := figuresJoined(strings.Join(table[i], " "))
		if want := fmt.Sprintf("%d %s %s %s %s %s", r.Row, fixed(r.PlannedM, 1), fixed(r.CoveredM, 1), fixed(r.MissedM, 1), fixed(r.DoubledM, 1), fixed(r.OverrunM, 1)); got != want {
			w.t.Errorf("%s shows row %q, want %q", b.path(), got, want)
		}
	}
}

// coveredOf adds up what the table of rows on a page shows as covered, in metres.
func (w *walk) coveredOf(b *browser) float64 {
	w.t.Helper()
	sum := 0.0
	for _, cells := range ask[[][]string](b, "table", "planned m") {
		v, err := strconv.ParseFloat(figuresJoined(cells[2]), 64)
		if err != nil {
			w.t.Fatal(err)
		}
		sum += v
	}
	return sum
}

// truth holds calc's match against what the drive left out and did twice.
func (w *walk) truth() {
	w.t.Helper()
	const within = 15.0 // m of row, of some 15 km: the receiver's noise at the rows' ends
	missed, doubled := 0.0, 0.0
	for _, row := range w.plan.Rows {
		for _, s := range row.Spans {
			switch row.Belt {
			case skippedBelt:
				missed += s.LengthM
			case doubledBelt:
				doubled += s.LengthM
			}
		}
	}
	for _, sum := range []struct {
		what      string
		got, want float64
	}{
		{"planned", w.sown.PlannedM, w.plan.RowM}, {"covered", w.sown.CoveredM, w.plan.RowM - missed},
		{"missed", w.sown.MissedM, missed}, {"doubled", w.sown.DoubledM, doubled}, {"off the plan", w.sown.UnplannedM, 0},
	} {
		if !near(sum.got, sum.want, within) {
			w.t.Errorf("%s: %.1f m by the match, %.1f m were driven", sum.what, sum.got, sum.want)
		}
	}
}
