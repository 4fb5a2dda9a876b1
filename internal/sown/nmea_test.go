package sown

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"rowtally/internal/published"
)

// summed puts $ before and the checksum after the body of a sentence.
func summed(body string) string { return fmt.Sprintf("$%s*%02X", body, exclusiveOr(body)) }

func TestPublishedSentences(t *testing.T) {
	for _, row := range published.Rows(t, "nmea_sentences.csv") {
		text := row.Text("input_lat_lon_deg")
		log, err := Read("nmea", text+"\r\n")
		switch row.Text("kind") {
		case "nmea_checksum":
			body, _, _ := strings.Cut(text[1:], "*")
			if got := fmt.Sprintf("%02X", exclusiveOr(body)); got != row.Text("expected") {
				t.Errorf("%s: the checksum is %s, published as %s", row.Name, got, row.Text("expected"))
			}
			if positioned := kindOf(body) != ""; positioned && (err != nil || len(log.Fixes) != 1) {
				t.Errorf("%s: %d fixes, %v", row.Name, len(log.Fixes), err)
			}
		case "nmea_reject":
			if err == nil || !strings.Contains(err.Error(), "line 1") {
				t.Errorf("%s was taken: %v, %v", row.Name, log.Fixes, err)
			}
		case "nmea_sentence":
			var lat, lon float64
			if _, err := fmt.Sscanf(row.Text("expected"), "%f; %f", &lat, &lon); err != nil {
				t.Fatal(err)
			}
			if at := log.Fixes[0].At; math.Abs(at.Lat-lat) > 1e-6 || math.Abs(at.Lon-lon) > 1e-6 {
				t.Errorf("%s lies at %v", row.Name, at)
			}
		default:
			t.Errorf("%s is of an unknown kind", row.Name)
		}
	}
}

// The sentences of another library's own tests, with what it reads of them. It refuses the
// status D, which some receivers write for a corrected position: here it is taken and told.
func TestSentencesAsAnotherLibraryReadsThem(t *testing.T) {
	for _, row := range published.Rows(t, "nmea_cases.csv") {
		text, refused := row.Text("sentence"), row.Text("refused")
		log, err := Read("nmea", text)
		switch {
		case strings.Contains(refused, "validity: D"):
			if err != nil || len(log.Notes) != 1 || !strings.Contains(log.Notes[0], "status D") {
				t.Errorf("%s: %v, %v", row.Name, log.Notes, err)
			}
		case refused != "":
			if err == nil {
				t.Errorf("%s gave %v", row.Name, log.Fixes)
			}
		case row.Text("kind") == "ZDA":
			body, _, _ := strings.Cut(text[1:], "*")
			ofDay, date, known := readZDA(body)
			if got := date.Add(ofDay).Format("2006-01-02 15:04:05.000"); !known || got != row.Text("date")+" "+row.Text("time_utc") {
				t.Errorf("%s: %s", row.Name, got)
			}
		default:
			if err != nil {
				t.Errorf("%s: %v", row.Name, err)
				continue
			}
			agreesWith(t, row, log.Fixes[0])
		}
	}
}

func agreesWith(t *testing.T, row published.Row, fix Fix) {
	t.Helper()
	if math.Abs(fix.At.Lat-row.Number("lat_deg")) > 1e-9 || math.Abs(fix.At.Lon-row.Number("lon_deg")) > 1e-9 {
		t.Errorf("%s lies at %v", row.Name, fix.At)
	}
	if got := fix.Time.Format("15:04:05.000"); got != row.Text("time_utc") {
		t.Errorf("%s: the time is %s", row.Name, got)
	}
	if got := fix.Time.Format(time.DateOnly); row.Has("date") && got != row.Text("date") {
		t.Errorf("%s: the date is %s", row.Name, got)
	}
	if row.Has("speed_kn") && math.Abs(fix.SpeedMS-row.Number("speed_kn")*1852/3600) > 1e-9 {
		t.Errorf("%s: %v m/s", row.Name, fix.SpeedMS)
	}
	if given := !math.IsNaN(float64(fix.HeadingDeg)); given && math.Abs(float64(fix.HeadingDeg)-row.Number("course_deg")) > 1e-4 {
		t.Errorf("%s: course %v", row.Name, fix.HeadingDeg)
	}
}

func TestEpochsMergeAndDropWhatTheReceiverDisowns(t *testing.T) {
	log, err := Read("nmea", strings.Join([]string{
		summed("GNRMC,010203.00,A,3624.0000,S,14006.0000,E,3.9,90.0,200726,,,A"),
		summed("GPGGA,010203.00,3624.00001,S,14006.00001,E,4,12,0.7,12.0,M,1.0,M,,"),
		summed("GNRMC,010204.00,V,,,,,,,200726,,,N"),
		summed("GPGGA,010204.00,,,,,0,,,,M,,M,,"),
		summed("GPGGA,010205.00,3624.00002,S,14006.0010,E,0,0,,,M,,M,,"),
		summed("GPGSV,1,1,00"),
		"!AIVDM,1,1,,A,15M67F,0*00",
		summed("GNRMC,010206.00,A,3624.0000,S,14006.0020,E,3.9,90.0,200726,,,E"),
		"\x00\x9f\x07 junk",
		summed("GNRMC,010207.00,A,3624.0000,S,14006.0030,E,3.9,90.0,200726,,,A") + summed("GNRMC,010208.00,A,3624.0000,S,14006.0040,E,3.9,90.0,200726,,,A"),
		"$GNRMC,010209.00,A,3624.0000,S,14006.00",
	}, "\r\n"))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range log.Fixes {
		got = append(got, fmt.Sprintf("%d %s", f.Line, f.Time.Format(time.DateTime)))
	}
	want := "1 2026-07-20 01:02:03|8 2026-07-20 01:02:06|10 2026-07-20 01:02:07|10 2026-07-20 01:02:08"
	if strings.Join(got, "|") != want {
		t.Errorf("fixes %v", got)
	}
	if lon := log.Fixes[0].At.Lon; math.Abs(lon-(140+6.00001/60)) > 1e-12 {
		t.Errorf("the GGA's position should stand, not %.9f", lon)
	}
	if speed := log.Fixes[0].SpeedMS; math.Abs(speed-3.9*0.514444) > 1e-5 {
		t.Errorf("speed %v m/s", speed)
	}
	wantRefused(t, log, 3, 4, 5, 9, 11)
	if len(log.Notes) != 1 || !strings.Contains(log.Notes[0], "dead reckoning") {
		t.Errorf("notes %q", log.Notes)
	}
}

