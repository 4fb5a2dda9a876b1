package walk

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

func TestATubIsMixedWithoutSignalAndArrivesOnce(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	b.waitSays("Bore")
	d.stop()
	b.reload()
	b.waitSays("No signal.")
	b.touch("Bore")
	b.waitSays("Tub 5 150.9 L to the line, lasts 7.81 row-km")
	b.touch("Tub 5 is mixed")
	b.waitSays("D26-01 is not ticked yet.")
	b.tickAll()
	b.touch("Tub 5 is mixed")
	b.waitSays("1 entry waits here; 0 have reached the office. No signal.")
	b.waitSays("151 L left, for 7.8 row-km: the mix made so far ends at 34.9 of 34.9 row-km.")
	b.reload()
	b.waitSays("Undo tub 5")
	d.start()
	b.signalComes()
	b.waitSays("Nothing waits here; 1 has reached the office.")
	b.waitSays("Undo tub 5")
	if tubs := d.rows("SELECT count(*) FROM tubs WHERE unmixed_at IS NULL AND number = 5 AND job_id = 3"); tubs != "1" {
		t.Errorf("the office has %s tubs 5, want 1", tubs)
	}
}

func TestATubMixedOnTwoPhonesWaitsWithItsReason(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	first, second := d.phone(), d.phone()
	d.stop()
	for _, b := range []*browser{first, second} {
		b.touch("Bore")
		b.tickAll()
		b.touch("Tub 5 is mixed")
		b.waitSays("1 entry waits here")
	}
	d.start()
	refused := func(b *browser) bool { return strings.Contains(b.text(), "The office refused 1 entry.") }
	for _, b := range []*browser{first, second} {
		b.signalComes()
		b.waitSays("Nothing waits here;")
	}
	if refused(first) { // it came to the office second
		first, second = second, first
	}
	first.waitSays("Nothing waits here; 1 has reached the office.")
	second.waitSays("The office refused 1 entry.")
	second.reload()
	second.touch("See why, and what to do")
	second.waitSays("Tub 5 was mixed on another phone at ")
	second.says(": undo yours, or keep it as tub 6.", "Undo mine")
	second.touch("Keep it as tub 6")
	second.waitSays("Nothing waits here; 1 has reached the office.")
	if got := d.rows("SELECT group_concat(number) FROM tubs WHERE unmixed_at IS NULL AND job_id = 3 AND number > 4"); got != "5,6" {
		t.Errorf("the office has the tubs %s, want 5,6", got)
	}
}

// signalComes tells the page that there is a network again, as the phone does.
func (b *browser) signalComes() {
	b.t.Helper()
	look[bool](b, `(dispatchEvent(new Event("online")), true)`)
}

// queued puts so many notes into the phone's own store, past the page.
func (b *browser) queued(count int) {
	b.t.Helper()
	look[bool](b, fmt.Sprintf(`(() => {
		const asked = indexedDB.open("rowtally-truck");
		asked.onsuccess = () => {
			const both = asked.result.transaction(["entries", "day"], "readwrite");
			both.objectStore("day").get("day").onsuccess = (event) => {
				for (let i = 1; i <= %d; i++) {
					const key = crypto.randomUUID();
					both.objectStore("entries").add({ key, state: "waiting", entry: { Key: key, Kind: "note", PersonID: event.target.result.PersonID,
						JobID: 3, At: new Date().toISOString(), Text: "note " + i } });
				}
			};
			both.oncomplete = () => (document.documentElement.dataset.queued = "all");
		};
		return true;
	})()`, count))
	b.waitFor(`document.documentElement.dataset.queued`)
}

func TestFiveHundredEntriesArriveInOrder(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	d.stop()
	b.queued(500)
	b.reload()
	b.waitSays("500 entries wait here; 0 have reached the office. No signal.")
	b.touch("Bore")
	b.waitSays("Undo note: note 500")
	d.start()
	b.signalComes()
	b.waitUntil(2*time.Minute, "Nothing waits here; 500 have reached the office.")
	if got := d.rows("SELECT count(*) || ' ' || count(DISTINCT key) FROM truck_entries WHERE job_id = 3"); got != "500 500" {
		t.Errorf("the office has %s entries, want 500 500", got)
	}
	if got := d.rows(`SELECT count(*) FROM (SELECT row_number() OVER (ORDER BY rowid) AS place, CAST(substr(json_extract(payload, '$.Text'), 6) AS INTEGER) AS number FROM truck_entries WHERE job_id = 3) WHERE place <> number`); got != "0" {
		t.Errorf("%s entries came out of order", got)
	}
}

func TestAnEndedSignInKeepsTheEntries(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	d.stop()
	b.touch("Bore")
	b.waitSays("to the line")
	b.touch("Fuel")
	b.waitFor(`document.getElementById("fuel_l")`)
	b.fill("Fuel put in", "61.5")
	b.touch("Keep the fuel")
	b.waitSays("1 entry waits here")
	b.call(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, network.ClearBrowserCookies, cdp.Empty{})
		return err
	})
	d.start()
	b.signalComes()
	b.waitSays("Your sign-in has ended. Nothing is lost: sign in again")
	b.press("sign in again")
	b.fill("Name", d.people["operator"][0], "Password", d.people["operator"][1])
	b.press("Sign in")
	b.waitSays("Nothing waits here; 1 has reached the office.")
	if got := d.rows("SELECT json_extract(payload, '$.FuelML') FROM truck_entries WHERE job_id = 3"); got != "61500" {
		t.Errorf("the office has %s mL of fuel, want 61500", got)
	}
}

