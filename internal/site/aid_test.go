package site

import (
	"context"
	"html"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/job"
	"rowtally/internal/paper"
	"rowtally/internal/store"
	"rowtally/web"
)

const (
	host               = "rowtally.test"
	contractorName     = "Ada Contractor"
	operatorName       = "Ned Operator"
	contractorPassword = "salt lake heron bucket"
	operatorPassword   = "twin row hopper cog"
)

// moment is the moment of every act in these tests: the morning of 20 July 2026 in Adelaide.
var moment = time.Date(2026, 7, 20, 9, 30, 0, 0, time.FixedZone("", 9*3600+1800))

// town is a site with a real store, one business and two people signed in.
type town struct {
	app        *fiber.App
	store      *store.Store
	now        *time.Time    // of every act
	ends       chan struct{} // closed: the program is told to end
	nobody     *browser
	contractor *browser
	operator   *browser
}

// bareTown is a site whose store has no business yet.
func bareTown(t testing.TB) town {
	t.Helper()
	return bareTownLogging(t, slog.New(slog.NewTextHandler(io.Discard, nil)))
}

func bareTownLogging(t testing.TB, log *slog.Logger) town {
	t.Helper()
	books := freshStore(t)
	now, ends := moment, make(chan struct{})
	app, err := New(Options{
		Books: books, Press: press(t), Pages: web.Pages, Dist: web.Dist, Asset: web.Asset,
		Now: func() time.Time { return now }, Log: log, Ends: ends,
	})
	if err != nil {
		t.Fatal(err)
	}
	return town{app: app, store: books, now: &now, ends: ends, nobody: &browser{t: t, app: app}}
}

// freshStore is an empty store of this test alone: a copy of one whose tables were made once.
func freshStore(t testing.TB) *store.Store {
	t.Helper()
	dir := t.TempDir()
	tables, err := emptyTables()
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, store.File), tables, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	books, err := store.Open(context.Background(), store.Options{Dir: dir})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { books.Close() })
	return books
}

var emptyTables = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "rowtally-tables")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	books, err := store.Open(context.Background(), store.Options{Dir: dir})
	if err != nil {
		return nil, err
	}
	defer books.Close()
	whole := filepath.Join(dir, "whole.db")
	if err := books.Backup(context.Background(), whole); err != nil {
		return nil, err
	}
	return os.ReadFile(whole)
})

// press prints the papers of these tests. Its typefaces are read once.
func press(t testing.TB) Press {
	t.Helper()
	printer, err := readPress()
	if err != nil {
		t.Fatal(err)
	}
	return printer
}

var readPress = sync.OnceValues(func() (*paper.Press, error) {
	fonts, err := fs.Sub(web.Dist, "font")
	if err != nil {
		return nil, err
	}
	return paper.New(fonts)
})

// newTown is a site in use: its business has begun, and the contractor and an operator
// are signed in.
func newTown(t testing.TB) town {
	t.Helper()
	return begun(t, bareTown(t))
}

func newTownLogging(t testing.TB, log *slog.Logger) town {
	t.Helper()
	return begun(t, bareTownLogging(t, log))
}

func begun(t testing.TB, w town) town {
	t.Helper()
	ctx := context.Background()
	id, err := w.store.Begin(ctx, job.Act{Who: contractorName, Now: moment}, exampleBusiness,
		job.Person{Name: contractorName, Role: job.Contractor, PasswordHash: contractorHash})
	if err != nil {
		t.Fatal(err)
	}
	ned, err := w.store.AddPerson(ctx, job.Act{PersonID: id, Who: contractorName, Now: moment},
		job.Person{Name: operatorName, Role: job.Operator, PasswordHash: operatorHash})
	if err != nil {
		t.Fatal(err)
	}
	w.contractor, w.operator = w.session(id), w.session(ned)
	return w
}

// session is somebody signed in already, without the slow hash of the front door.
func (w town) session(personID int64) *browser {
	t := w.nobody.t
	t.Helper()
	token := secret()
	if err := w.store.OpenSession(context.Background(), hashed(token), personID, moment, moment.Add(sessionTime)); err != nil {
		t.Fatal(err)
	}
	return &browser{t: t, app: w.app, cookie: token}
}

