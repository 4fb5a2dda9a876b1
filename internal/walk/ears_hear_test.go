package walk

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// A watch that never barks watches nothing: each fault is shown to the browser once.
func TestFaultsOfAPageAreFound(t *testing.T) {
	t.Parallel()
	b := newBrowser(t, oddSite(t), phone, false)
	for want, body := range map[string]string{
		"px wide on":           `<h1>a</h1><pre>` + strings.Repeat("wide", 100) + `</pre>`,
		"0 main headings":      `<p>a</p>`,
		"2 main headings":      `<h1>a</h1><h1>b</h1>`,
		"a field has no label": `<h1>a</h1><form><input name="x"></form>`,
		"nothing names":        `<h1>a</h1><button></button>`,
		"an image has no":      `<h1>a</h1><img src="/there.svg">`,
		"a picture has no":     `<h1>a</h1><svg></svg>`,
		"the id x stands":      `<h1>a</h1><p id="x">a</p><p id="x">b</p>`,
		"is not there":         `<h1>a</h1><label for="n">n</label><input id="n" aria-describedby="y">`,
	} {
		b.do(chromedp.Navigate(b.site + odd(body)))
		if faults := strings.Join(ask[[]string](b, "faults"), "\n"); !strings.Contains(faults, want) {
			t.Errorf("%s: found %q, want %q", body, faults, want)
		}
	}
}

func TestEarsHearThePage(t *testing.T) {
	t.Parallel()
	b := newBrowser(t, oddSite(t), phone, true)
	for want, body := range map[string]string{
		`console: "oh"`:                      `<script src="/said.js"></script>`,
		"script: Uncaught":                   `<script src="/thrown.js"></script>`,
		"security:":                          `<script>inline()</script>`,
		"status of 404 (Not Found) ":         `<img alt="" src="/missing.png">`,
		"violates the following Content Sec": `<p style="color:red">a</p>`,
	} {
		b.ears.forget()
		b.do(chromedp.Navigate(b.site + odd(body)))
		heard := ""
		for began := time.Now(); !strings.Contains(heard, want) && time.Since(began) < 5*time.Second; time.Sleep(20 * time.Millisecond) {
			heard = strings.Join(b.ears.heard(200), "\n")
		}
		if !strings.Contains(heard, want) {
			t.Errorf("%s: heard %q, want %q", body, heard, want)
		}
	}
}

func TestBrowserWithoutScriptRunsNone(t *testing.T) {
	t.Parallel()
	b := newBrowser(t, oddSite(t), phone, false)
	b.do(chromedp.Navigate(b.site + odd(`<h1>still</h1><script src="/changed.js"></script>`)))
	b.headed("still")
}

// odd is the address of a page with a body.
func odd(body string) string { return "/?body=" + url.QueryEscape(body) }

// oddSite serves whatever body it is asked for, under a policy like the program's own.
func oddSite(t *testing.T) string {
	mux := http.NewServeMux()
	script := func(text string) http.HandlerFunc {
		return func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", "text/javascript")
			w.Write([]byte(text))
		}
	}
	mux.HandleFunc("/said.js", script(`console.error("oh")`))
	mux.HandleFunc("/thrown.js", script(`throw new Error("ah")`))
	mux.HandleFunc("/changed.js", script(`document.querySelector("h1").textContent = "changed"`))
	mux.HandleFunc("/favicon.ico", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusNoContent) })
	mux.HandleFunc("/{$}", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", "default-src 'self'")
		w.Header().Set("Content-Type", "text/html")
		w.Write([]byte(`<!doctype html><html lang="en"><title>odd</title><body>` + r.FormValue("body")))
	})
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	return server.URL
}
