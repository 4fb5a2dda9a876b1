package paper_test

import (
	"bytes"
	"strings"
	"testing"

	"rowtally/internal/ground"
	"rowtally/internal/job"
)

// rowMap is an invented square of 600 m with a dam, a no-go strip and so many belts of
// twin rows across it.
func rowMap(belts int) job.RowMap {
	m := job.RowMap{Business: "Example Rows", Code: "J-05", Name: "Gate 4", Farm: "Example Farm", Day: "2026-07-20",
		Layout: "2 rows 2 m apart to a belt, alley 20 m, along 0° true; a placement every 3 m.", Totals: "35.00 row-km in 56 rows."}
	m.Map.Outline = []job.Ring{{{-300, -300}, {300, -300}, {300, 300}, {-300, 300}}}
	m.Map.Holes = []job.Ring{{{0, 0}, {60, 0}, {60, 60}, {0, 60}}}
	m.Map.NoGo = []job.Ring{{{-200, -200}, {-100, -200}, {-100, -190}, {-200, -190}}}
	for i := range belts {
		x := job.Metres(-290 + 580*float64(i)/float64(belts))
		m.Map.Rows = append(m.Map.Rows, job.Stretch{x, -290, x, 290}, job.Stretch{x + 2, -290, x + 2, 290})
		m.Rows = append(m.Rows, job.NumberedRow{First: 2*i + 1, Last: 2*i + 2, From: [2]job.Metres{x, -290}, To: [2]job.Metres{x, 290}})
	}
	for i := range 4 {
		m.Corners = append(m.Corners, ground.LatLon{Lat: -36.4 - float64(i)/1000, Lon: 140.1})
	}
	return m
}

func TestRowMapNamesRowsCornersScaleAndNorth(t *testing.T) {
	pdf, err := press(t).RowMap(rowMap(10))
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "Row map", "J-05", "Gate 4, Example Farm", "as laid on 20 Jul 2026", "50 m", "1 : ", "N", "planned", "no-go",
		"1–2", "19–20", "numbers are of rows", "Corners, WGS 84", "-36.400000, 140.100000", "-36.403000, 140.100000", "35.00 row-km in 56 rows.")
	for _, letter := range []string{"A", "B", "C", "D"} {
		if strings.Count(text, letter) < 2 { // at its corner and in the list
			t.Errorf("corner %s is not both drawn and listed", letter)
		}
	}
}

// Where belts stand too close for a number each, some are left out and the map says so.
func TestNumbersThatCannotBeReadAreLeftOut(t *testing.T) {
	pdf, err := press(t).RowMap(rowMap(140))
	text := textOf(t, printed(t, pdf, err))
	holds(t, text, "of 140 belts are named, those between count on", "1–2")
	if seen := strings.Count(text, "–"); seen < 20 || seen > 140 {
		t.Errorf("%d numbers are set", seen)
	}
}

func TestRowMapIsTheSameBytesAgain(t *testing.T) {
	pr := press(t)
	first, err := pr.RowMap(rowMap(30))
	if err != nil {
		t.Fatal(err)
	}
	again, err := pr.RowMap(rowMap(30))
	if err != nil || !bytes.Equal(first, again) {
		t.Errorf("printed twice, the bytes differ (%v)", err)
	}
}

// A paddock of many corners and parts, and one of no width, still print.
func TestOddRowMapsPrint(t *testing.T) {
	many := rowMap(3)
	many.Corners = nil
	for i := range 200 {
		many.Corners = append(many.Corners, ground.LatLon{Lat: -36 - float64(i)/1e4, Lon: 140})
	}
	bare := job.RowMap{Code: "J-01"}
	bare.Map.Outline = []job.Ring{{{0, 0}, {0, 9000}, {1, 9000}}}
	for says, m := range map[string]job.RowMap{"140 more corners": many, "Row map": bare} {
		pdf, err := press(t).RowMap(m)
		file := printed(t, pdf, err)
		holds(t, textOf(t, file), says)
		if out := run(t, file, "qpdf", "--check", "PAPER"); !strings.Contains(out, "No syntax") {
			t.Error(out)
		}
	}
}
