package walk

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// scanning gives every page that opens a camera, and a reader that finds in its picture what
// the test put there.
const scanning = `{
	const drawn = () => { const c = document.createElement("canvas"); c.getContext("2d").fillRect(0, 0, 9, 9); return c.captureStream(5); };
	Object.defineProperty(navigator, "mediaDevices", { value: { getUserMedia: async () => { if (globalThis.covered) throw new Error("no"); return drawn(); } } });
	HTMLVideoElement.prototype.play = async () => {};
	globalThis.BarcodeDetector = class { async detect() { return globalThis.label ? [{ rawValue: globalThis.label }] : []; } };
}`

func (b *browser) givenScript(script string) {
	b.t.Helper()
	b.call(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		return err
	})
}

func TestALabelIsScannedWhereThePhoneReadsCodes(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	d.stop()
	b.givenScript(scanning)
	b.reload()
	b.touch("Bore")
	b.waitSays("to the line")
	ticked := `document.querySelectorAll(".load input:checked").length`
	b.touch("Scan")
	b.waitFor(`document.querySelector("video.camera")`)
	look[bool](b, `(globalThis.label = "D26-03", true)`)
	b.waitSays("Stop: that is D26-03. The tub wants D26-01.")
	if n := look[int](b, ticked); n != 0 {
		t.Errorf("a wrong lot ticked %d parts", n)
	}
	look[bool](b, `(globalThis.label = "D26-01", true)`)
	b.touch("Scan")
	b.waitFor(ticked + " === 1")
	b.waitFor(`!document.querySelector("video.camera")`)
	look[bool](b, `(globalThis.covered = true)`)
	b.touch("Scan")
	b.waitSays("The camera cannot be used: allow it for this page, or type what the label says.")
}

func TestALabelIsTypedWhereThePhoneReadsNoCodes(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	d.stop()
	b.givenScript(`delete globalThis.BarcodeDetector;`)
	b.reload()
	b.touch("Bore")
	b.waitSays("This phone's browser reads no codes: type what the label says.")
	if strings.Contains(b.text(), "Scan") {
		t.Error("the page offers to scan")
	}
	b.typeIn("The lot on the label", "D26-01")
	b.touch("Check")
	b.waitFor(`document.querySelectorAll(".load input:checked").length === 1`)
}
