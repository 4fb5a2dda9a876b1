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
	fmt.Fprintln(file, head)
	day := time.Date(2026, 7, 15, 0, 0, 0, 0, time.UTC)
	for n, perDay := 0, strings.Count(body, "\n"); n < fixes; n += perDay {
		if _, err := file.WriteString(strings.ReplaceAll(body, "2026-07-15", day.Format("2006-01-02"))); err != nil {
			t.Fatal(err)
		}
		day = day.AddDate(0, 0, 1)
	}
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
	sown, err := Match(f, []Log{{JobID: 3, Name: "days.csv", Content: content, PassRows: 2, RowGapM: 2}})
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

// TestAMillionFixesStayWithinTheirMemory reads, matches and draws a log in a process of its
// own, whose peak is all that it ever held. Twice the fixes take about twice the time.
func TestAMillionFixesStayWithinTheirMemory(t *testing.T) {
	laid := laidOf(t, sceneOf(t, 24))
	var took [2]float64
	for i, fixes := range []int{500_000, 1_000_000} {
		path := filepath.Join(t.TempDir(), "days.csv")
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
			t.Fatalf("%s", out.String())
		}
		took[i] = float64(ms)
		peakMB := child.ProcessState.SysUsage().(*syscall.Rusage).Maxrss / 1024
		t.Log(strconv.Itoa(used), "fixes,", ms, "ms of processor,", peakMB, "MB at the most")
		if peakMB > 300 && !raced {
			t.Errorf("%d fixes take %d MB, at most 300 are allowed", used, peakMB)
		}
	}
	if took[1] > 3*took[0] {
		t.Errorf("twice the fixes take %.1f times as long", took[1]/took[0])
	}
}
