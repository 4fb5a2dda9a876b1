package site

import (
	"bytes"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"github.com/gofiber/fiber/v2"

	"rowtally/web"
)

// parameter is a part of a route's address that names a noun.
var parameter = regexp.MustCompile(`:[a-z]+`)

// Whatever number stands in an address, a page that is not there is answered so.
func TestAnAddressWithoutANounIsNotHere(t *testing.T) {
	w := newTown(t)
	for _, r := range (&site{}).routes() {
		if !strings.Contains(r.path, ":") {
			continue
		}
		for _, number := range []string{"999", "0", "-1", "x", "1.5", "9223372036854775808", "%00", "1%27", "%3Cb%3E"} {
			path := parameter.ReplaceAllString(r.path, number)
			p := w.contractor.get(path)
			if r.method == post {
				p = w.contractor.post(path)
			}
			if p.status != http.StatusNotFound && !(p.status == http.StatusUnprocessableEntity && r.method == post) {
				t.Errorf("%s %s is answered %d: %s", r.method, path, p.status, p.mainText())
			}
			if strings.Contains(p.text, "<b>") && number == "%3Cb%3E" && !strings.Contains(r.path, "link") {
				t.Errorf("%s writes what was asked raw", path)
			}
		}
	}
}

func TestAPageThatIsNotThereSaysSo(t *testing.T) {
	w := newTown(t)
	for _, path := range []string{"/nowhere", "/jobs/1/nowhere", "/.git/config", "/..%2f..%2fetc/passwd", "/dist/none.css", "/dist/../web.go", "/dist/.keep", "/dist/"} {
		w.contractor.get(path).mustShow(t, 404, "Not here", "There is no such page.")
	}
	w.contractor.send(httptest.NewRequest(http.MethodDelete, "/farms", nil)).mustShow(t, 404)
}

// keptOnThePhone are the parts of the truck's page that work without signal. They hold
// nothing of the business, and are asked for again whenever there is a line.
var keptOnThePhone = map[string]bool{"/truck/out": true, "/truck/out.webmanifest": true, "/truck/sw.js": true}

// Every route answers with its guards, whoever asks and whatever comes of it.
func TestEveryRouteIsGuarded(t *testing.T) {
	w := newTown(t)
	for _, r := range (&site{}).routes() {
		for _, who := range everyone {
			if r.path == "/leave" {
				continue
			}
			p := try(who.of(w), r)
			guardedPage(t, r.method+" "+r.path+" as "+who.word, p)
			if got := p.header.Get("Cache-Control"); got != "no-store" && !(keptOnThePhone[r.path] && got == "no-cache") {
				t.Errorf("%s %s may be kept: %q", r.method, r.path, got)
			}
		}
	}
	for _, path := range []string{"/nowhere", web.Asset("face.css"), web.Asset("page.js"), "/dist/none"} {
		guardedPage(t, path, w.nobody.get(path))
	}
}

func guardedPage(t *testing.T, what string, p page) {
	t.Helper()
	for header, want := range map[string]string{
		"Content-Security-Policy": "default-src 'none'; script-src 'self'", "X-Content-Type-Options": "nosniff",
		"Referrer-Policy": "same-origin",
	} {
		if !strings.HasPrefix(p.header.Get(header), want) {
			t.Errorf("%s: %s is %q", what, header, p.header.Get(header))
		}
	}
	if p.header.Get("X-Request-Id") == "" {
		t.Errorf("%s: the answer has no number", what)
	}
	for _, loose := range []string{"'unsafe-inline'", "'unsafe-eval'", "*"} {
		if strings.Contains(p.header.Get("Content-Security-Policy"), loose) {
			t.Errorf("%s: the policy allows %s", what, loose)
		}
	}
	if strings.Contains(p.text, " style=") || strings.Contains(p.text, "onclick=") || strings.Contains(p.text, "<script>") {
		t.Errorf("%s: the page asks for what its own policy forbids", what)
	}
}

