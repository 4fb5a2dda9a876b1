package sown

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"rowtally/internal/rows"
)

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

// BenchmarkMatchMillionFixes matches a million fixes at 10 Hz on 1 000 row-km and more.
func BenchmarkMatchMillionFixes(b *testing.B) {
	plan := paddock(b, 900, 2500, 17, 2, 2, 12)
	for _, asFlag := range []bool{true, false} {
		l := logger{hz: 10, speedMS: 2, scatterM: 0.3, memoryS: 30, runOutM: 4, withTime: true, asFlag: asFlag, seed: 1}
		log := read(b, "csv", l.csvLog(plan, farm(plan, twin), 0))
		logs := onward(plan, log, 1_000_000)
		b.Run(fmt.Sprintf("flag %v", asFlag), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if r, err := Match(plan, logs, twin, Tolerances{}); err != nil || r.Fixes < 1_000_000 || r.CoveredM < 0.99*r.PlannedM {
					b.Fatal(r.Fixes, r.CoveredM, r.PlannedM, err)
				}
			}
		})
	}
}

// onward repeats a log, later each time, until it has so many fixes.
func onward(_ rows.Plan, log Log, fixes int) []Log {
	whole := log
	for n := 1; len(whole.Fixes) < fixes; n++ {
		for _, fix := range log.Fixes {
			fix.Time = fix.Time.Add(time.Duration(n) * 40 * time.Hour)
			whole.Fixes = append(whole.Fixes, fix)
		}
	}
	return []Log{whole}
}
