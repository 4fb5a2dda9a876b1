package paper_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// sownSheet is an invented record of so many rows.
func sownSheet(rows int) job.SownSheet {
	m := rowMap(10)
	m.Map.Sown, m.Map.Missed = m.Map.Rows[:16], m.Map.Rows[16:]
	s := job.SownSheet{Issuer: invoice().Issuer, Code: "J-05", Name: "Gate 4", Farm: "Example Farm", Season: 2026, MatchedOn: "2026-07-20",
		For: "invoice T2026-0007", Map: m.Map, Belts: m.Rows, Layout: m.Layout,
		Sums:  []job.SheetSum{{What: "planned", Amount: "35.00", Unit: "row-km"}, {What: "driven while sowing", Amount: "17.12", Unit: "driven km"}},
		How:   []bill.Particular{{Heading: "Method", Text: "Measured from the machine's log."}, {Heading: "Tolerances", Text: "Our own settings."}},
		Files: []job.SownFile{{Name: "gate-4.csv", SHA256: strings.Repeat("0123456789abcdef", 4), Bytes: 12345, Fixes: 678, PassRows: 2, RowGapM: 2, From: time.Date(2026, 7, 20, 1, 0, 0, 0, time.UTC), To: time.Date(2026, 7, 20, 4, 30, 0, 0, time.UTC)}}}
	for i := range rows {
		s.Rows = append(s.Rows, job.SownRow{Row: i + 1, PlannedM: 310.4, CoveredM: 300.25, MissedM: 10.15, DoubledM: 1.2, OverrunM: 3.4})
	}
	return s
}

func TestSownRecordHoldsWhatItRestsOn(t *testing.T) {
	pdf, err := press(t).Sown(sownSheet(3))
	holds(t, textOf(t, printed(t, pdf, err)), "Sown record", "J-05", "as it stood for invoice T2026-0007", "season 2026, matched on 20 Jul 2026", "1 : ", "missed",
		"35.00", "17.12", "driven km", "How it was measured", "Our own settings.", "gate-4.csv", strings.Repeat("0123456789abcdef", 4),
		"20 Jul 2026 01:00 to 20 Jul 2026 04:30 UTC", "2 rows 2 m apart in a pass", "Row by row", "310.4", "1–2")
}

func TestSownRecordListsTheHeadland(t *testing.T) {
	s := sownSheet(3)
	s.Headland = []job.SownLap{{Pass: 1, Row: 1, PlannedM: 1212.5, CoveredM: 1200.2, MissedM: 12.3}, {Pass: 1, Row: 2, PlannedM: 1196.5, CoveredM: 1196.5}}
	pdf, err := press(t).Sown(s)
	holds(t, textOf(t, printed(t, pdf, err)), "Headland, by pass and row", "1, 2", "1 212.5", "1 200.2", "12.3")
}

// Every row stands on some page, and each page of rows repeats the heads.
func TestALongSownRecordRepeatsItsHeads(t *testing.T) {
	const rows = 200
	pdf, err := press(t).Sown(sownSheet(rows))
	text := textOf(t, printed(t, pdf, err))
	pages := strings.Split(text, "\f")
	listed := 0
	for i, page := range pages {
		here := strings.Count(page, "310.4")
		if listed += here; here > 0 && strings.Count(page, "past ends m") != 1 {
			t.Errorf("page %d has %d rows and %d heads", i+1, here, strings.Count(page, "past ends m"))
		}
	}
	if listed != rows || len(pages) < 4 {
		t.Errorf("%d of %d rows on %d pages", listed, rows, len(pages))
	}
	holds(t, text, fmt.Sprintf("page 1 of %d", len(pages)-1))
}

func TestSownRecordIsTheSameBytesAgain(t *testing.T) {
	first, err := press(t).Sown(sownSheet(40))
	if err != nil {
		t.Fatal(err)
	}
	text, err := sownSheet(40).Text()
	if err != nil {
		t.Fatal(err)
	}
	kept, err := job.ReadSownSheet(text)
	if err != nil {
		t.Fatal(err)
	}
	again, err := press(t).Sown(kept)
	if err != nil || !bytes.Equal(first, again) {
		t.Errorf("printed again from what was kept, the bytes differ (%v)", err)
	}
}
