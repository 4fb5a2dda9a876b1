package sown

import (
	"encoding/binary"
	"fmt"
	"strings"
	"testing"
	"time"
)

// told is what a log says, for a test to compare: its fixes' times, what was refused, and its notes.
func told(log Log) string {
	var times []string
	for _, f := range log.Fixes {
		if f.Timed() {
			times = append(times, f.Time.Format("2 15:04:05.999"))
		} else {
			times = append(times, "-")
		}
	}
	return fmt.Sprintf("%s; %d refused; %s", strings.Join(times, ", "), len(log.Refused), strings.Join(log.Notes, "; "))
}

// sentencesOf makes GGA and RMC sentences, 10 m apart, from "GGA 235958", "RMC 000001 010126" or a ZDA's
// fields "ZDA 000000,09,03,2026,00,00".
func sentencesOf(list ...string) string {
	var lines []string
	for i, one := range list {
		kind, rest, _ := strings.Cut(one, " ")
		ofDay, date, _ := strings.Cut(rest, "/")
		switch kind {
		case "GGA":
			lines = append(lines, summed(fmt.Sprintf("GPGGA,%s,3624.0000,S,14006.%04d,E,4,12,0.7,12.0,M,1.0,M,,", ofDay, 60*i)))
		case "RMC":
			lines = append(lines, summed(fmt.Sprintf("GPRMC,%s,A,3624.0000,S,14006.%04d,E,3.9,90.0,%s,,", ofDay, 60*i, date)))
		default:
			lines = append(lines, summed("GN"+kind+","+rest))
		}
	}
	return strings.Join(lines, "\r\n") + "\r\n"
}

func TestNMEATraps(t *testing.T) {
	const undated = "the log gives times without a date"
	for name, c := range map[string]struct{ text, want string }{
		"no dates, a ZDA at the end":             {sentencesOf("GGA 235958", "GGA 000002", "ZDA 000003,09,03,2026,00,00"), "8 23:59:58, 9 00:00:02; 0 refused; "},
		"no dates, a ZDA just after midnight":    {sentencesOf("GGA 235958", "GGA 235959", "ZDA 000000,09,03,2026,00,00"), "8 23:59:58, 8 23:59:59; 0 refused; "},
		"no dates, a ZDA in the middle":          {sentencesOf("GGA 220000", "GGA 020000", "ZDA 020000,09,03,2026,00,00", "GGA 190000", "GGA 010000"), "8 22:00:00, 9 02:00:00, 9 19:00:00, 10 01:00:00; 0 refused; "},
		"a ZDA between the halves of a moment":   {sentencesOf("RMC 101500.2/", "ZDA 101500,09,03,2026,00,00", "GGA 101500.2", "GGA 101501"), "9 10:15:00.2, 9 10:15:01; 0 refused; "},
		"a ZDA of a receiver without satellites": {sentencesOf("ZDA 000012,06,01,1980,00,00", "GGA 101500", "ZDA ,,,,,"), "1 10:15:00; 0 refused; " + undated},
		"a ZDA of no day":                        {sentencesOf("ZDA 101500,31,02,2026,00,00", "GGA 101500"), "1 10:15:00; 0 refused; " + undated},
		"several days without a date":            {sentencesOf("GGA 220000", "GGA 060000", "GGA 180000", "GGA 020000"), "1 22:00:00, 2 06:00:00, 2 18:00:00, 3 02:00:00; 0 refused; " + undated},
		"a date that jumps years":                {sentencesOf("RMC 101500/070820", "RMC 101501/080826"), "7 10:15:00, 8 10:15:01; 0 refused; "},
		"no fraction, a point, three digits":     {sentencesOf("RMC 101500/090326", "RMC 101501./090326", "RMC 101502.125/090326"), "9 10:15:00, 9 10:15:01, 9 10:15:02.125; 0 refused; "},
		"blanks beside the time":                 {sentencesOf("RMC 101500 /090326", "RMC  101501/090326"), "9 10:15:00, 9 10:15:01; 0 refused; "},
		"letters within the time":                {sentencesOf("RMC 101500.x/090326", "RMC .1/090326", "RMC 101502/090326"), "9 10:15:02; 2 refused; "},
		"the halves of moments apart":            {sentencesOf("RMC 101500/090326", "RMC 101501/090326", "GGA 101500", "GGA 101501", "RMC 101502/090326", "GGA 101502"), "9 10:15:00, 9 10:15:01, 9 10:15:02; 0 refused; "},
		"a sentence twice":                       {sentencesOf("RMC 101500/090326", "RMC 101501/090326", "RMC 101500/090326"), "9 10:15:00, 9 10:15:01; 1 refused; "},
		"UTF-16":                                 {asUTF16(sentencesOf("RMC 101500/090326", "GGA 101500", "GGA 101501"), binary.LittleEndian), "9 10:15:00, 9 10:15:01; 0 refused; "},
	} {
		if got := told(read(t, "nmea", c.text)); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, c.want)
		}
	}
}