// A broken machine is told of in the log, and not on the page.
func TestADefectIsToldToTheLogAlone(t *testing.T) {
	var log bytes.Buffer
	w := newTownLogging(t, slog.New(slog.NewTextHandler(&log, nil)))
	w.contractor.csrf = tokenIn(w.contractor.get("/shed").text)
	if err := w.store.Close(); err != nil {
		t.Fatal(err)
	}
	for _, p := range []page{w.contractor.get("/shed"), w.contractor.get("/farm/x"), w.contractor.post("/farms/new", farmForm...), w.nobody.get("/enter")} {
		p.mustShow(t, 500, "This went wrong", "The fault is ours, and nothing you typed was kept.")
		number := p.header.Get("X-Request-Id")
		p.mustShow(t, 500, "Number of this request", number)
		for _, internal := range []string{"database", "sql", ".go:", "goroutine", "closed"} {
			if strings.Contains(strings.ToLower(p.mainText()), internal) {
				t.Errorf("the page tells of %q: %s", internal, p.mainText())
			}
		}
		if !strings.Contains(log.String(), "request="+number) || !strings.Contains(log.String(), "database is closed") {
			t.Errorf("the log says nothing of %s: %s", number, log.String())
		}
		guardedPage(t, "a defect", p)
	}
	w.nobody.get("/readyz").mustShow(t, 503, "the store does not answer")
}

// The farmer's secret stands in the address, and is kept out of the log.
func TestTheLogHoldsNoFarmersLink(t *testing.T) {
	var log bytes.Buffer
	w := newTownLogging(t, slog.New(slog.NewTextHandler(&log, nil)))
	for _, path := range []string{"/farm/" + farmToken, farmJob, "/farm/" + farmToken + "/papers/1/pdf"} {
		w.nobody.get(path).mustShow(t, 404)
	}
	w.nobody.post(farmJob+"/yes", "name", "x").mustShow(t, 404)
	if strings.Contains(log.String(), farmToken) || !strings.Contains(log.String(), "/farm/…/jobs/1") {
		t.Errorf("the log says %s", log.String())
	}
}

// A number that a sender gives a request is used when it looks like one.
func TestARequestKeepsItsNumber(t *testing.T) {
	w := newTown(t)
	for given, kept := range map[string]bool{"0123456789abcdef": true, "short": false, "<script>alert(1)</script>": false, strings.Repeat("x", 65): false} {
		r := httptest.NewRequest(http.MethodGet, "/healthz", nil)
		r.Header.Set("X-Request-Id", given)
		if got := w.nobody.send(r).header.Get("X-Request-Id"); (got == given) != kept || got == "" {
			t.Errorf("%q is answered as %q", given, got)
		}
	}
}

// A file larger than is read is refused beside its field, and one that is not is taken whole.
func TestAFileLargerThanIsReadIsRefusedBesideItsField(t *testing.T) {
	content := strings.Repeat("x", 3<<20)
	for _, c := range []struct {
		most int64
		says string
	}{{3 << 20, ""}, {3<<20 - 1, "day.csv is 3 MB, and a file of up to 2 MB is read"}} {
		app := fiber.New()
		app.Post("/", func(ctx *fiber.Ctx) error {
			f := readForm(&request{Ctx: ctx})
			name, got, ok := f.fileUpTo(&request{Ctx: ctx}, "log", c.most)
			if ok != (c.says == "") || ok && (name != "day.csv" || string(got) != content) || !strings.Contains(f.wrong["log"], c.says) || f.typed["rows"] != "2" {
				t.Errorf("up to %d: %v, %d bytes, %q, typed %v", c.most, ok, len(got), f.wrong, f.typed)
			}
			return nil
		})
		var body bytes.Buffer
		parts := multipart.NewWriter(&body)
		parts.WriteField("rows", "2")
		part, err := parts.CreateFormFile("log", "day.csv")
		if err != nil {
			t.Fatal(err)
		}
		io.WriteString(part, content)
		parts.Close()
		post := httptest.NewRequest(http.MethodPost, "/", &body)
		post.Header.Set("Content-Type", parts.FormDataContentType())
		if answer, err := app.Test(post, -1); err != nil || answer.StatusCode != 200 {
			t.Fatal(err, answer)
		}
	}
}