// fastClock sets the clock of every page that opens five hours ahead.
const fastClock = `{
	const right = Date;
	const ahead = 5 * 3600000;
	globalThis.Date = class extends right {
		constructor(...given) { given.length ? super(...given) : super(right.now() + ahead); }
		static now() { return right.now() + ahead; }
	};
}`

func TestAWrongClockIsSaidAndBothTimesAreKept(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	b.call(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: fastClock})
		return err
	})
	b.reload()
	b.touch("Bore")
	b.waitSays("to the line")
	if text := b.text(); strings.Contains(text, "clock is") {
		t.Errorf("a demo's day stands still, and the page says %s", text)
	}
	b.touch("Note")
	b.waitFor(`document.getElementById("text")`)
	b.fill("What is to be remembered", "gate left open")
	b.touch("Keep the note")
	b.waitSays("Nothing waits here; 1 has reached the office.")
	if got := d.rows(`SELECT round((julianday(phone_at) - julianday(office_at)) * 24) FROM truck_entries WHERE job_id = 3`); got != "5" {
		t.Errorf("the phone's time is %s h ahead of the office's, want 5", got)
	}
}

func TestTheDaysOtherEntriesAreMadeWithoutSignal(t *testing.T) {
	t.Parallel()
	d := newDepot(t)
	b := d.phone()
	d.stop()
	b.touch("Bore")
	b.waitSays("to the line")
	b.typeIn("The lot on the label", "d26 03")
	b.touch("Check")
	b.waitSays("Stop: that is d26 03. The tub wants D26-01.")
	b.typeIn("The lot on the label", "D26-01 J-03/4")
	b.touch("Check")
	b.waitSays("Stop: that bag of D26-01 was weighed for tub 4 of J-03, and this is tub 5 of J-03.")
	b.typeIn("The lot on the label", "d26 01")
	b.touch("Check")
	b.waitFor(`document.querySelectorAll(".load input:checked").length === 1`)
	b.touch("Catch test")
	b.waitSays("Outlet 2, mL caught")
	b.fill("Placements of one outlet in one run", "8")
	for outlet := 1; outlet <= 2; outlet++ {
		for run, ml := range []string{"464", "460", "468"} {
			b.typeIn(fmt.Sprintf("Outlet %d, run %d, mL", outlet, run+1), ml)
		}
	}
	b.waitSays("58.0 mL a placement for 45.0 intended. Heavy by 29 %.")
	b.says("A placement every 2.95 m.", "Runs within 2 %, outlets within 0 %.")
	b.touch("Keep the catch")
	b.waitSays("Catch test kept.")
	b.touch("How far")
	b.waitFor(`document.getElementById("left_l")`)
	b.fill("Mix left, all hoppers together", "40", "Sown on this job so far", "28.0")
	b.touch("Keep the level")
	b.waitSays("row-km: the mix made so far ends at")
	b.touch("Clean-out")
	b.waitFor(`document.getElementById("left_l")`)
	b.fill("Mix that remained", "9999")
	b.touch("Keep the clean-out")
	b.waitSays("9999.0 L of mix cannot remain:")
	b.fill("Mix that remained", "30")
	b.waitSays("Of it D26-01 ")
	b.touch("Keep the clean-out")
	b.waitSays("The clean-out is kept.")
	b.says("10 L left, for")
	b.touch("Undo the clean-out of 30.0 L")
	b.waitSays("The clean-out is undone.")
	b.waitSays("40 L left, for")
	b.touch("Day sheet")
	b.waitSays("One sheet a day for each machine that drives. What it pulls goes with it, without a sheet of its own.")
	b.fill("Meter at the end", "1", "Sown", "1.2")
	b.touch("Keep the day")
	b.waitSays("one of the two readings is wrong.")
	from := look[string](b, `document.getElementById("meter_from").value`)
	b.fill("Meter at the end", from)
	b.touch("Keep the day")
	b.waitSays("Day sheet kept.")
	b.touch("Undo day sheet, 1.20 row-km")
	b.waitSays("Undone: day sheet")
	d.start()
	b.signalComes()
	b.waitSays("Nothing waits here; 6 have reached the office.")
	if got := d.rows("SELECT group_concat(kind || outcome) FROM (SELECT * FROM truck_entries WHERE job_id = 3 ORDER BY rowid)"); got != "catch test,hopper,clean-out,undo,day sheet,undo" {
		t.Errorf("the office has %s", got)
	}
}

// slowestOpen is how long the page may take to show its figures, cold from what the phone
// keeps; slowestEngine until anything can be entered.
const (
	slowestOpen   = 1500 * time.Millisecond
	slowestEngine = 3000 * time.Millisecond
)

// since is how long the page took to come to a mark of its own.
func (b *browser) since(mark string) time.Duration {
	b.t.Helper()
	b.waitFor(`document.documentElement.dataset.` + mark)
	took, err := time.ParseDuration(look[string](b, `document.documentElement.dataset.`+mark) + "ms")
	if err != nil {
		b.t.Fatal(err)
	}
	return took
}

func TestThePageOpensColdInTime(t *testing.T) {
	d := newDepot(t)
	b := d.phone()
	d.stop()
	least, engine := time.Hour, time.Hour
	for range 5 {
		b.do(chromedp.Navigate("about:blank"))
		b.do(chromedp.Navigate(b.site + "/truck"))
		least, engine = min(least, b.since("ready")), min(engine, b.since("engine"))
	}
	if t.Logf("opened in %v, its engine in %v", least, engine); least > slowestOpen || engine > slowestEngine {
		t.Errorf("the page takes %v to open, at most %v, and its engine %v, at most %v", least, slowestOpen, engine, slowestEngine)
	}
	for _, fault := range ask[[]string](b, "faults") {
		t.Error(fault)
	}
	if strings.Contains(b.text(), "cannot start") {
		t.Error(b.text())
	}
}