func TestCSVTimeTraps(t *testing.T) {
	const utc, dayFirst, undated = "times without a zone were taken for UTC", "dates like 20/07/2026 were read day first", "the log gives times without a date"
	row := func(head string, values ...string) string {
		text := "lat,lon," + head + "\n"
		for i, v := range values {
			text += fmt.Sprintf("-36.4,%.4f,%s\n", 140.1+1e-4*float64(i), v)
		}
		return text
	}
	for name, c := range map[string]struct{ text, want string }{
		"date and time apart":         {row("date,time", "2026-07-20,09:30:00", "2026-07-20,09:30:01.5"), "20 09:30:00, 20 09:30:01.5; 0 refused; " + utc},
		"time before date":            {row("Time,Date", "09:30:00Z,2026/07/20", "09:30:01Z,2026/07/20"), "20 09:30:00, 20 09:30:01; 0 refused; "},
		"across midnight":             {row("date,time", "2026-07-20,23:59:59", "2026-07-21,00:00:00"), "20 23:59:59, 21 00:00:00; 0 refused; " + utc},
		"day first":                   {row("date,time", "20/07/2026,09:30:00"), "20 09:30:00; 0 refused; " + utc + "; " + dayFirst},
		"month first cannot be":       {row("date,time", "07/20/2026,09:30:00", "20/07/2026,09:30:01"), "20 09:30:01; 1 refused; " + utc + "; " + dayFirst},
		"slashes in one column":       {row("time", "2026/07/20 09:30:00", "20/07/2026 09:30:01"), "20 09:30:00, 20 09:30:01; 0 refused; " + utc + "; " + dayFirst},
		"date holds it all":           {row("date", "2026-07-20T09:30:00Z"), "20 09:30:00; 0 refused; "},
		"date beside a full time":     {row("date,time", "sown on Monday,2026-07-20T09:30:00Z"), "20 09:30:00; 0 refused; "},
		"times of an unknown day":     {row("time", "23:59:58", "00:00:02"), "1 23:59:58, 2 00:00:02; 0 refused; " + undated + "; " + utc},
		"a day here and none there":   {row("time", "2026-07-20T09:30:00Z", "09:30:01"), "20 09:30:00; 1 refused; " + utc},
		"a zone here and none there":  {row("time", "2026-07-20T09:30:00+09:30", "09:30:01"), "20 00:00:00; 1 refused; " + utc},
		"timestamp":                   {row("timestamp", "2026-07-20T09:30:00+09:30[Australia/Adelaide]"), "20 00:00:00; 0 refused; "},
		"timestamp beside time":       {row("timestamp,time", "17,2026-07-20T09:30:00Z"), "20 09:30:00; 0 refused; "},
		"remarks before the header":   {"# logged by unit 7\n#lat,lon\n\nlat,long\n-36.4,140.1\n#-36.5,140.1\n-36.4,140.2\n", "-, -; 0 refused; "},
		"lat_deg and lon_deg":         {"LAT_DEG;LON_DEG\n-36.4;140.1\n", "-; 0 refused; "},
		"a time of 25 hours":          {row("date,time", "2026-07-20,25:30:00", "2026-07-20,09:30:00"), "20 09:30:00; 1 refused; " + utc},
		"a date that is none":         {row("date,time", "2026-02-30,09:30:00", "2026-07-20,09:30:00"), "20 09:30:00; 1 refused; " + utc},
		"two-digit hours, two-digit…": {row("date,time", "1/7/2026,9:30:00"), "1 09:30:00; 0 refused; " + utc + "; " + dayFirst},
	} {
		if got := told(read(t, "csv", c.text)); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, c.want)
		}
	}
	log := read(t, "csv", "lat,N/S,lon,E/W\n36.4,S,140.1,E\n36.4,n,140.1,w\n36.4,,140.1,\n-36.4,S,140.1,E\n36.4,E,140.1,S\n")
	wantRefused(t, log, 5, 6)
	for i, want := range [][2]float64{{-36.4, 140.1}, {36.4, -140.1}, {36.4, 140.1}} {
		if at := log.Fixes[i].At; at.Lat != want[0] || at.Lon != want[1] {
			t.Errorf("line %d lies at %v, want %v", log.Fixes[i].Line, at, want)
		}
	}
	_, err := Read("csv", row("date,time", "07/20/2026,09:30:00"))
	if err == nil || !strings.Contains(err.Error(), `"07/20/2026 09:30:00"`) {
		t.Errorf("the refusal should quote the date and the time: %v", err)
	}
}

