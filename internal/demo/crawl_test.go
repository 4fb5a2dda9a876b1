package demo_test

import (
	"context"
	"html"
	"os"
	"regexp"
	"strings"
	"testing"
)

func TestMain(m *testing.M) {
	code := m.Run()
	if s, err := open(); err == nil {
		s.books.Close()
	}
	os.RemoveAll(folder)
	os.Exit(code)
}

// folder holds the demo's store while the tests run.
var folder string

func tempDir() (dir string, err error) {
	folder, err = os.MkdirTemp("", "demo")
	return folder, err
}

var (
	link = regexp.MustCompile(`(?:href|src)="(/[^"]*)"`)
	// spoilt is what a page shows when a figure or a word did not get into it.
	spoilt = regexp.MustCompile(`<no value>|&lt;no value&gt;|%!|\bNaN\b|[+-]Inf\b|\{\{|\}\}|<nil>|&lt;nil&gt;|Jan 0001|ZgotmplZ|<h1></h1>`)
)

// crawl opens every page that can be reached from one, and fails on each that is not
// there, breaks, or shows a figure that did not get into it.
// It gives every page that it opened with the page that led there.
func (v visitor) crawl(from string) map[string]string {
	v.t.Helper()
	seen := map[string]string{from: "the door"}
	for queue := []string{from}; len(queue) > 0; queue = queue[1:] {
		status, kind, text := v.get(queue[0])
		if status != 200 {
			v.t.Errorf("%s, to which %s leads, is answered %d", queue[0], seen[queue[0]], status)
		}
		if strings.HasPrefix(kind, "application/pdf") && !strings.HasPrefix(text, "%PDF-") {
			v.t.Errorf("%s is no PDF", queue[0])
		}
		if !strings.HasPrefix(kind, "text/html") {
			continue
		}
		if found := spoilt.FindStringIndex(text); found != nil {
			v.t.Errorf("%s shows …%s…", queue[0], text[max(0, found[0]-60):min(len(text), found[1]+60)])
		}
		for _, m := range link.FindAllStringSubmatch(text, -1) {
			path, _, _ := strings.Cut(html.UnescapeString(m[1]), "#")
			if seen[path] == "" {
				seen[path] = queue[0]
				queue = append(queue, path)
			}
		}
	}
	return seen
}

// opened fails where a crawl did not come to these pages.
func opened(t *testing.T, seen map[string]string, pages ...string) {
	t.Helper()
	for _, path := range pages {
		if seen[path] == "" {
			t.Errorf("no way leads to %s", path)
		}
	}
}

func TestEveryPageOfTheContractorOpens(t *testing.T) {
	s := demoOf(t)
	seen := s.enter(t, "contractor").crawl("/")
	opened(t, seen, "/jobs", "/jobs/1", "/jobs/8", "/jobs/3/mixing-sheet.pdf", "/jobs/3/visit.pdf", "/shed", "/shed/lots/6", "/machines", "/machines/1", "/farms", "/farms/1",
		"/paddocks/1", "/accounts", "/papers/1", "/papers/1/pdf", "/truck", "/truck/3", "/business", "/people", "/journal")
	if len(seen) < 100 {
		t.Errorf("only %d pages", len(seen))
	}
	s.sound(t) // looking at every page has changed nothing
}

// sound fails where the demo's books break a law of the store.
func (s shown) sound(t *testing.T) {
	t.Helper()
	broken, err := s.books.Verify(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, law := range broken {
		t.Error("broken law:", law)
	}
}

func TestEveryPageOfTheOperatorOpens(t *testing.T) {
	seen := demoOf(t).enter(t, "operator").crawl("/")
	opened(t, seen, "/truck", "/truck/3", "/truck/3/catch", "/truck/3/day", "/jobs/3/visit.pdf", "/shed", "/shed/lots/1", "/machines/1")
	for path, led := range seen {
		if strings.HasPrefix(path, "/farms") || strings.HasPrefix(path, "/accounts") || strings.HasPrefix(path, "/papers") {
			t.Errorf("%s leads the operator to %s", led, path)
		}
	}
}

func TestEveryPageOfAFarmerOpens(t *testing.T) {
	s := demoOf(t)
	for _, farm := range s.town.Links {
		v := visitor{t: t, app: s.app}
		for path, led := range v.crawl("/farm/" + farm.Token) {
			if !strings.HasPrefix(path, "/farm/"+farm.Token) && !strings.HasPrefix(path, "/dist/") {
				t.Errorf("%s leads the farmer to %s", led, path)
			}
		}
	}
}
