package walk

import (
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

//go:embed reader.js
var reader string

// patience is how long a page may take to come.
const patience = 20 * time.Second

// window is the size of a person's screen, in CSS pixels.
type window struct{ width, height int64 }

var (
	laptop = window{1280, 800}
	phone  = window{390, 844}
)

func (w window) shown() chromedp.Action[chromedp.Void] {
	return chromedp.EmulateViewport(w.width, w.height)
}

// browser is one person's browser: cookies of its own, and one window.
type browser struct {
	t      *testing.T
	tab    context.Context
	site   string // the program's address
	size   window
	ears   *ears
	status int64 // of the page that is open
}

// newBrowser opens a window that knows nothing of any other.
func newBrowser(t *testing.T, site string, size window, scripts bool) *browser {
	t.Helper()
	tab, closed := chromedp.NewContext(chromium(t), chromedp.WithNewBrowserContext())
	t.Cleanup(closed)
	b := &browser{t: t, tab: tab, site: site, size: size, ears: &ears{}}
	b.do(size.shown(), chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !scripts})
		return err
	}))
	if err := chromedp.Listen(tab, b.ears.hear); err != nil {
		t.Fatal(err)
	}
	return b
}

// do takes steps that open no page.
func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.tab, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// comes takes a step that opens a page, waits for it and looks it over.
func (b *browser) comes(what string, step chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	waiting, give := context.WithTimeout(b.tab, patience)
	defer give()
	b.ears.forget()
	answer, err := chromedp.RunResponse(waiting, step)
	if err != nil {
		b.t.Fatalf("%s, and no page came: %v\n%s", what, err, b.text())
	}
	if answer != nil {
		b.status = answer.Status
	}
	b.look(what)
}

// look holds the page that is open against what every page must keep, on both screens.
func (b *browser) look(what string) {
	b.t.Helper()
	for _, size := range []window{laptop, phone} {
		b.do(size.shown())
		for _, fault := range ask[[]string](b, "faults") {
			b.t.Errorf("%s: %s: %s", what, b.path(), fault)
		}
		b.picture(size)
	}
	b.do(b.size.shown())
	for _, complaint := range b.ears.heard(b.status) {
		b.t.Errorf("%s: %s: the browser says: %s", what, b.path(), complaint)
	}
}

// open types an address of the site, or follows one from elsewhere.
func (b *browser) open(path string) {
	b.t.Helper()
	if !strings.Contains(path, "://") {
		path = b.site + path
	}
	b.comes("open "+path, chromedp.Navigate(path))
}

// typeIn replaces what a field holds.
func (b *browser) typeIn(label, text string) {
	b.t.Helper()
	if !ask[bool](b, "put", label, text) {
		return
	}
	if text == "" {
		b.do(chromedp.KeyEvent("\b"))
		return
	}
	b.call(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, input.InsertText, input.InsertTextParams{Text: text})
		return err
	})
}

// fill types into several fields: label, text, label, text …
func (b *browser) fill(labelsAndTexts ...string) {
	b.t.Helper()
	for pair := range slices.Chunk(labelsAndTexts, 2) {
		b.typeIn(pair[0], pair[1])
	}
}

// choose takes one of a list by its words.
func (b *browser) choose(label, words string) {
	b.t.Helper()
	ask[any](b, "choose", label, words)
}

// attach chooses a file.
func (b *browser) attach(label, file string) {
	b.t.Helper()
	field, err := chromedp.Run(b.tab, chromedp.Evaluate[*runtime.RemoteObject](question("field", label)))
	if err != nil {
		b.t.Fatal(err)
	}
	b.call(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{file}, ObjectID: field.ObjectID})
		return err
	})
}

// tick presses a tick box.
func (b *browser) tick(label string) {
	b.t.Helper()
	b.do(b.mouse("tick", label))
}

// unfold opens what is folded away.
func (b *browser) unfold(words string) {
	b.t.Helper()
	b.do(b.mouse("press", words))
}

// press presses a button or a link by its words, and waits for the page that follows.
func (b *browser) press(words string) {
	b.t.Helper()
	b.comes("press “"+words+"”", b.mouse("press", words))
}

// mouse presses where a thing lies.
func (b *browser) mouse(how, words string) chromedp.Action[chromedp.Void] {
	b.t.Helper()
	at := ask[struct{ X, Y float64 }](b, how, words)
	return chromedp.MouseClickXY(at.X, at.Y)
}

func (b *browser) call(step func(context.Context, *chromedp.Target) error) {
	b.t.Helper()
	b.do(chromedp.Func(step))
}

// ask reads something off the page that is open.
func ask[T any](b *browser, what string, words ...string) T {
	b.t.Helper()
	value, err := chromedp.Run(b.tab, chromedp.Evaluate[T](question(what, words...)))
	if err != nil {
		b.t.Fatalf("%s: %v", b.path(), err)
	}
	return value
}

// question writes a question to the reader as an expression.
func question(what string, words ...string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		raw, _ := json.Marshal(w) // a string always can
		quoted[i] = string(raw)
	}
	return fmt.Sprintf("(%s).%s(%s)", strings.TrimSpace(reader), what, strings.Join(quoted, ", "))
}

// path is the address of the open page without the site.
func (b *browser) path() string {
	address, err := chromedp.Run(b.tab, chromedp.Location())
	if err != nil {
		return "no page"
	}
	return strings.TrimPrefix(address, b.site)
}

// cookies are what the browser would send to the site.
func (b *browser) cookies() []*network.Cookie {
	b.t.Helper()
	kept, err := chromedp.Call(b.tab, network.GetCookies, network.GetCookiesParams{URLs: []string{b.site}})
	if err != nil {
		b.t.Fatal(err)
	}
	return kept.Cookies
}

// whole makes an address of the site out of a link.
func (b *browser) whole(href string) string {
	base, err := url.Parse(b.site + b.path())
	if err != nil {
		b.t.Fatal(err)
	}
	to, err := base.Parse(href)
	if err != nil {
		b.t.Fatal(err)
	}
	return to.String()
}

// text is what the page says, as somebody sees it.
func (b *browser) text() string {
	b.t.Helper()
	return figuresJoined(ask[string](b, "text"))
}

// says holds sentences and figures against what the page says.
func (b *browser) says(wants ...string) {
	b.t.Helper()
	text := b.text()
	for _, want := range wants {
		if !strings.Contains(text, want) {
			b.t.Errorf("%s does not say %q:\n%s", b.path(), want, text)
		}
	}
}

// shows holds headline figures, with their units, against those of the page.
func (b *browser) shows(wants ...string) {
	b.t.Helper()
	figures := ask[[]string](b, "figures")
	for i, f := range figures {
		figures[i] = figuresJoined(f)
	}
	for _, want := range wants {
		if !slices.Contains(figures, want) {
			b.t.Errorf("%s shows %q, want %q", b.path(), figures, want)
		}
	}
}

// row is a table's row by how its first cell begins: what stands under each heading.
func (b *browser) row(start string) map[string]string {
	b.t.Helper()
	cells := map[string]string{}
	for heading, text := range ask[map[string]string](b, "row", start) {
		cells[figuresJoined(heading)] = figuresJoined(text)
	}
	return cells
}

// draws holds the page to having drawn lines of some kinds in its picture.
func (b *browser) draws(kinds ...string) {
	b.t.Helper()
	for _, kind := range kinds {
		if ask[string](b, "drawn", kind) == "" {
			b.t.Errorf("%s draws no %s", b.path(), kind)
		}
	}
}