var exampleBusiness = job.Business{
	Name: "Example Rows", ABN: "51824753556", Registered: true, RegisteredOn: "2020-07-01", Currency: "AUD",
	TaxLabel: "GST", TaxPercent: "10", TermsDays: 14, ValidDays: 30, Zone: "Australia/Adelaide",
}

// The hashes are made once: they are slow on purpose.
var contractorHash, operatorHash string

func TestMain(m *testing.M) {
	d := newDoor()
	var errs [2]error
	contractorHash, errs[0] = d.hash(contractorPassword)
	operatorHash, errs[1] = d.hash(operatorPassword)
	if errs[0] != nil || errs[1] != nil {
		panic("the passwords of the tests could not be hashed")
	}
	os.Exit(m.Run())
}

// act is an act of the contractor, for what a test puts straight into the store.
func (w town) act() job.Act { return job.Act{PersonID: 1, Who: contractorName, Now: moment} }

// enter signs somebody in through the front door.
func (w town) enter(name, password string) *browser {
	b := &browser{t: w.nobody.t, app: w.app}
	b.t.Helper()
	p := b.post("/enter", "name", name, "password", password)
	if p.status != http.StatusSeeOther || b.cookie == "" {
		b.t.Fatalf("%s cannot sign in: %d %s", name, p.status, p.text)
	}
	return b
}

// browser keeps a session's cookie and form token as a browser would.
type browser struct {
	t      testing.TB
	app    *fiber.App
	cookie string
	csrf   string
}

// page is what came back.
type page struct {
	status   int
	location string
	text     string
	header   http.Header
}

func (b *browser) get(path string) page {
	b.t.Helper()
	return b.send(httptest.NewRequest(http.MethodGet, path, nil))
}

// post sends a form from the site's own page, with the session's token.
func (b *browser) post(path string, pairs ...string) page {
	b.t.Helper()
	return b.send(b.form(path, pairs...))
}

// form is a post not sent yet, so that a test can spoil it.
func (b *browser) form(path string, pairs ...string) *http.Request {
	b.t.Helper()
	if b.cookie != "" && b.csrf == "" {
		b.csrf = tokenIn(b.get("/shed").text)
	}
	values := url.Values{}
	if b.csrf != "" {
		values.Set("csrf", b.csrf)
	}
	for i := 0; i < len(pairs); i += 2 {
		values.Add(pairs[i], pairs[i+1])
	}
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(values.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "http://"+host)
	return r
}

var csrfInput = regexp.MustCompile(`name="csrf" value="([0-9a-f]+)"`)

func tokenIn(text string) string {
	if found := csrfInput.FindStringSubmatch(text); found != nil {
		return found[1]
	}
	return ""
}

func (b *browser) send(r *http.Request) page {
	b.t.Helper()
	r.Host = host
	if b.cookie != "" {
		r.AddCookie(&http.Cookie{Name: cookieName, Value: b.cookie})
	}
	answer, err := b.app.Test(r, int(30*time.Second/time.Millisecond))
	if err != nil {
		b.t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	for _, c := range answer.Cookies() {
		if c.Name == cookieName {
			b.cookie, b.csrf = c.Value, ""
		}
	}
	return page{answer.StatusCode, answer.Header.Get("Location"), string(body), answer.Header}
}

// mustShow fails unless the page was answered with this status and holds every text.
func (p page) mustShow(t testing.TB, status int, texts ...string) {
	t.Helper()
	if p.status != status {
		t.Errorf("answered %d, want %d: %s", p.status, status, p.mainText())
	}
	plain := strings.NewReplacer("\u00a0", " ", joiner, "").Replace(html.UnescapeString(p.text))
	for _, text := range texts {
		if !strings.Contains(p.text, text) && !strings.Contains(plain, text) {
			t.Errorf("the page lacks %q: %s", text, p.mainText())
		}
	}
}

// mustLead fails unless the browser was sent on to this path.
func (p page) mustLead(t testing.TB, path string) {
	t.Helper()
	if p.status != http.StatusSeeOther || p.location != path {
		t.Errorf("answered %d to %q, want to be sent on to %q: %s", p.status, p.location, path, p.mainText())
	}
}

// mainText is the page without its frame, for failure messages.
func (p page) mainText() string {
	if _, rest, ok := strings.Cut(p.text, "<main"); ok {
		return rest
	}
	return p.text
}
