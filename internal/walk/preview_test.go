package walk

import (
	"fmt"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
)

// slid drags a slider of the rows page through some values, as a hand does, and gives how
// many milliseconds each took until the picture had followed, in the browser.
const slid = `(async () => {
	const slider = document.querySelector(".slider"), shown = document.querySelector("[data-follows]");
	const picture = () => shown.querySelector("path.planned")?.getAttribute("d");
	const took = [];
	for (let k = 1; k <= 24; k++) {
		const before = picture(), began = performance.now();
		slider.value = String((Number(slider.value) + 7) % 180);
		slider.dispatchEvent(new Event("input", {bubbles: true}));
		while (picture() === before && performance.now() - began < 20000) await new Promise(requestAnimationFrame);
		took.push(performance.now() - began);
	}
	return took;
})()`

// A picture follows a dragged slider while the hand still moves: 100 ms on an idle machine.
// Tests share their machine with others, so the sooner quarter is held against a bound, and the
// middle against a wide one.
func TestThePictureFollowsADraggedBearing(t *testing.T) {
	t.Parallel()
	b := startDemo(t).contractor(t)
	for _, job := range []string{"1", "2", "3", "4", "5", "8"} {
		b.open("/jobs/" + job + "/rows")
		took, err := chromedp.Run(b.tab, chromedp.Evaluate[[]float64](slid, chromedp.EvalAwaitPromise))
		if err != nil {
			t.Fatal(err)
		}
		slices.Sort(took)
		median, worst := took[len(took)/2], took[len(took)-1]
		t.Logf("job %s: from the slider's move to the new picture %.0f ms (median of %d), %.0f ms at worst", job, median, len(took), worst)
		if quick := took[len(took)/4]; quick > followsMS {
			t.Errorf("job %s: the sooner quarter of the pictures follows after up to %.0f ms, %d ms are asked", job, quick, followsMS)
		}
		if median > 1000 {
			t.Errorf("job %s: the picture follows after %.0f ms", job, median)
		}
		followed := fmt.Sprint(ask[[]string](b, "figures"))
		b.press("Draw them only")
		if drawn := fmt.Sprint(ask[[]string](b, "figures")); drawn != followed {
			t.Errorf("job %s: the slider shows %s, the page %s", job, followed, drawn)
		}
	}
}
