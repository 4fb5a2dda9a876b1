//go:build !race

package job

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// daysLog writes a log of so many fixes and more: the same belts, driven day after day.
func daysLog(t testing.TB, path string, laid Laid, fixes int) {
	t.Helper()
	one := string(driven(laid, everyBelt(laid)...).Content)
	head, body, _ := strings.Cut(one, "\n")
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if LogFormat(path, nil) == "csv" {
		fmt.Fprintln(file, head)
	}
	day := time.Date(2026, 7, 15, 0, 0, 0, 0, time.UTC)
	for n, perDay := 0, strings.Count(body, "\n"); n < fixes; n += perDay {
		text := strings.ReplaceAll(body, "2026-07-15", day.Format("2006-01-02"))
		if LogFormat(path, nil) == "nmea" {
			text = sentences(t, text)
		}
		if _, err := file.WriteString(text); err != nil {
			t.Fatal(err)
		}
		day = day.AddDate(0, 0, 1)
	}
}

// sentences are the lines of a CSV log as a receiver writes them: an RMC and a GGA each,
// and no flag.
func sentences(t testing.TB, lines string) string {
	t.Helper()
	var out strings.Builder
	sentence := func(format string, values ...any) {
		body, sum := fmt.Sprintf(format, values...), byte(0)
		for i := range len(body) {
			sum ^= body[i]
		}
		fmt.Fprintf(&out, "$%s*%02X\r\n", body, sum)
	}
	for line := range strings.Lines(lines) {
		f := strings.Split(line, ",")
		at, err := time.Parse(time.RFC3339Nano, f[0])
		lat, failed := strconv.ParseFloat(f[1], 64)
		lon, none := strconv.ParseFloat(f[2], 64)
		if err != nil || failed != nil || none != nil || lat > -36 || lat < -37 || lon < 140 || lon > 141 {
			t.Fatal(line, err, failed, none)
		}
		place := fmt.Sprintf("36%010.7f,S,140%010.7f,E", -60*(lat+36), 60*(lon-140))
		sentence("GNRMC,%s,A,%s,3.2,90.0,%s,,,A", at.Format("150405.00"), place, at.Format("020106"))
		sentence("GNGGA,%s,%s,4,12,0.7,12.0,M,1.0,M,,", at.Format("150405.00"), place)
	}
	return out.String()
}

// millionFrom names the file that a child of the test reads, matches and draws.
const millionFrom = "ROWTALLY_TEST_MILLION"

// TestMillionChild does nothing unless the test below runs it by itself.
func TestMillionChild(t *testing.T) {
	path := os.Getenv(millionFrom)
	if path == "" {
		return
	}
	f := sceneOf(t, 24)
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	begun := cpu(t)
	sown, err := Match(f, []Log{{JobID: 3, Name: filepath.Base(path), Content: content, PassRows: 2, RowGapM: 2}})
	if err != nil {
		t.Fatal(err)
	}
	f.Sown = &sown
	m := ChainOf(f).Map
	fmt.Printf("told %d %d %.0f %d\n", sown.Fixes, len(m.Sown), sown.CoveredM, (cpu(t) - begun).Milliseconds())
}

// cpu is the processor time that the process has had.
func cpu(t testing.TB) time.Duration {
	t.Helper()
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		t.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}

// TestAMillionFixesStayWithinTheirMemory reads, matches and draws logs in processes of their
// own, whose peak is all that they ever held. Twice the fixes take about twice the time.
func TestAMillionFixesStayWithinTheirMemory(t *testing.T) {
	laid := laidOf(t, sceneOf(t, 24))
	for _, name := range []string{"days.csv", "days.nmea"} {
		half, whole := matchedAlone(t, laid, name, 500_000), matchedAlone(t, laid, name, 1_000_000)
		if whole > 3*half {
			t.Errorf("%s: twice the fixes take %d ms, not %d", name, whole, half)
		}
	}
}

// matchedAlone gives the milliseconds of processor time that a log takes.
func matchedAlone(t *testing.T, laid Laid, name string, fixes int) int {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	daysLog(t, path, laid, fixes)
	child := exec.Command(os.Args[0], "-test.run=^TestMillionChild$", "-test.count=1")
	child.Env = append(os.Environ(), millionFrom+"="+path)
	var out bytes.Buffer
	child.Stdout, child.Stderr = &out, &out
	if err := child.Run(); err != nil {
		t.Fatalf("%v: %s", err, out.String())
	}
	var used, stretches, covered, ms int
	if n, _ := fmt.Sscanf(out.String(), "told %d %d %d %d", &used, &stretches, &covered, &ms); n != 4 || used < fixes || stretches < 79 || covered < 23_900 {
		t.Fatalf("%s: %s", name, out.String())
	}
	peakMB := child.ProcessState.SysUsage().(*syscall.Rusage).Maxrss / 1024
	t.Log(name, used, "fixes,", ms, "ms of processor,", peakMB, "MB at the most")
	if peakMB > 300 {
		t.Errorf("%s: %d fixes take %d MB, at most 300 are allowed", name, used, peakMB)
	}
	return ms
}
