package sown

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"rowtally/internal/published"
)

// fuzzRead feeds a reader any bytes: it must not panic, and every fix it gives must be a
// place on the earth, on a line of the file.
func fuzzRead(f *testing.F, format string, seeds ...string) {
	for _, seed := range seeds {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		log, err := Read(format, text)
		if err == nil && len(log.Fixes) == 0 {
			t.Error("an empty log was taken")
		}
		for _, fix := range log.Fixes {
			if fix.At.Check() != nil || fix.Line < 1 {
				t.Errorf("%+v", fix)
			}
		}
		for i, refused := range log.Refused {
			if refused.Why == "" || refused.Line < 1 || i > 0 && refused.Line < log.Refused[i-1].Line {
				t.Errorf("%+v", refused)
			}
		}
	})
}

func FuzzCSV(f *testing.F) {
	fuzzRead(f, "csv", "time,lat,lon,sowing\n2026-07-20T00:00:00Z,-36.4,140.1,1\n", "lat;lon\r\n1;\"2\"\"\"\r\n", "\xff\xfel\x00a\x00t\x00")
}

func FuzzNMEA(f *testing.F) {
	for _, row := range published.Rows(f, "nmea_sentences.csv") {
		f.Add(row.Text("input_lat_lon_deg"))
	}
	fuzzRead(f, "nmea", "$GPRMC,,V,,,,,,,,,\n$GPGGA", "$GPRMC,235959,A,0000.0,N,00000.1,E,,,311299,,*\n$$$*")
}

func FuzzGPX(f *testing.F) {
	fuzzRead(f, "gpx", `<gpx><trk><trkseg><trkpt lat="-36.4" lon="140.1"><time>2026-07-20T00:00:00</time></trkpt></trkseg></trk></gpx>`,
		`<?xml version="1.0" encoding="ISO-8859-1"?><trkpt lat="1" lon="2"><trkpt lat="1" lon="2">&nbsp;</trkpt>`)
}

func FuzzGeoJSON(f *testing.F) {
	fuzzRead(f, "geojson", `{"type":"LineString","coordinates":[[140.1,-36.4],[140.2,-36.4]]}`,
		`{"type":"FeatureCollection","features":[{"type":"Feature","geometry":{"coordinates":[[[1,2],[null]]],"type":"MultiLineString"}}]}`)
}

// bigLog is a log of n fixes at 10 Hz in CSV or NMEA.
func bigLog(format string, n int) string {
	var text strings.Builder
	if format == "csv" {
		text.WriteString("time,lat,lon,speed_kmh,sowing\n")
	}
	start := time.Date(2026, 7, 20, 0, 0, 0, 0, time.UTC)
	for i := range n {
		at, minutes := start.Add(time.Duration(i)*100*time.Millisecond), float64(i%20000)*1.2e-4
		if format == "csv" {
			fmt.Fprintf(&text, "%s,%.7f,%.7f,7.2,%d\n", at.Format("2006-01-02T15:04:05.0Z"), -36.4, 140.1+minutes/60, i/100%2)
			continue
		}
		text.WriteString(summed(fmt.Sprintf("GNRMC,%s,A,3624.0000000,S,140%010.7f,E,3.9,90.0,%s,,,A", at.Format("150405.00"), 6+minutes, at.Format("020106"))) + "\r\n")
		text.WriteString(summed(fmt.Sprintf("GNGGA,%s,3624.0000000,S,140%010.7f,E,4,12,0.7,12.0,M,1.0,M,,", at.Format("150405.00"), 6+minutes)) + "\r\n")
	}
	return text.String()
}

func BenchmarkReadMillionFixes(b *testing.B) {
	for _, format := range []string{"csv", "nmea"} {
		text := bigLog(format, 1_000_000)
		b.Run(format, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				if log, err := Read(format, text); err != nil || len(log.Fixes) < 999_000 {
					b.Fatal(len(log.Fixes), err, log.Refused[:3])
				}
			}
		})
	}
}
