package job

import (
	"bytes"
	"compress/gzip"
	"strings"
	"testing"

	"rowtally/internal/fault"
)

func packed(t *testing.T, content []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	w.Write(content)
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestAPackedLogIsMatchedLikeItself packs a log: only the name and the bytes differ.
func TestAPackedLogIsMatchedLikeItself(t *testing.T) {
	f := sceneOf(t, 24)
	log := driven(laidOf(t, f), everyBelt(laidOf(t, f))...)
	bare, err := Match(f, []Log{log})
	if err != nil {
		t.Fatal(err)
	}
	log.Name, log.Content = "day.csv.gz", packed(t, log.Content)
	got, err := Match(f, []Log{log})
	if err != nil {
		t.Fatal(err)
	}
	if got.SownM != bare.SownM || got.Fixes != bare.Fixes || got.CoveredM < 20_000 {
		t.Errorf("packed: %.3f m, %d fixes; bare: %.3f m, %d fixes", got.SownM, got.Fixes, bare.SownM, bare.Fixes)
	}
	if file := got.Files()[0]; file.Format != "csv" || file.Bytes != len(log.Content) {
		t.Errorf("%+v", file)
	}
}

func TestAPackedLogIsRefused(t *testing.T) {
	whole := packed(t, bytes.Repeat([]byte("time,lat,lon\n"), 1000))
	damaged := bytes.Clone(whole)
	damaged[len(damaged)-6] ^= 1 // in its checksum
	for says, content := range map[string][]byte{
		"cut short":        whole[:len(whole)-4],
		"damaged":          damaged,
		"cannot be opened": whole[:5],
		"more than 0 MB":   packed(t, make([]byte, 20_000)),
	} {
		_, err := textOf(content, 15_000)
		if fault.KindOf(err) != fault.Refused || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", says, err)
		}
	}
	if text, err := textOf(whole, 13_000); err != nil || len(text) != 13_000 {
		t.Errorf("%d bytes, %v", len(text), err)
	}
}

func TestTheFormatOfAPackedLogIsThatInside(t *testing.T) {
	for want, c := range map[string]struct {
		name    string
		content []byte
	}{
		"nmea":    {"day.nmea.gz", nil},
		"gpx":     {"DAY.GPX.GZ", nil},
		"geojson": {"log.gz", packed(t, []byte(` {"type":`))},
		"csv":     {"log.gz", packed(t, []byte("time,lat,lon\n"))},
	} {
		if got := LogFormat(c.name, c.content); got != want {
			t.Errorf("%s: %s, want %s", c.name, got, want)
		}
	}
	if got := LogFormat("log.gz", packed(t, []byte("$GPRMC,"))); got != "nmea" {
		t.Errorf("log.gz that begins with $: %s", got)
	}
}
