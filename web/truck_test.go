package web_test

import (
	"context"
	"fmt"
	"testing"

	"rowtally/web"
)

// twentyMillimetres are CSS pixels at the 96 to the inch that CSS defines.
const twentyMillimetres = 20 / 25.4 * 96

const (
	phone  = 390
	laptop = 1280
)

// truckPage has one line for each count of figures that a tub's lots come to.
func truckPage() string {
	return fmt.Sprintf(`<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<link rel="stylesheet" href="%s"><body><main class="truck">
<p class="bar"><b>Bore</b> <span><a href="/">back</a></span></p><h1>Tub 2 of 4</h1>
<form><ol class="load">
<li class="now"><b class="weight d4">4&thinsp;092</b> <label class="tick"><input type="checkbox"> <span><u>g</u> D26-01 old man saltbush</span></label></li>
<li class="now"><b class="weight">308</b> <label class="tick"><input type="checkbox"> <span><u>g</u> D26-03 wavy leaf saltbush</span></label></li>
<li class="now"><b class="weight d5">12&thinsp;340</b> <label class="tick"><input type="checkbox"> <span><u>g</u> D26-04 quail brush</span></label></li>
</ol><button class="big">Tub 2 is mixed</button></form>
<p class="ways"><a href="/">Catch test</a> <a href="/">Day sheet</a></p></main></body></html>`, web.Asset("truck.css"))
}

// tallest measures the digits of line n as drawn: the height above the line of an 8 in its font.
func tallest(t *testing.T, ctx context.Context, n int) float64 {
	t.Helper()
	return ask[float64](t, ctx, fmt.Sprintf(`(() => {
		const style = getComputedStyle(document.querySelectorAll(".weight")[%d]);
		const pen = document.createElement("canvas").getContext("2d");
		pen.font = style.fontWeight + " " + style.fontSize + " " + style.fontFamily;
		return pen.measureText("8").actualBoundingBoxAscent;
	})()`, n))
}

func TestTruckShowsOneWeightTwentyMillimetresTall(t *testing.T) {
	ctx := browser(t)
	open(t, ctx, phone, "light", truckPage())
	for line := range 3 {
		for other := range 3 {
			height := tallest(t, ctx, other)
			if other == line && height < twentyMillimetres {
				t.Errorf("line %d to be weighed has digits of %.0f px, needs %.0f", line, height, twentyMillimetres)
			}
			if other != line && height > twentyMillimetres/2 {
				t.Errorf("line %d is large while line %d is to be weighed", other, line)
			}
		}
		staysInside(t, ctx)
		ask[bool](t, ctx, fmt.Sprintf(`(document.querySelectorAll(".tick")[%d].click(), true)`, line))
	}
	if drawn := ask[string](t, ctx, `getComputedStyle(document.querySelector(".big")).backgroundColor`); drawn != "rgb(0, 0, 0)" {
		t.Errorf("with every tick set the button is drawn in %s, want it filled", drawn)
	}
}

func TestTruckTargetsFitAGlove(t *testing.T) {
	ctx := browser(t)
	open(t, ctx, phone, "light", truckPage())
	small := ask[[]string](t, ctx, `[...document.querySelectorAll("a, button, input")].filter(e => {
		const box = e.getBoundingClientRect();
		return box.width < 76 || box.height < 76;
	}).map(e => e.outerHTML)`)
	if len(small) > 0 {
		t.Errorf("below 76 px: %q", small)
	}
}

func TestTruckTurnsDarkAtNight(t *testing.T) {
	ctx := browser(t)
	for scheme, want := range map[string]string{"light": "rgb(255, 255, 255) rgb(0, 0, 0)", "dark": "rgb(0, 0, 0) rgb(255, 255, 255)"} {
		open(t, ctx, phone, scheme, truckPage())
		got := ask[string](t, ctx, `(s => s.backgroundColor + " " + s.color)(getComputedStyle(document.body))`)
		if got != want {
			t.Errorf("%s: ground and mark are %s, want %s", scheme, got, want)
		}
	}
}

func TestFrameFitsPhoneAndLaptop(t *testing.T) {
	ctx := browser(t)
	page := shown(t, "layout", frame{Title: "Shed", Here: "shed", Business: "Samphire Row Seeding (demo)", Person: "Ann Example", Today: "2026-07-20", Demo: true})
	for _, width := range []int64{phone, laptop} {
		open(t, ctx, width, "light", page)
		staysInside(t, ctx)
		small := ask[[]string](t, ctx, `[...document.querySelectorAll(".top nav a")].filter(e => e.getBoundingClientRect().height < 44).map(e => e.textContent)`)
		if len(small) > 0 {
			t.Errorf("at %d px, below 44 px high: %q", width, small)
		}
	}
}