func TestGPXTraps(t *testing.T) {
	const utc = "times without a zone were taken for UTC"
	point := func(inside ...string) string {
		text := "<trk><name>Süd</name><trkseg>"
		for i, one := range inside {
			text += fmt.Sprintf("<trkpt lat='-36.4' lon='%.4f'>%s</trkpt>", 140.1+1e-4*float64(i), one)
		}
		return text + "</trkseg></trk>"
	}
	two := point("<time>2026-07-20T00:00:00Z</time>", "<time>2026-07-20T00:00:01.25Z</time>")
	const both = "20 00:00:00, 20 00:00:01.25; 0 refused; "
	for name, c := range map[string]struct{ text, want string }{
		"no declaration, no namespace":        {"<gpx>" + two + "</gpx>", both},
		"no root element":                     {two, both},
		"a prefix before every element":       {strings.NewReplacer("</", "</g:", "<", "<g:").Replace("<gpx>" + two + "</gpx>"), both},
		"ISO-8859-1, declared as UTF-8":       {`<?xml version="1.0" encoding="UTF-8"?><gpx>` + strings.ReplaceAll(two, "ü", "\xfc") + "</gpx>", both},
		"ISO-8859-1, not declared":            {"<gpx>" + strings.ReplaceAll(two, "ü", "\xfc") + "</gpx>", both},
		"UTF-16 without a mark":               {asUTF16("<gpx>"+two+"</gpx>", binary.BigEndian)[2:], both},
		"no times":                            {point("", "<ele>3</ele>"), "-, -; 0 refused; "},
		"times here and there":                {point("<time>2026-07-20T00:00:00Z</time>", "", "<time>2026-07-20T00:00:09Z</time>"), "20 00:00:00, -, 20 00:00:09; 0 refused; "},
		"an offset, with a colon and without": {point("<time>2026-07-20T09:30:00+09:30</time>", "<time>2026-07-20T09:30:01+0930</time>"), "20 00:00:00, 20 00:00:01; 0 refused; "},
		"a zone's name in brackets":           {point("<time>2026-07-20T09:30:00+09:30[Australia/Adelaide]</time>", "<time>2026-07-20T00:00:01Z[UTC]</time>"), "20 00:00:00, 20 00:00:01; 0 refused; "},
		"no zone":                             {point("<time>2026-07-20T00:00:00</time>", "<time>2026-07-20 00:00:01.5</time>"), "20 00:00:00, 20 00:00:01.5; 0 refused; " + utc},
		"lines within an element":             {point("<time>\n\t2026-07-20T00:00:00Z\n</time>", "<time>\n<![CDATA[2026-07-20T00:00:01Z]]>\n</time>"), "20 00:00:00, 20 00:00:01; 0 refused; "},
		"a remark within an element":          {point("<time>2026-07-20T00:00:00Z<!-- by hand -->\n</time>"), "20 00:00:00; 0 refused; "},
		"seven digits of a second":            {point("<time>2026-07-20T00:00:00.1230000Z</time>"), "20 00:00:00.123; 0 refused; "},
		"a program that knows no time":        {point("<time>0001-01-01T00:00:00Z</time>", "<time>0001-01-01T00:00:00Z</time>"), "-, -; 0 refused; "},
		"a time that is none":                 {point("<time>2026-07-20T00:00:00Z</time>", "<time>noon</time>"), "20 00:00:00; 1 refused; "},
		"file and track with times of theirs": {"<gpx><metadata><time>2020-01-01T00:00:00Z</time></metadata><wpt lat='1' lon='2'><time>2021-01-01T00:00:00Z</time></wpt>" + two + "</gpx>", both},
		"breaks off within a point":           {"<gpx>" + strings.TrimSuffix(two, "</time></trkpt></trkseg></trk>"), "20 00:00:00; 0 refused; "},
	} {
		if got := told(read(t, "gpx", c.text)); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, c.want)
		}
	}
}

