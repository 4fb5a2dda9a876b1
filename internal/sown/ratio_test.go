//go:build !race

package sown

import (
	"fmt"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"rowtally/internal/ground"
	"rowtally/internal/rows"
)

// fieldLog is a flagged 10 Hz log in CSV, or one in NMEA without a flag, of a paddock driven
// once, belt by belt.
func fieldLog(t testing.TB, format string, plan rows.Plan) string {
	t.Helper()
	var text strings.Builder
	if format == "csv" {
		text.WriteString("time,lat,lon,speed_kmh,sowing\n")
	}
	l := logger{hz: 10, speedMS: 2, scatterM: 0.3, memoryS: 30, runOutM: 4, seed: 1}
	l.each(plan, farm(plan, twin), 0, func(at time.Time, where ground.LatLon, sowing bool) {
		if format == "csv" {
			flag := 0
			if sowing {
				flag = 1
			}
			fmt.Fprintf(&text, "%s,%.8f,%.8f,7.2,%d\n", at.Format("2006-01-02T15:04:05.0Z"), where.Lat, where.Lon, flag)
			return
		}
		lat, lon := -60*(where.Lat+36), 60*(where.Lon-140)
		moment := at.Format("150405.00")
		text.WriteString(summed(fmt.Sprintf("GNRMC,%s,A,36%010.7f,S,140%010.7f,E,3.9,90.0,%s,,,A", moment, lat, lon, at.Format("020106"))) + "\r\n")
		text.WriteString(summed(fmt.Sprintf("GNGGA,%s,36%010.7f,S,140%010.7f,E,4,12,0.7,12.0,M,1.0,M,,", moment, lat, lon)) + "\r\n")
	})
	return text.String()
}

// cpu is the processor time of the whole process while something runs, the least of a few
// times: what else the machine does lengthens the clock's time, hardly this.
func cpu(t testing.TB, times int, run func()) time.Duration {
	t.Helper()
	least := time.Duration(1 << 62)
	for range times {
		runtime.GC()
		var before, after syscall.Rusage
		if err := syscall.Getrusage(syscall.RUSAGE_SELF, &before); err != nil {
			t.Fatal(err)
		}
		run()
		if err := syscall.Getrusage(syscall.RUSAGE_SELF, &after); err != nil {
			t.Fatal(err)
		}
		used := after.Utime.Nano() + after.Stime.Nano() - before.Utime.Nano() - before.Stime.Nano()
		least = min(least, time.Duration(used))
	}
	return least
}

// beside gives the processor time of reading and matching a log, and that of a bare scan.
func beside(t testing.TB, times int, format, text string, plan rows.Plan) (whole, bare time.Duration) {
	t.Helper()
	whole = cpu(t, times, func() {
		log := read(t, format, text)
		if r, err := Match(plan, []Log{log}, twin, Tolerances{}); err != nil || r.CoveredM < 0.99*r.PlannedM {
			t.Fatal(r.CoveredM, r.PlannedM, err)
		}
	})
	bare = cpu(t, times, func() { bareScan(t, format, text) })
	return whole, bare
}

// TestALogCostsNoMoreThanThreeBareScans bounds the processor time of a log, whatever the
// machine.
func TestALogCostsNoMoreThanThreeBareScans(t *testing.T) {
	plan := paddock(t, 900, 670, 17, 2, 2, 12)
	for _, format := range []string{"csv", "nmea"} {
		text := fieldLog(t, format, plan)
		if fixes, _ := bareScan(t, format, text); fixes < 200_000 {
			t.Fatal(fixes)
		}
		whole, bare := beside(t, 3, format, text, plan)
		t.Logf("%s: %v read and matched, %v scanned: %.2f times", format, whole, bare, float64(whole)/float64(bare))
		if whole > 3*bare {
			t.Errorf("%s: %v read and matched, more than three times the %v of a bare scan", format, whole, bare)
		}
	}
}

// BenchmarkMillionFixes reads and matches a million fixes, and scans them bare.
func BenchmarkMillionFixes(b *testing.B) {
	plan := paddock(b, 900, 3200, 17, 2, 2, 12)
	for _, format := range []string{"csv", "nmea"} {
		text := fieldLog(b, format, plan)
		fixes, _ := bareScan(b, format, text)
		b.Run(format, func(b *testing.B) {
			for b.Loop() {
				whole, bare := beside(b, 1, format, text, plan)
				b.ReportMetric(whole.Seconds()/float64(fixes)*1e6, "s/million")
				b.ReportMetric(bare.Seconds()/float64(fixes)*1e6, "bare-s/million")
				b.ReportMetric(float64(whole)/float64(bare), "times-bare")
			}
		})
	}
}
