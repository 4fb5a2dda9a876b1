package walk

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"rowtally/web"
)

// binary is the program as it is built for a person.
var binary string

func TestMain(m *testing.M) {
	os.Exit(run(m))
}

func run(m *testing.M) int {
	dir, err := os.MkdirTemp("", "rowtally-walk")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(dir)
	binary = filepath.Join(dir, "rowtally")
	if out, err := exec.Command("go", "build", "-o", binary, "rowtally/cmd/rowtally").CombinedOutput(); err != nil {
		fmt.Fprintf(os.Stderr, "build the program: %v\n%s", err, out)
		return 1
	}
	defer quitChromium()
	return m.Run()
}

// needsBundle fails where the pages would come without styles and typefaces.
func needsBundle(t *testing.T) {
	t.Helper()
	if _, err := fs.Stat(web.Dist, "manifest.json"); err != nil {
		t.Fatal("there is no bundle to serve: run make web first")
	}
}

// serve runs the program on an empty store until the test ends, and gives its address and
// the folder of the store.
func serve(t *testing.T) (address, folder string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "store")
	line := start(t, folder, "serve")
	_, address, found := strings.Cut(strings.TrimSpace(line), " at ")
	if !found {
		t.Fatalf("the program says %q and no address", line)
	}
	return address, folder
}

// obeysItsLaws holds a store to what the program itself verifies of it.
func obeysItsLaws(t *testing.T, folder string) {
	t.Helper()
	command := exec.Command(binary, "verify", "--data", folder)
	command.Env = ownEnvironment()
	if said, err := command.CombinedOutput(); err != nil {
		t.Errorf("verify: %v: %s", err, said)
	}
}

// start runs a command of the program on a store in a folder, until the test ends, and
// gives the first line that it says.
func start(t *testing.T, folder string, command ...string) (line string) {
	t.Helper()
	needsBundle(t)
	ctx, stop := context.WithCancel(context.Background())
	program := exec.CommandContext(ctx, binary, append(command, "--addr", "127.0.0.1:0", "--data", folder)...)
	program.Env = ownEnvironment()
	program.Cancel = func() error { return program.Process.Signal(syscall.SIGTERM) }
	program.WaitDelay = 10 * time.Second
	var log bytes.Buffer
	program.Stderr = &log
	out, err := program.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := program.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		stop()
		program.Wait() // the signal that ended it is no failure
		reportDefects(t, log.String())
	})
	line, err = bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("the program does not say where it is: %v\n%s", err, log.String())
	}
	return line
}

// ownEnvironment keeps the settings of whoever runs the test out of the program.
func ownEnvironment() (kept []string) {
	for _, entry := range os.Environ() {
		if !strings.HasPrefix(entry, "ROWTALLY_") {
			kept = append(kept, entry)
		}
	}
	return kept
}

// reportDefects finds what the program logged as its own fault.
func reportDefects(t *testing.T, log string) {
	t.Helper()
	for line := range strings.Lines(log) {
		if strings.Contains(line, `"level":"ERROR"`) || strings.HasPrefix(line, "panic") {
			t.Errorf("the program logged %s", line)
		}
	}
}

// answers are those that calc gave already: the same question has the same answer.
var answers sync.Map

// calc asks the program for a calculation on its own.
func calc[Out any](t *testing.T, name string, in any) (out Out) {
	t.Helper()
	asked, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	answer, known := answers.Load(name + string(asked))
	if !known {
		answer = calculate(t, name, asked)
		answers.Store(name+string(asked), answer)
	}
	if err := json.Unmarshal(answer.([]byte), &out); err != nil {
		t.Fatalf("calc %s: %v", name, err)
	}
	return out
}

func calculate(t *testing.T, name string, asked []byte) []byte {
	t.Helper()
	command := exec.Command(binary, "calc", name)
	command.Stdin = bytes.NewReader(asked)
	answer, err := command.Output()
	if err != nil {
		t.Fatalf("calc %s: %v: %s\nasked %.400s", name, err, answer, asked)
	}
	return answer
}

// requests asks the site as the browser would, with its session.
func (b *browser) requests(method, href string) *http.Response {
	b.t.Helper()
	request, err := http.NewRequest(method, b.whole(href), nil)
	if err != nil {
		b.t.Fatal(err)
	}
	for _, c := range b.cookies() {
		request.AddCookie(&http.Cookie{Name: c.Name, Value: c.Value})
	}
	answer, err := http.DefaultClient.Do(request)
	if err != nil {
		b.t.Fatal(err)
	}
	return answer
}

// isPage tells whether an address leads to a page, and not to a file.
func (b *browser) isPage(href string) bool {
	b.t.Helper()
	answer := b.requests(http.MethodHead, href)
	answer.Body.Close()
	page := strings.HasPrefix(answer.Header.Get("Content-Type"), "text/html")
	if !page && answer.StatusCode != http.StatusOK {
		b.t.Errorf("the file at %s was answered %d", href, answer.StatusCode)
	}
	return page
}

// fetch gets a file of the site.
func (b *browser) fetch(href string) []byte {
	b.t.Helper()
	answer := b.requests(http.MethodGet, href)
	defer answer.Body.Close()
	content, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK {
		b.t.Fatalf("get %s: status %d, %v", href, answer.StatusCode, err)
	}
	return content
}
