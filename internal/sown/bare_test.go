package sown

import (
	"bufio"
	"strconv"
	"strings"
	"testing"
	"time"
)

// bareScan is the least that any reader of such a log has to do, by the standard library
// alone: part the text into lines and fields, and turn times, places, speeds and states
// into values. It checks nothing and cleans nothing. It gives the fixes and a sum, so that
// nothing is left out.
func bareScan(t testing.TB, format, text string) (fixes int, sum float64) {
	t.Helper()
	in := bufio.NewScanner(strings.NewReader(text))
	for in.Scan() {
		f := strings.Split(in.Text(), ",")
		var values []string
		switch {
		case format == "csv" && f[0] != "time":
			moment, err := time.Parse(time.RFC3339, f[0])
			if err != nil {
				t.Fatal(err)
			}
			sum += float64(moment.Unix() % 2)
			values = f[1:]
		case format == "nmea" && strings.HasSuffix(f[0], "RMC"):
			values = []string{f[1], f[3], f[5], f[7], f[9]}
		case format == "nmea":
			values = []string{f[1], f[2], f[4], f[9]}
		}
		for _, value := range values {
			number, err := strconv.ParseFloat(value, 64)
			if err != nil {
				t.Fatal(err)
			}
			sum += number
		}
		if format == "csv" && len(values) > 0 || strings.HasSuffix(f[0], "RMC") {
			fixes++
		}
	}
	return fixes, sum
}

func BenchmarkBareScanMillionFixes(b *testing.B) {
	for _, format := range []string{"csv", "nmea"} {
		text := bigLog(format, 1_000_000)
		b.Run(format, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				if fixes, _ := bareScan(b, format, text); fixes != 1_000_000 {
					b.Fatal(fixes)
				}
			}
		})
	}
}
