package web_test

import (
	"context"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"rowtally/web"
)

// One Chromium serves all tests, each in a tab of its own.
var chromium = context.Background()

func TestMain(m *testing.M) {
	options := []chromedp.ExecAllocatorOption{chromedp.ExecPath("chromium")}
	for _, flag := range []string{"no-sandbox", "disable-gpu", "disable-quic", "no-first-run", "disable-background-networking",
		"disable-component-update", "disable-sync"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	var quit context.CancelFunc
	chromium, quit = chromedp.NewContext(chromium, chromedp.WithAllocatorOptions(options...))
	code := m.Run()
	quit()
	os.Exit(code)
}

// browser is a tab for one test.
func browser(t *testing.T) context.Context {
	t.Helper()
	if _, err := exec.LookPath("chromium"); err != nil {
		t.Skip("chromium is not installed")
	}
	if _, err := fs.Stat(web.Dist, "manifest.json"); err != nil {
		t.Fatal("there is no bundle to look at: run make web")
	}
	if err := chromedp.Do(chromium); err != nil { // starts it, the first time
		t.Fatal(err)
	}
	tab, cancel := chromedp.NewContext(chromium)
	t.Cleanup(cancel)
	return tab
}

// open shows a page at a width and waits until its typefaces stand. What the page posts
// to /sent arrives in the channel.
func open(t *testing.T, ctx context.Context, width int64, scheme, page string) (sent <-chan url.Values) {
	t.Helper()
	posts := make(chan url.Values, 10)
	mux := http.NewServeMux()
	mux.Handle(web.Prefix, http.StripPrefix(web.Prefix, http.FileServerFS(web.Dist)))
	mux.HandleFunc("/{$}", func(w http.ResponseWriter, _ *http.Request) { w.Write([]byte(page)) })
	mux.HandleFunc("POST /sent", func(w http.ResponseWriter, r *http.Request) {
		r.ParseForm()
		posts <- r.PostForm
		w.WriteHeader(http.StatusNoContent) // the browser stays on the page, as on a slow line
	})
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	colours := chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	})
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 844), colours, chromedp.Navigate(server.URL)); err != nil {
		t.Fatal(err)
	}
	for began := time.Now(); !ask[bool](t, ctx, `document.fonts.status === "loaded"`); time.Sleep(20 * time.Millisecond) {
		if time.Since(began) > 10*time.Second {
			t.Fatal("the typefaces do not load")
		}
	}
	return posts
}

// ask evaluates an expression in the page.
func ask[T any](t *testing.T, ctx context.Context, expression string) T {
	t.Helper()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		t.Fatalf("%s: %v", expression, err)
	}
	return value
}

// staysInside checks that nothing makes the page scroll sideways.
func staysInside(t *testing.T, ctx context.Context) {
	t.Helper()
	if wide, screen := ask[int](t, ctx, `document.documentElement.scrollWidth`), ask[int](t, ctx, `innerWidth`); wide > screen {
		t.Errorf("the page is %d px wide on a screen of %d", wide, screen)
	}
}
