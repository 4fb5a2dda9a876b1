package demo_test

import (
	"context"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/demo"
	"rowtally/internal/paper"
	"rowtally/internal/site"
	"rowtally/internal/store"
	"rowtally/web"
)

const host = "demo.test"

// shown is the demo as it runs.
type shown struct {
	town  demo.Town
	books *store.Store
	app   *fiber.App
}

// open builds the demo once for every test; they only look at it.
var open = sync.OnceValues(func() (shown, error) {
	ctx := context.Background()
	dir, err := tempDir()
	if err != nil {
		return shown{}, err
	}
	books, err := store.Open(ctx, store.Options{Dir: dir})
	if err != nil {
		return shown{}, err
	}
	town, err := demo.Build(ctx, books, site.HashPassword)
	if err != nil {
		return shown{}, err
	}
	fonts, err := fs.Sub(web.Dist, "font")
	if err != nil {
		return shown{}, err
	}
	press, err := paper.New(fonts)
	if err != nil {
		return shown{}, err
	}
	app, err := site.New(site.Options{Books: books, Press: press, Pages: web.Pages, Dist: web.Dist, Asset: web.Asset,
		Now: demo.Now, Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	return shown{town, books, app}, err
})

func demoOf(t *testing.T) shown {
	t.Helper()
	s, err := open()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// visitor looks at the demo: the contractor, the operator, or a farmer by the link.
type visitor struct {
	t      *testing.T
	app    *fiber.App
	cookie string
}

// enter signs one of the demo's people in with the password that the demo tells.
func (s shown) enter(t *testing.T, role string) visitor {
	t.Helper()
	v := visitor{t: t, app: s.app}
	for _, login := range s.town.People {
		if login.Role != role {
			continue
		}
		form := url.Values{"name": {login.Name}, "password": {login.Password}}
		r := httptest.NewRequest(http.MethodPost, "/enter", strings.NewReader(form.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", "http://"+host)
		for _, c := range v.send(r).Cookies() {
			v.cookie = c.Value
		}
	}
	if v.cookie == "" {
		t.Fatalf("the demo's %s cannot sign in", role)
	}
	return v
}

func (v visitor) send(r *http.Request) *http.Response {
	v.t.Helper()
	r.Host = host
	if v.cookie != "" {
		r.AddCookie(&http.Cookie{Name: "rowtally", Value: v.cookie})
	}
	answer, err := v.app.Test(r, int(time.Minute/time.Millisecond))
	if err != nil {
		v.t.Fatal(err)
	}
	return answer
}

// get follows the site where it sends the visitor on.
func (v visitor) get(path string) (status int, kind, text string) {
	v.t.Helper()
	for range 5 {
		answer := v.send(httptest.NewRequest(http.MethodGet, path, nil))
		body, err := io.ReadAll(answer.Body)
		if err != nil {
			v.t.Fatal(err)
		}
		if answer.StatusCode != http.StatusSeeOther {
			return answer.StatusCode, answer.Header.Get("Content-Type"), string(body)
		}
		path = answer.Header.Get("Location")
	}
	v.t.Fatalf("%s is sent on and on", path)
	return 0, "", ""
}
