package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"math"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"rowtally/internal/demo"
	"rowtally/internal/site"
	"rowtally/internal/store"
)

// program is the built program, once for all benchmarks of a run.
func program(b testing.TB) string {
	b.Helper()
	file := filepath.Join(b.TempDir(), "rowtally")
	if out, err := exec.Command("go", "build", "-o", file, ".").CombinedOutput(); err != nil {
		b.Fatalf("build: %v\n%s", err, out)
	}
	return file
}

// demoStore is the demo's season on disk, closed again.
func demoStore(b testing.TB) (dir string, town demo.Town) {
	b.Helper()
	dir = b.TempDir()
	books, err := store.Open(context.Background(), store.Options{Dir: dir})
	if err != nil {
		b.Fatal(err)
	}
	defer books.Close()
	if town, err = demo.Build(context.Background(), books, site.HashPassword); err != nil {
		b.Fatal(err)
	}
	return dir, town
}

// started runs the program on a store and gives its address once it has said it.
func started(b testing.TB, file, dir string) (base string, stop func()) {
	b.Helper()
	run := startedOn(b, file, dir)
	return run.base, run.stop
}

// served is a program under way.
type served struct {
	*exec.Cmd
	base string
}

func startedOn(b testing.TB, file, dir string) *served {
	b.Helper()
	run := exec.Command(file, "serve", "--addr", "127.0.0.1:0", "--data", dir)
	out, err := run.StdoutPipe()
	if err != nil {
		b.Fatal(err)
	}
	if err := run.Start(); err != nil {
		b.Fatal(err)
	}
	said, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		b.Fatal(err)
	}
	return &served{run, strings.TrimSpace(said[strings.Index(said, "http"):])}
}

// stop lets a program end in order.
func (run *served) stop() {
	run.Process.Signal(syscall.SIGTERM)
	run.Wait()
}

// BenchmarkReady is the time from starting the program on the demo's store until /readyz
// answers: whole process.
func BenchmarkReady(b *testing.B) {
	file := program(b)
	dir, _ := demoStore(b)
	var took []float64
	for b.Loop() {
		began := time.Now()
		base, stop := started(b, file, dir)
		answer, err := http.Get(base + "/readyz")
		if err != nil || answer.StatusCode != http.StatusOK {
			b.Fatal(err, answer)
		}
		answer.Body.Close()
		took = append(took, ms(time.Since(began)))
		stop()
	}
	b.ReportMetric(median(took), "ms-median")
}

// BenchmarkPages is each page of the demo as the contractor, client included.
func BenchmarkPages(b *testing.B) {
	dir, town := demoStore(b)
	base, stop := started(b, program(b), dir)
	defer stop()
	client := signedIn(b, base, town.People[0])
	for _, path := range []string{"/", "/jobs", "/jobs/1", "/jobs/3", "/jobs/5", "/jobs/3/rows", "/jobs/3/mix", "/jobs/3/rates",
		"/jobs/3/sown", "/jobs/8/quote", "/farms", "/farms/1", "/paddocks/1", "/shed", "/shed/lots/1", "/machines", "/accounts",
		"/papers/1", "/truck", "/truck/3", "/journal", "/farm/" + town.Links[0].Token + "/jobs/1"} {
		b.Run(strings.ReplaceAll(path, town.Links[0].Token, "…"), func(b *testing.B) {
			var took []float64
			for b.Loop() {
				began := time.Now()
				read(b, client, base+path)
				took = append(took, ms(time.Since(began)))
			}
			b.ReportMetric(median(took), "ms-median")
		})
	}
}

// BenchmarkRowPlanTenThousandRows is `rowtally calc row-plan`, whole process, on a
// concave paddock of 200 corners with five holes.
func BenchmarkRowPlanTenThousandRows(b *testing.B) {
	file, in := program(b), bigPaddock(b)
	var took []float64
	for b.Loop() {
		began := time.Now()
		run := exec.Command(file, "calc", "row-plan")
		run.Stdin = bytes.NewReader(in)
		out, err := run.Output()
		if err != nil {
			b.Fatal(err, string(out))
		}
		took = append(took, ms(time.Since(began)))
		var plan struct {
			RowCount float64 `json:"row_count"`
		}
		if err := json.Unmarshal(out, &plan); err != nil || plan.RowCount < 9_500 {
			b.Fatalf("%v rows, %v", plan.RowCount, err)
		}
	}
	b.ReportMetric(median(took), "ms-median")
}

func bigPaddock(b *testing.B) []byte {
	b.Helper()
	rings := [][][2]float64{wavyRing(0, 0, 10_000, 200, 7)}
	for i := range 5 {
		turn := 2 * math.Pi * float64(i) / 5
		rings = append(rings, wavyRing(5000*math.Cos(turn), 5000*math.Sin(turn), 900, 40, 5))
	}
	in, err := json.Marshal(map[string]any{"boundary_m": rings, "headland_m": 20, "bearing_deg": 17, "rows_per_belt": 1, "alley_m": 1.94, "placement_spacing_m": 3})
	if err != nil {
		b.Fatal(err)
	}
	return in
}

func wavyRing(east, north, radius float64, corners, waves int) [][2]float64 {
	ring := make([][2]float64, corners+1)
	for i := range ring {
		turn := 2 * math.Pi * float64(i%corners) / float64(corners)
		r := radius * (0.85 + 0.15*math.Sin(float64(waves)*turn))
		ring[i] = [2]float64{east + r*math.Cos(turn), north + r*math.Sin(turn)}
	}
	return ring
}

func signedIn(b testing.TB, base string, who demo.Login) *http.Client {
	b.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		b.Fatal(err)
	}
	client := &http.Client{Jar: jar}
	form := url.Values{"name": {who.Name}, "password": {who.Password}}
	request, err := http.NewRequest(http.MethodPost, base+"/enter", strings.NewReader(form.Encode()))
	if err != nil {
		b.Fatal(err)
	}
	request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	request.Header.Set("Origin", base)
	answer, err := client.Do(request)
	if err != nil || answer.Request.URL.Path == "/enter" {
		b.Fatal("not signed in", err)
	}
	answer.Body.Close()
	return client
}

func read(b testing.TB, client *http.Client, address string) {
	b.Helper()
	answer, err := client.Get(address)
	if err != nil {
		b.Fatal(err)
	}
	defer answer.Body.Close()
	if _, err := io.Copy(io.Discard, answer.Body); err != nil || answer.StatusCode != http.StatusOK {
		b.Fatal(address, answer.StatusCode, err)
	}
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

func median(took []float64) float64 {
	slices.Sort(took)
	return took[len(took)/2]
}