// daysOf makes a log of several days in a given order, a fix a second, each day's a little farther east.
func daysOf(seconds int, days ...int) string {
	text := "time,lat,lon\n"
	for _, day := range days {
		for s := range seconds {
			at := time.Date(2026, 7, day, 1, 0, s, 0, time.UTC)
			text += fmt.Sprintf("%s,-36.4,%.6f\n", at.Format(time.RFC3339), 140.1+0.01*float64(day)+2e-5*float64(s))
		}
	}
	return text
}

func TestLogsOfSeveralDaysInAnyOrder(t *testing.T) {
	const day = 30
	for name, c := range map[string]struct {
		days           []int
		fixes, refused int
		apart          int
	}{
		"in order":          {[]int{20, 21, 22}, 3 * day, 0, 0},
		"in turn":           {[]int{22, 21, 20}, 3 * day, 0, 2},
		"the last first":    {[]int{22, 20, 21}, 3 * day, 0, 1},
		"the middle last":   {[]int{20, 22, 21}, 3 * day, 0, 1},
		"a day twice":       {[]int{20, 20}, day, day, 0},
		"a day twice later": {[]int{22, 20, 21, 22}, 3 * day, day, 1},
		"all of it twice":   {[]int{20, 21, 20, 21}, 2 * day, 2 * day, 0},
	} {
		log := read(t, "csv", daysOf(day, c.days...))
		apart := 0
		for _, f := range log.Fixes {
			if f.Link == Apart {
				apart++
			}
		}
		if len(log.Fixes) != c.fixes || len(log.Refused) != c.refused || apart != c.apart || len(log.Notes) != c.apart {
			t.Errorf("%s: %d fixes on %d tracks, %d refused, notes %q", name, len(log.Fixes), apart, len(log.Refused), log.Notes)
		}
	}
}

// A receiver whose clock stands still gives places all the same.
func TestAClockThatStandsStill(t *testing.T) {
	text := "time,lat,lon\n"
	for i := range stoppedFixes {
		text += fmt.Sprintf("1901-12-13T20:45:52.2073437Z,-36.4,%.5f\n", 140.1+2e-5*float64(i))
	}
	log := read(t, "csv", text)
	if len(log.Fixes) != stoppedFixes || log.Fixes[0].Timed() || len(log.Notes) != 1 || !strings.Contains(log.Notes[0], "13 Dec 1901, 20:45:52") {
		t.Errorf("%d fixes, notes %q", len(log.Fixes), log.Notes)
	}
}
