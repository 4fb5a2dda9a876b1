package sown

import (
	"testing"

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
		if from, to := log.Span(); to.Before(from) {
			t.Errorf("from %v to %v", from, to)
		}
		for i, fix := range log.Fixes {
			if i > 0 && fix.Link != Apart && fix.Timed() && log.Fixes[i-1].Timed() && !fix.Time.After(log.Fixes[i-1].Time) {
				t.Errorf("the time of line %d does not follow", fix.Line)
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
	fuzzRead(f, "csv", "time,lat,lon,sowing\n2026-07-20T00:00:00Z,-36.4,140.1,1\n", "lat;lon\r\n1;\"2\"\"\"\r\n", "\xff\xfel\x00a\x00t\x00",
		"#x\nDate\tTime\tlat\tN/S\tlong\tE/W\n2026/07/20\t9:30:00\t36.4\tS\t140\tE\n20/07/2026\t9:30:01\t36.4\tS\t140\tE\n",
		"time,lat,lon\n23:59:59,-36,140\n00:00:00Z,-36,140\n", "timestamp,lat_deg,lon_deg\n2026-07-20T09:30:00+09:30[A],-36,140\n", daysOf(12, 21, 20, 22, 20))
}

func FuzzNMEA(f *testing.F) {
	for _, row := range published.Rows(f, "nmea_sentences.csv") {
		f.Add(row.Text("input_lat_lon_deg"))
	}
	fuzzRead(f, "nmea", "$GPRMC,,V,,,,,,,,,\n$GPGGA", "$GPRMC,235959,A,0000.0,N,00000.1,E,,,311299,,*\n$$$*",
		sentencesOf("GGA 235958", "ZDA 235959,09,03,2026,00,00", "GGA 235958.5", "GGA 000002"),
		sentencesOf("RMC 101500/090326", "RMC 101501/090326", "GGA 101500", "RMC 101501 /", "RMC .1/"))
}

func FuzzGPX(f *testing.F) {
	fuzzRead(f, "gpx", `<gpx><trk><trkseg><trkpt lat="-36.4" lon="140.1"><time>2026-07-20T00:00:00</time></trkpt></trkseg></trk></gpx>`,
		`<?xml version="1.0" encoding="ISO-8859-1"?><trkpt lat="1" lon="2"><trkpt lat="1" lon="2">&nbsp;</trkpt>`)
}

func FuzzGeoJSON(f *testing.F) {
	fuzzRead(f, "geojson", `{"type":"LineString","coordinates":[[140.1,-36.4],[140.2,-36.4]]}`,
		`{"type":"FeatureCollection","features":[{"type":"Feature","geometry":{"coordinates":[[[1,2],[null]]],"type":"MultiLineString"}}]}`)
}
