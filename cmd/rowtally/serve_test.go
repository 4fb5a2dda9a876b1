package main

import (
	"bufio"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// running is the program while it answers, and what it said first.
type running struct {
	t     *testing.T
	said  string
	end   context.CancelFunc
	ended chan error
}

// starts runs a command until the test ends it.
func starts(t *testing.T, args ...string) running {
	t.Helper()
	ctx, end := context.WithCancel(context.Background())
	read, write := io.Pipe()
	r := running{t: t, end: end, ended: make(chan error, 1)}
	go func() {
		err := run(ctx, args, strings.NewReader(""), write)
		write.CloseWithError(err)
		r.ended <- err
	}()
	t.Cleanup(end)
	line, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		t.Fatalf("rowtally %s: %v", strings.Join(args, " "), err)
	}
	go io.Copy(io.Discard, read)
	r.said = line
	return r
}

// stops fails unless the program ends cleanly within five seconds of being told.
func (r running) stops() {
	r.t.Helper()
	r.end()
	select {
	case err := <-r.ended:
		if code := status(err); code != 0 {
			r.t.Errorf("ends with %d: %v", code, err)
		}
	case <-time.After(5 * time.Second):
		r.t.Error("does not end within five seconds")
	}
}

// answered gives the status and the text of a page, without following where it leads.
func answered(t *testing.T, address string) (code int, text string) {
	t.Helper()
	client := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	got, err := client.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer got.Body.Close()
	body, err := io.ReadAll(got.Body)
	if err != nil {
		t.Fatal(err)
	}
	return got.StatusCode, string(body)
}

func TestServeBeginsWithAnEmptyStoreAndEndsCleanly(t *testing.T) {
	dir := t.TempDir()
	r := starts(t, "serve", "--addr", "127.0.0.1:0", "--data", dir)
	base, told := strings.CutPrefix(strings.TrimSpace(r.said), "Rowtally is at ")
	if !told {
		t.Fatalf("serve says %q", r.said)
	}
	for path, want := range map[string]int{"/healthz": 200, "/readyz": 200, "/": 303, "/begin": 200} {
		if code, text := answered(t, base+path); code != want {
			t.Errorf("%s is answered %d, want %d: %s", path, code, want, text)
		}
	}
	r.stops()
	if _, err := net.DialTimeout("tcp", strings.TrimPrefix(base, "http://"), time.Second); err == nil {
		t.Error("something still listens")
	}
	mustRun(t, 0, "", "verify", "--data", dir)
}

func TestAnAddressThatIsTakenIsAFailure(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	address := taken.Addr().String()
	if _, code, err := ran(t, "", "serve", "--addr", address, "--data", t.TempDir()); code != 1 || err == nil || !strings.Contains(err.Error(), "listen on "+address) {
		t.Errorf("ends with %d: %v", code, err)
	}
}

// The first line is JSON with all that one needs to look around; a second demo in the same
// folder begins anew, with other passwords.
func TestTheDemoTellsHowToComeIn(t *testing.T) {
	dir := t.TempDir()
	first := demoOf(t, dir)
	second := demoOf(t, dir)
	if first.People[0].Password == second.People[0].Password || first.FarmerLinks[0].URL == second.FarmerLinks[0].URL {
		t.Error("two demos have the same passwords")
	}
}

// demoOf runs the demo, tries what its first line tells, and ends it.
func demoOf(t *testing.T, dir string) (told invitation) {
	t.Helper()
	r := starts(t, "demo", "--addr", "127.0.0.1:0", "--data", dir, "--json")
	if err := json.Unmarshal([]byte(r.said), &told); err != nil {
		t.Fatalf("%v: %s", err, r.said)
	}
	if code, _ := answered(t, told.Address+"/healthz"); code != 200 {
		t.Errorf("/healthz is answered %d", code)
	}
	if len(told.People) != 2 || told.People[0].Role != "contractor" || told.People[1].Role != "operator" || len(told.FarmerLinks) != 3 {
		t.Fatalf("the demo tells %+v", told)
	}
	for _, p := range told.People {
		if got := signIn(t, told.Address, p); got != 303 {
			t.Errorf("the %s's sign-in is answered %d", p.Role, got)
		}
	}
	for _, link := range told.FarmerLinks {
		if code, _ := answered(t, link.URL); code != 200 && code != 303 {
			t.Errorf("the link of %s is answered %d", link.Farm, code)
		}
	}
	r.stops()
	mustRun(t, 0, "", "verify", "--data", dir)
	return told
}

func signIn(t *testing.T, address string, p invitedPerson) (code int) {
	t.Helper()
	form := url.Values{"name": {p.Name}, "password": {p.Password}}
	r, err := http.NewRequest(http.MethodPost, address+"/enter", strings.NewReader(form.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", address)
	got, err := (&http.Transport{}).RoundTrip(r)
	if err != nil {
		t.Fatal(err)
	}
	got.Body.Close()
	return got.StatusCode
}

func TestTheDemoTellsAPersonInWords(t *testing.T) {
	r := starts(t, "demo", "--addr", "127.0.0.1:0", "--data", t.TempDir())
	if !strings.HasPrefix(r.said, "Rowtally's demo is at http://127.0.0.1:") || !strings.Contains(r.said, "its day is 20 Jul 2026") {
		t.Errorf("the demo says %q", r.said)
	}
	r.stops()
}

// What lies in the demo's folder beside its store is nobody's business.
func TestClearingADemoTakesItsStoreAlone(t *testing.T) {
	dir := kept(t, "2026-07-20")
	beside := filepath.Join(dir, "notes.txt")
	if err := os.WriteFile(beside, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := clearDemo(context.Background(), dir); err != nil {
		t.Fatal(err)
	}
	books := opened(t, dir)
	defer books.Close()
	if all, err := books.Farms(context.Background()); err != nil || len(all) != 0 {
		t.Errorf("after clearing a demo the farms are %v, %v", all, err)
	}
	if _, err := os.Stat(beside); err != nil {
		t.Error(err)
	}
}
