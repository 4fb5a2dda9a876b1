package walk

import (
	"bufio"
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	_ "github.com/mattn/go-sqlite3"
)

// depot is the program on a store that outlives it, so that it can be stopped and started
// between a person's steps.
type depot struct {
	t       *testing.T
	dir     string
	address string // host and port, the same each time
	running *exec.Cmd
	people  map[string][2]string // name and password by role
}

var depots atomic.Int32

// newDepot fills a store with the invented season and serves it as in earnest.
func newDepot(t *testing.T) *depot {
	t.Helper()
	needsBundle(t)
	// an address of its own: while this depot is down, no other may answer in its stead
	free, err := net.Listen("tcp", fmt.Sprintf("127.0.0.%d:0", 1+depots.Add(1)))
	if err != nil {
		t.Fatal(err)
	}
	d := &depot{t: t, dir: t.TempDir(), address: free.Addr().String(), people: map[string][2]string{}}
	free.Close()
	first := d.run("demo", "--json")
	var said struct {
		People []struct{ Role, Name, Password string }
	}
	if err := json.Unmarshal([]byte(first), &said); err != nil {
		t.Fatalf("the demo says %q: %v", first, err)
	}
	for _, p := range said.People {
		d.people[p.Role] = [2]string{p.Name, p.Password}
	}
	d.stop()
	d.start()
	t.Cleanup(d.stop)
	return d
}

// run starts the program and gives the first line that it says.
func (d *depot) run(command string, more ...string) string {
	d.t.Helper()
	d.running = exec.Command(binary, append([]string{command, "--addr", d.address, "--data", d.dir}, more...)...)
	d.running.Env = ownEnvironment()
	out, err := d.running.StdoutPipe()
	if err != nil {
		d.t.Fatal(err)
	}
	if err := d.running.Start(); err != nil {
		d.t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		d.t.Fatalf("%s says nothing: %v", command, err)
	}
	return line
}

func (d *depot) start() {
	d.t.Helper()
	d.run("serve")
	for began := time.Now(); ; time.Sleep(50 * time.Millisecond) {
		if answer, err := http.Get("http://" + d.address + "/readyz"); err == nil {
			answer.Body.Close()
			if answer.StatusCode == http.StatusOK {
				return
			}
		}
		if time.Since(began) > patience {
			d.t.Fatal("the program does not come up")
		}
	}
}

// stop ends the program: from now on there is no signal.
func (d *depot) stop() {
	if d.running == nil {
		return
	}
	d.running.Process.Signal(syscall.SIGTERM)
	d.running.Wait()
	d.running = nil
}

// phone is a new phone of the operator, signed in, with the day's work on it.
func (d *depot) phone() *browser {
	d.t.Helper()
	b := newBrowser(d.t, "http://"+d.address, phone, true)
	b.open("/truck")
	b.fill("Name", d.people["operator"][0], "Password", d.people["operator"][1])
	b.press("Sign in")
	b.waitFor(`!document.querySelector("[data-away]").hidden`)
	b.press("Work without signal")
	b.waitFor(`document.documentElement.dataset.engine`)
	return b
}

// waitFor waits until an expression of the page is true.
func (b *browser) waitFor(expression string) {
	b.t.Helper()
	for began := time.Now(); ; time.Sleep(30 * time.Millisecond) {
		if is, err := chromedp.Run(b.tab, chromedp.Evaluate[bool]("Boolean("+expression+")")); err == nil && is {
			return
		}
		if time.Since(began) > patience {
			b.t.Fatalf("%s: %s does not come true:\n%s", b.path(), expression, b.text())
		}
	}
}

// waitSays waits until the page says something.
func (b *browser) waitSays(want string) {
	b.t.Helper()
	b.waitUntil(patience, want)
}

// waitUntil waits as long as need be.
func (b *browser) waitUntil(patience time.Duration, want string) {
	b.t.Helper()
	for began := time.Now(); ; time.Sleep(30 * time.Millisecond) {
		if strings.Contains(b.text(), want) {
			return
		}
		if time.Since(began) > patience {
			b.t.Fatalf("%s does not come to say %q:\n%s", b.path(), want, b.text())
		}
	}
}

// touch presses something that opens no other page, as soon as it is there.
func (b *browser) touch(words string) {
	b.t.Helper()
	b.waitFor(fmt.Sprintf(`(found => (found?.click(), found))([...document.querySelectorAll("main button, main a")].find(e => e.innerText.replace(/\s+/g, " ").trim() === %q))`, words))
}

// reload opens the page anew, as after a restart of the phone.
func (b *browser) reload() {
	b.t.Helper()
	waiting, give := context.WithTimeout(b.tab, patience)
	defer give()
	if err := chromedp.Do(waiting, chromedp.Reload()); err != nil {
		b.t.Fatal(err)
	}
	b.waitFor(`document.documentElement.dataset.ready`)
}

// tickAll ticks every part of the tub.
func (b *browser) tickAll() {
	b.t.Helper()
	b.waitFor(`document.querySelector(".load")`)
	const unticked = `document.querySelectorAll(".load input:not(:checked)").length`
	for left := look[int](b, unticked); left > 0; left = look[int](b, unticked) {
		look[bool](b, `(document.querySelector(".load input:not(:checked)").click(), true)`)
		b.waitFor(unticked + " < " + strconv.Itoa(left))
	}
}

// look evaluates an expression of the page.
func look[T any](b *browser, expression string) T {
	b.t.Helper()
	value, err := chromedp.Run(b.tab, chromedp.Evaluate[T](expression))
	if err != nil {
		b.t.Fatalf("%s: %s: %v", b.path(), expression, err)
	}
	return value
}

// rows asks the store itself, which runs meanwhile, for one figure.
func (d *depot) rows(statement string) string {
	d.t.Helper()
	db, err := sql.Open("sqlite3", "file:"+filepath.Join(d.dir, "rowtally.db")+"?mode=ro")
	if err != nil {
		d.t.Fatal(err)
	}
	defer db.Close()
	var answer string
	if err := db.QueryRow(statement).Scan(&answer); err != nil {
		d.t.Fatalf("%s: %v", statement, err)
	}
	return answer
}
