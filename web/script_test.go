package web_test

import (
	"testing"
	"time"

	"rowtally/web"
)

func scriptedPage(body string) string {
	return `<!doctype html><html lang="en"><meta charset="utf-8"><script type="module" src="` + web.Asset("page.js") + `"></script><body>` + body
}

func TestFormIsSentOnceWithItsKey(t *testing.T) {
	ctx := browser(t)
	sent := open(t, ctx, laptop, "light", scriptedPage(`<form method="post" action="/sent"><input type="hidden" name="key"><button>Keep</button></form>`))
	const press = `(document.querySelector("button").click(), true)`
	ask[bool](t, ctx, press)
	first := <-sent
	if len(first.Get("key")) < 32 {
		t.Errorf("the form came with the key %q", first.Get("key"))
	}
	ask[bool](t, ctx, press)
	select {
	case again := <-sent:
		t.Errorf("the form came a second time, with %v", again)
	case <-time.After(300 * time.Millisecond):
	}
}

func TestEachFormHasAKeyOfItsOwn(t *testing.T) {
	ctx := browser(t)
	open(t, ctx, laptop, "light", scriptedPage(`<form><input name="key"></form><form><input name="key"></form><form><input name="key" value="given"></form>`))
	keys := ask[[]string](t, ctx, `[...document.querySelectorAll("input")].map(i => i.value)`)
	if keys[0] == "" || keys[0] == keys[1] || keys[2] != "given" {
		t.Errorf("keys are %q", keys)
	}
}

func TestLinkIsSelectedWhereItCannotBeCopied(t *testing.T) {
	ctx := browser(t)
	open(t, ctx, laptop, "light", scriptedPage(`<div class="copy"><input readonly value="a link"><button type="button" data-copy>Copy</button></div>`))
	said := ask[string](t, ctx, `(() => {
		Object.defineProperty(navigator, "clipboard", {value: {writeText: () => Promise.reject(new Error("refused"))}});
		document.querySelector("button").click();
		return getSelection().toString();
	})()`)
	if said != "a link" {
		t.Errorf("selected %q", said)
	}
}
