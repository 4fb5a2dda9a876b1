package walk

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// What the truck's page owes to gloves and sun: the least side of any target and of the
// main ones, in CSS pixels, and the contrast of its text (WCAG 2.2, 2.5.5 and 1.4.6).
const (
	leastTarget  = 44
	leastMain    = 76
	sunContrast  = 7.0
	faultsOfPage = `((leastTarget, leastMain, sunContrast) => {
	const shown = e => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== "hidden";
	const short = e => e.outerHTML.slice(0, 120);
	const faults = [];
	const nameOf = e => e.getAttribute("aria-label")
		|| (e.getAttribute("aria-labelledby") ?? "").split(" ").map(id => document.getElementById(id)?.innerText ?? "").join("")
		|| [...(e.labels ?? [])].map(l => l.innerText).join("") || (e.matches("a, button, summary") ? e.innerText : "");
	const controls = [...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")].filter(shown);
	for (const e of controls) {
		if (nameOf(e).trim() === "") faults.push("has no name: " + short(e));
		const box = e.getBoundingClientRect();
		const least = e.matches(".big, .tick input") ? leastMain : leastTarget;
		if (box.width < least || box.height < least) faults.push("is " + Math.round(box.width) + " x " + Math.round(box.height) + " px, needs " + least + ": " + short(e));
	}
	const numbers = colour => colour.match(/[\d.]+/g).map(Number);
	const luminance = rgb => rgb.slice(0, 3).map(c => c / 255).map(c => c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)
		.reduce((sum, c, i) => sum + c * [0.2126, 0.7152, 0.0722][i], 0);
	const behind = e => {
		for (; e; e = e.parentElement) {
			const ground = numbers(getComputedStyle(e).backgroundColor);
			if (ground.length < 4 || ground[3] === 1) return ground;
			if (ground[3] > 0) faults.push("stands on a ground that is half seen through: " + short(e));
		}
		return [255, 255, 255];
	};
	const speaks = e => [...e.childNodes].some(n => n.nodeType === Node.TEXT_NODE && n.data.trim() !== "");
	const faint = e => { for (; e; e = e.parentElement) if (getComputedStyle(e).opacity !== "1") return true; return false; };
	let told = 0;
	for (const e of document.querySelectorAll("body *")) {
		if (!shown(e) || !speaks(e) && !e.matches("input, select, textarea")) continue;
		told++;
		const [a, b] = [luminance(numbers(getComputedStyle(e).color)), luminance(behind(e))];
		const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
		if (contrast < sunContrast || faint(e)) faults.push("has contrast " + contrast.toFixed(2) + (faint(e) ? ", and is faint" : "") + ": " + short(e));
	}
	const ids = [...document.querySelectorAll("[id]")].map(e => e.id);
	for (const id of ids.filter((id, i) => ids.indexOf(id) !== i)) faults.push("id " + id + " is there twice");
	if (document.querySelectorAll("h1").length !== 1) faults.push("the page has " + document.querySelectorAll("h1").length + " headings of the first rank");
	if (controls.length === 0 || told === 0) faults.push("nothing was looked at");
	return faults;
})`
)

// lookedAtOver tells what the page that stands owes.
func (b *browser) lookedAtOver() []string {
	b.t.Helper()
	return look[[]string](b, fmt.Sprintf("%s(%d, %d, %g)", faultsOfPage, leastTarget, leastMain, sunContrast))
}

func (b *browser) daylight(scheme string) {
	b.call(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	})
}

func TestEveryPageOfTheTruckFitsGlovesAndSun(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	d.stop()
	b.waitSays("Bore")
	grounds := map[string]bool{}
	for _, scheme := range []string{"light", "dark"} {
		b.daylight(scheme)
		grounds[look[string](b, `getComputedStyle(document.body).backgroundColor`)] = true
		for _, page := range []struct{ hash, says string }{{"", "The day's work"}, {"3", "to the line"}, {"3/catch", "Outlet 2"}, {"3/hopper", "How far"}, {"3/fuel", "Fuel put in"},
			{"3/note", "What is to be remembered"}, {"3/standby", "Standing by"}, {"3/meter", "The meter shows"}, {"3/day", "Day sheet"}, {"3/clean-out", "Mix that remained"}, {"entries", "Hand in now"}} {
			look[bool](b, fmt.Sprintf(`(location.hash = %q, true)`, page.hash))
			b.waitSays(page.says)
			for _, fault := range b.lookedAtOver() {
				t.Errorf("%s #%s: %s", scheme, page.hash, fault)
			}
		}
	}
	if len(grounds) != 2 {
		t.Errorf("day and night stand on %v", grounds)
	}
}

// Each fault is put into a page that has none, and found. The page takes no inline style, so
// a look is given by script.
func TestTheLookOverFindsEachFault(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	b.waitSays("Bore")
	for html, want := range map[string]string{
		`<button data-look="min-width:90px;min-height:90px"></button>`:                               "has no name",
		`<button data-look="all:unset;width:40px;height:90px;display:block">Go</button>`:             "needs 44",
		`<button class="big" data-look="all:unset;width:90px;height:60px;display:block">Go</button>`: "needs 76",
		`<p data-look="color:#777;background:#fff">soft</p>`:                                         "has contrast 4.48",
		`<p data-look="opacity:.5">soft</p>`:                                                         "and is faint",
		`<p id="main">twice</p>`:                                                                     "id main is there twice",
		`<h1>Another</h1>`:                                                                           "headings of the first rank",
	} {
		look[bool](b, fmt.Sprintf(`((made) => (made.id = "", made.className = "wronged", document.querySelector(".wronged")?.remove(), document.body.append(made), made.insertAdjacentHTML("beforeend", %q), made.querySelectorAll("[data-look]").forEach(e => (e.style.cssText = e.dataset.look)), true))(document.createElement("div"))`, html))
		if found := strings.Join(b.lookedAtOver(), "\n"); !strings.Contains(found, want) {
			t.Errorf("%s: found %q, want %q", html, found, want)
		}
	}
}