// wantRefused compares the refused lines; every refusal must give a reason.
func wantRefused(t *testing.T, log Log, want ...int) {
	t.Helper()
	var got []int
	for _, r := range log.Refused {
		got = append(got, r.Line)
		if len(r.Why) < 10 {
			t.Errorf("line %d is refused without a reason: %q", r.Line, r.Why)
		}
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("refused lines %v, want %v: %v", got, want, log.Refused)
	}
}

func TestDaysOfALogAcrossMidnight(t *testing.T) {
	gga := func(ofDay string, n int) string {
		return summed(fmt.Sprintf("GPGGA,%s,3624.0000,S,14006.%04d,E,4,12,0.7,12.0,M,1.0,M,,", ofDay, n))
	}
	rmc := func(ofDay, date string, n int) string {
		return summed(fmt.Sprintf("GPRMC,%s,A,3624.0000,S,14006.%04d,E,3.9,90.0,%s,,", ofDay, n, date))
	}
	for name, c := range map[string]struct {
		lines   []string
		undated bool
	}{
		"leading GGA, date after midnight": {[]string{gga("235958", 0), gga("235959", 1), gga("000000", 2), rmc("000001", "010126", 3)}, false},
		"date before midnight":             {[]string{rmc("235958", "311225", 0), gga("235959", 1), gga("000000", 2), gga("000001", 3)}, false},
		"GGA of the epoch before its RMC":  {[]string{rmc("235958", "311225", 0), rmc("235959", "311225", 1), gga("000000", 2), rmc("000000", "010126", 2), gga("000001", 3)}, false},
		"no date at all":                   {[]string{gga("235958", 0), gga("235959", 1), gga("000000", 2), gga("000001", 3)}, true},
	} {
		log, err := Read("nmea", strings.Join(c.lines, "\n"))
		if err != nil || len(log.Fixes) != 4 || log.Undated != c.undated {
			t.Errorf("%s: %d fixes, undated %v, %v", name, len(log.Fixes), log.Undated, err)
			continue
		}
		first := time.Date(2025, 12, 31, 23, 59, 58, 0, time.UTC)
		for i, fix := range log.Fixes {
			if c.undated {
				first = log.Fixes[0].Time
			}
			if want := first.Add(time.Duration(i) * time.Second); !fix.Time.Equal(want) {
				t.Errorf("%s: fix %d at %v, want %v", name, i, fix.Time, want)
			}
		}
	}
}

func TestMissingChecksums(t *testing.T) {
	bare := "GPRMC,010203.00,A,3624.0000,S,14006.0000,E,3.9,90.0,200726,,,A"
	if log, err := Read("nmea", "$"+bare+"\n"); err != nil || len(log.Notes) == 0 {
		t.Errorf("a log without checksums should be taken with a note: %v, %v", log.Notes, err)
	}
	log, err := Read("nmea", "$"+bare+"\n"+summed(strings.Replace(bare, "010203", "010204", 1)))
	if err != nil {
		t.Fatal(err)
	}
	wantRefused(t, log, 1)
}

func TestWhatReceiversSayOfTheirFixes(t *testing.T) {
	rmc := func(status, mode string) string {
		return summed("GNRMC,010203.00," + status + ",3624.0000,S,14006.0000,E,3.9,90.0,200726,,," + mode)
	}
	for text, want := range map[string]string{
		rmc("A", "A"): "",
		rmc("D", "A"): "status D",
		rmc("A", "E"): "dead reckoning",
		rmc("A", "N"): "mode N",
		rmc("X", "A"): "neither A nor V",
		summed("GNRMC,250203.00,A,3624.0000,S,14006.0000,E,3.9,90.0,200726,,,A"):   "not hhmmss",
		summed("GNRMC,010203.00,A,3660.0000,S,14006.0000,E,3.9,90.0,200726,,,A"):   "its position",
		summed("GNRMC,010203.00,A,-624.0000,S,14006.0000,E,3.9,90.0,200726,,,A"):   "its position",
		summed("GPGGA,010203.00,3624.00002,S,14006.0010,E,6,0,,,M,,M,,"):           "dead reckoning",
		summed("GPGGA,010203.00,3624.00002,S,14006.0010,E,,0,,,M,,M,,"):            "fix quality",
		"$" + strings.Repeat("x", 90) + "\x01":                                     "no NMEA sentence",
		summed("GNRMC,010203.00,A,3624.0000,S,14006.0000,E,-3.9,990.0,209926,,,A"): "without a date",
	} {
		log, err := Read("nmea", text)
		said := strings.Join(log.Notes, "|")
		if err != nil {
			said = err.Error()
		}
		if want == "" && said != "" || !strings.Contains(said, want) {
			t.Errorf("%s: %q, want %q", text, said, want)
		}
	}
}
