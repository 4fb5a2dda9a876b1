package walk

import (
	"context"
	"os/exec"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
)

// quitChromium ends the browser that the tests shared, if one was started.
var quitChromium = func() {}

var startChromium = sync.OnceValues(func() (context.Context, error) {
	options := []chromedp.ExecAllocatorOption{chromedp.ExecPath("chromium"), chromedp.Headless}
	for _, flag := range []string{"no-sandbox", "disable-gpu", "disable-quic", "no-first-run", "disable-background-networking",
		"disable-component-update", "disable-sync"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	shop, closeShop := chromedp.NewExecAllocator(context.Background(), options...) // its profile is a fresh folder
	ctx, quit := chromedp.NewContext(shop)
	quitChromium = func() { quit(); closeShop() }
	return ctx, chromedp.Do(ctx)
})

// chromium is the one browser that all windows are opened in.
func chromium(t *testing.T) context.Context {
	t.Helper()
	if _, err := exec.LookPath("chromium"); err != nil {
		t.Skip("chromium is not installed")
	}
	ctx, err := startChromium()
	if err != nil {
		t.Fatal(err)
	}
	return ctx
}
