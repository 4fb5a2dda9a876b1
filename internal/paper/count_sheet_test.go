package paper_test

import (
	"bytes"
	"fmt"
	"testing"
	"time"

	"rowtally/internal/count"
	"rowtally/internal/ground"
	"rowtally/internal/job"
)

// countSheet is an invented sheet of so many places on the map of ten belts.
func countSheet(places int) job.CountSheet {
	s := job.CountSheet{Business: "Example Rows", Code: "J-05", Name: "Gate 4", Farm: "Example Farm", Made: "drawn on 20 Jul 2026 with the number 48 213",
		Map: rowMap(10).Map, Species: []string{"old man saltbush", "wavy leaf saltbush"}, Cautions: job.CountCautions()}
	s.Plan = count.Plan{PerStretch: 10, SpacingM: 3, BearingDeg: 4, MadeAt: time.Date(2026, 7, 20, 0, 0, 0, 0, time.UTC)}
	for i := range places {
		at := ground.LatLon{Lat: -36.4 - float64(i)/1e4, Lon: 140.1}
		s.Plan.Places = append(s.Plan.Places, count.Place{Row: i + 1, AlongM: float64(7 * i), At: at})
		s.Ends = append(s.Ends, ground.LatLon{Lat: at.Lat + 2e-4, Lon: at.Lon})
		s.Map.Marks = append(s.Map.Marks, job.Mark{job.Metres(-280 + 25*i), job.Metres(-250 + 20*i)})
	}
	s.How = job.HowToCount(s.Plan)
	return s
}

func TestTheCountSheetHasEveryPlaceWithItsBoxes(t *testing.T) {
	pdf, err := press(t).CountSheet(countSheet(19))
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "Count sheet", "J-05", "Gate 4, Example Farm", "with the number 48 213", "How to count", "the next 10 placements", "Take care", "check-in",
		"counted on", "placements with old man saltbush", "placements with wavy leaf saltbush", "occupied", "looked at", "of 10", "126", "-36.401800, 140.100000", "to -36.401600", "page 2 of 2")
	for i := range 19 {
		holds(t, text, fmt.Sprintf("-36.40%02d00, 140.100000", i))
	}
}

func TestACountSheetIsTheSameBytesAgainAndRunsOn(t *testing.T) {
	once, err := press(t).CountSheet(countSheet(19))
	again, second := press(t).CountSheet(countSheet(19))
	if err != nil || second != nil || !bytes.Equal(once, again) {
		t.Errorf("the bytes differ, %v, %v", err, second)
	}
	pdf, err := press(t).CountSheet(countSheet(120))
	holds(t, textOf(t, printed(t, pdf, err)), "page 7 of 7", "-36.411900, 140.100000")
	pdf, err = press(t).CountSheet(job.CountSheet{})
	printed(t, pdf, err)
}
