package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rowtally/web"
)

// compiled builds the engine as the page gets it, and says how to run it under node.
func compiled(t testing.TB) (wasm, wasmExec string) {
	t.Helper()
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("node is not installed")
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	wasm = filepath.Join(t.TempDir(), "truck.wasm")
	build := exec.Command("go", "build", "-trimpath", "-gcflags=all=-l", "-gcflags=math=", "-gcflags=rowtally/...=", "-ldflags", "-s -w", "-o", wasm, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS=js", "GOARCH=wasm")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("build the engine: %v\n%s", err, out)
	}
	return wasm, filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")
}

// TestCompiledEngineAnswersAsTheOfficeDoes puts a thousand calls to both.
func TestCompiledEngineAnswersAsTheOfficeDoes(t *testing.T) {
	wasm, wasmExec := compiled(t)
	c := chance{rand.New(rand.NewPCG(20, 7))}
	var asked, native bytes.Buffer
	var own engine
	refused := 0
	for range 1000 {
		line, err := json.Marshal(c.call(c.IntN(3)+1, c.IntN(3)+1))
		if err != nil {
			t.Fatal(err)
		}
		answer := own.answer(line)
		if bytes.HasPrefix(answer, []byte(`{"Refused"`)) || bytes.Contains(answer, []byte(`"Cannot":"`)) && !bytes.Contains(answer, []byte(`"Cannot":""`)) {
			refused++
		}
		asked.Write(append(line, '\n'))
		native.Write(append(answer, '\n'))
	}
	if refused < 50 || refused > 600 {
		t.Errorf("%d of 1000 calls are refused: the calls made up try too little", refused)
	}
	run := exec.Command("node", "testdata/run.mjs", wasm, wasmExec)
	run.Stdin = &asked
	run.Stderr = os.Stderr
	out, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	theirs, ours := lines(out), lines(native.Bytes())
	if len(theirs) != 1000 || len(ours) != 1000 {
		t.Fatalf("%d answers of the compiled engine, %d here", len(theirs), len(ours))
	}
	for i := range ours {
		if why := apart(decoded(t, ours[i]), decoded(t, theirs[i])); why != "" {
			t.Fatalf("call %d: %s\n here %.600s\nthere %.600s", i, why, ours[i], theirs[i])
		}
	}
}

func lines(text []byte) []string { return strings.Split(strings.TrimSpace(string(text)), "\n") }

func decoded(t *testing.T, line string) (v any) {
	t.Helper()
	if err := json.Unmarshal([]byte(line), &v); err != nil {
		t.Fatalf("%v: %.200s", err, line)
	}
	return v
}

// lastBit is what a processor's own exponential may differ by.
const lastBit = 1e-14

// apart says where two answers differ; "" when they do not.
func apart(a, b any) string {
	switch a := a.(type) {
	case map[string]any:
		other, ok := b.(map[string]any)
		if !ok || len(a) != len(other) {
			return fmt.Sprintf("%v and %v", a, b)
		}
		for name, v := range a {
			if why := apart(v, other[name]); why != "" {
				return name + ": " + why
			}
		}
	case []any:
		other, ok := b.([]any)
		if !ok || len(a) != len(other) {
			return fmt.Sprintf("%v and %v", a, b)
		}
		for i := range a {
			if why := apart(a[i], other[i]); why != "" {
				return fmt.Sprintf("[%d]%s", i, why)
			}
		}
	case float64:
		if other, ok := b.(float64); !ok || math.Abs(a-other) > lastBit*math.Abs(a) {
			return fmt.Sprintf("%v and %v", a, b)
		}
	default:
		if a != b {
			return fmt.Sprintf("%v and %v", a, b)
		}
	}
	return ""
}

func TestApartFindsWhatDiffers(t *testing.T) {
	for _, pair := range [][2]string{{`{"a":1}`, `{"a":1.0000001}`}, {`{"a":[1,2]}`, `{"a":[1]}`}, {`{"a":"x"}`, `{"a":"y"}`}, {`{"a":1}`, `{"b":1}`}, {`[null]`, `[0]`}} {
		if apart(decoded(t, pair[0]), decoded(t, pair[1])) == "" {
			t.Errorf("%s and %s pass as alike", pair[0], pair[1])
		}
	}
}

// slowest is the time that a mix may take on the truck's page, in ms.
const slowest = 20

func TestCompiledEngineMixesFortyEightLotsInTime(t *testing.T) {
	wasm, wasmExec := compiled(t)
	c := chance{rand.New(rand.NewPCG(1, 1))}
	a := asked{Call: "view", Job: c.job(8, 6), Today: "2026-07-20", Began: morning}
	a.Job.Rows.Cannot = ""
	first, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	a.Job = nil // remembered, as on the page
	again, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command("node", "testdata/run.mjs", wasm, wasmExec, "50")
	run.Stdin = bytes.NewReader(slices.Concat(first, []byte("\n"), again))
	out, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	took, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	if err != nil || took > slowest {
		t.Errorf("a mix of 8 species with 6 lots each takes %q ms, at most %d", out, slowest)
	}
	t.Logf("a mix of 8 species with 6 lots each: %.1f ms", took)
}

// mostDownload is what the phone may have to fetch, in bytes.
const mostDownload = 1_000_000

func TestEngineIsASmallDownload(t *testing.T) {
	packed, err := fs.Glob(web.Dist, "truck-*.wasm.br")
	if err != nil || len(packed) != 1 {
		t.Fatalf("the bundle holds %v: run make web", packed)
	}
	info, err := fs.Stat(web.Dist, packed[0])
	if err != nil {
		t.Fatal(err)
	}
	if info.Size() > mostDownload {
		t.Errorf("the engine is a download of %d bytes, at most %d", info.Size(), mostDownload)
	}
	t.Logf("%s: %d bytes", packed[0], info.Size())
}

func TestEngineRefusesWhatItDoesNotKnow(t *testing.T) {
	for in, want := range map[string]string{
		`{"Call":"sell"}`: "there is no call",
		`{"Call":"view"}`: "lacks its job",
		`nonsense`:        "invalid character",
		`{"Call":"check","Entry":{"Key":"k","Kind":"tub"}}`:  "names no job",
		`{"Call":"catch","Job":{"Facts":{}},"Trial":null}`:   "the engine failed",
		`{"Call":"check","Entry":{"Kind":"note","JobID":3}}`: "has no key",
		`{"Call":"check","Entry":{"Key":"k","JobID":3}}`:     "no kind of entry",
	} {
		if out := string(new(engine).answer([]byte(in))); !strings.Contains(out, want) {
			t.Errorf("%s: answered %s, want %q", in, out, want)
		}
	}
}

func BenchmarkMixOfFortyEightLots(b *testing.B) {
	c := chance{rand.New(rand.NewPCG(1, 1))}
	one := c.job(8, 6)
	for b.Loop() {
		if _, err := one.View(nil, "2026-07-20", morning); err != nil {
			b.Fatal(err)
		}
	}
}
