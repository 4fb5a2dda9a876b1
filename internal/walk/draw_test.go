package walk

import (
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// fetched is every address that a browser has asked for.
type fetched struct {
	mu  sync.Mutex
	all []string
}

func (f *fetched) hear(event any) {
	if asked, ok := event.(*network.EventRequestWillBeSent); ok {
		f.mu.Lock()
		defer f.mu.Unlock()
		f.all = append(f.all, asked.Request.URL)
	}
}

// beyond is what was asked for outside the site.
func (f *fetched) beyond(site string) (out []string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, url := range f.all {
		if !strings.HasPrefix(url, site) && !strings.HasPrefix(url, "data:") {
			out = append(out, url)
		}
	}
	return out
}

func (f *fetched) count() int {
	f.mu.Lock()
	defer f.mu.Unlock()
	return len(f.all)
}

// imagery serves one grey tile under every address, and tells which were asked for.
func imagery(t *testing.T) (address string, asked func() []string) {
	t.Helper()
	var mu sync.Mutex
	var paths []string
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		paths = append(paths, r.URL.Path)
		mu.Unlock()
		w.Header().Set("Content-Type", "image/png")
		png.Encode(w, image.NewGray(image.Rect(0, 0, 256, 256)))
	}))
	t.Cleanup(server.Close)
	return server.URL, func() []string {
		mu.Lock()
		defer mu.Unlock()
		return append([]string(nil), paths...)
	}
}

// onMap is a place of the map's box, as shares of its width and height.
type onMap struct{ right, down float64 }

const mapBox = `(() => { const map = document.querySelector(".map"); map.scrollIntoView({block: "center", behavior: "instant"});
	const box = map.getBoundingClientRect(); return [box.x, box.y, box.width, box.height]; })()`

// spot is where a place of the map lies in the window.
func (b *browser) spot(at onMap) (x, y float64) {
	b.t.Helper()
	box := evaluate[[]float64](b, mapBox)
	return box[0] + at.right*box[2], box[1] + at.down*box[3]
}

func evaluate[T any](b *browser, expression string) T {
	b.t.Helper()
	value, err := chromedp.Run(b.tab, chromedp.Evaluate[T](expression))
	if err != nil {
		b.t.Fatalf("%s: %v", b.path(), err)
	}
	return value
}

func (b *browser) pressMap(at onMap) {
	b.t.Helper()
	x, y := b.spot(at)
	b.do(chromedp.MouseClickXY(x, y))
}

func (b *browser) dragOnMap(from, to onMap) {
	b.t.Helper()
	fromX, fromY := b.spot(from)
	toX, toY := b.spot(to)
	b.do(chromedp.MouseEvent(chromedp.MouseMoved, fromX, fromY), chromedp.MouseEvent(chromedp.MousePressed, fromX, fromY, chromedp.Button("left"), chromedp.ClickCount(1)))
	for step := 1.0; step <= 5; step++ {
		b.do(chromedp.MouseEvent(chromedp.MouseMoved, fromX+(toX-fromX)*step/5, fromY+(toY-fromY)*step/5, chromedp.Button("left")))
	}
	b.do(chromedp.MouseEvent(chromedp.MouseReleased, toX, toY, chromedp.Button("left"), chromedp.ClickCount(1)))
}

// drawn is what the map would post, as calc takes a boundary: outside, holes, and apart from
// them the no-go areas.
func (b *browser) drawn() (outside, noGo polygon) {
	b.t.Helper()
	var held struct {
		Features []struct {
			Properties struct{ Kind string } `json:"properties"`
			Geometry   polygon               `json:"geometry"`
		} `json:"features"`
	}
	if err := json.Unmarshal([]byte(evaluate[string](b, `document.querySelector("[name=drawn]").value`)), &held); err != nil {
		b.t.Fatal(err)
	}
	outside.Type, noGo.Type = "Polygon", "Polygon"
	for _, f := range held.Features {
		if f.Properties.Kind == "no-go" {
			noGo.Coordinates = append(noGo.Coordinates, f.Geometry.Coordinates...)
		} else {
			outside.Coordinates = append(outside.Coordinates, f.Geometry.Coordinates...)
		}
	}
	return outside, noGo
}

// measures waits until the map's figures are those of calc for what is drawn.
func (b *browser) measures() (hectares string) {
	b.t.Helper()
	outside, noGo := b.drawn()
	area := func(p polygon) float64 {
		return calc[struct {
			AreaM2 float64 `json:"area_m2"`
		}](b.t, "polygon-area", map[string]any{"boundary": p}).AreaM2
	}
	hectares = fixed(area(outside)/1e4, 2) + " ha gross"
	wants := []string{hectares}
	if len(noGo.Coordinates) > 0 {
		wants = append(wants, fixed(area(noGo)/1e4, 2)+" ha of no-go areas")
	}
	for began := time.Now(); ; time.Sleep(30 * time.Millisecond) {
		shown := strings.Join(ask[[]string](b, "figures"), " / ")
		if shown = figuresJoined(shown); containsAll(shown, wants) {
			return hectares
		}
		if time.Since(began) > patience {
			b.t.Fatalf("the map shows %s, calc %q", shown, wants)
		}
	}
}

func containsAll(text string, wants []string) bool {
	for _, want := range wants {
		if !strings.Contains(text, want) {
			return false
		}
	}
	return true
}

// A paddock that nobody has a file of is drawn on a plain grid, then changed over imagery.
func TestABoundaryIsDrawnOnTheMap(t *testing.T) {
	t.Parallel()
	site, folder := serve(t)
	w := &walk{season: twinRows, t: t, site: site}
	w.begin()
	w.addFarm()
	b := w.contractor
	asked := &fetched{}
	if err := chromedp.Listen(b.tab, asked.hear); err != nil {
		t.Fatal(err)
	}
	b.press("A new paddock")
	b.typeIn("Paddock", "Undrawn")
	b.press("Keep the paddock")
	paddock := b.path()
	b.press("Draw the boundary")
	b.headed("Draw Undrawn")
	b.typeIn("Latitude, longitude", "-36.41, 140.12")
	b.press("Open it there")
	b.drawsByHand()
	if beyond := asked.beyond(site); len(beyond) > 0 || asked.count() < 10 {
		t.Errorf("without imagery the browser asked for %q (%d requests in all)", beyond, asked.count())
	}
	b.says("ha gross", "drawn on the map: read 1 polygon with 1 hole, 7 corners")
	b.draws("outline", "dam", "nogo")
	b.drawsOverImagery(asked, paddock)
	obeysItsLaws(t, folder)
}

// drawsByHand draws an outside, a hole in it and a no-go area; a corner goes astray and comes
// back.
func (b *browser) drawsByHand() {
	b.t.Helper()
	b.says("Squares of", "Outside: press the map at each corner")
	for _, at := range []onMap{{0.2, 0.2}, {0.7, 0.2}, {0.7, 0.8}, {0.2, 0.8}} {
		b.pressMap(at)
	}
	b.measures()
	b.pressMap(onMap{0.2, 0.2}) // the first corner again
	b.says("Outside: drag a corner to move it")
	whole := b.measures()
	b.unfold("Hole")
	for _, at := range []onMap{{0.3, 0.4}, {0.4, 0.4}, {0.4, 0.6}} {
		b.pressMap(at)
	}
	b.unfold("Close the ring")
	if holed := b.measures(); holed == whole {
		b.t.Errorf("a hole leaves %s", holed)
	}
	b.dragOnMap(onMap{0.4, 0.6}, onMap{0.45, 0.7})
	moved, _ := b.drawn()
	b.measures()
	b.unfold("Undo")
	if back, _ := b.drawn(); fmt.Sprint(back) == fmt.Sprint(moved) {
		b.t.Error("undo left the corner where it was dragged to")
	}
	b.unfold("No-go area")
	for _, at := range []onMap{{0.5, 0.3}, {0.6, 0.3}, {0.6, 0.5}} {
		b.pressMap(at)
	}
	b.measures()
	b.look("draw")
	b.press("Keep this boundary")
	b.says("Kept.")
}

// drawsOverImagery sets the address of imagery: the map then asks for its tiles, and for
// nothing else outside the site.
func (b *browser) drawsOverImagery(asked *fetched, paddock string) {
	b.t.Helper()
	server, tiles := imagery(b.t)
	b.open("/business")
	b.fill("Address of its tiles", server+"/land/{z}/{x}/{y}.png", "Whose imagery it is", "Example Survey", "Closest level that it serves", "17")
	b.press("Keep the changes")
	b.open(paddock + "/draw")
	for began := time.Now(); len(tiles()) == 0; time.Sleep(30 * time.Millisecond) {
		if time.Since(began) > patience {
			b.t.Fatal("no tile is asked for")
		}
	}
	b.says("Imagery: Example Survey.")
	tile := regexp.MustCompile(`^/land/\d+/\d+/\d+\.png$`)
	for _, path := range tiles() {
		if !tile.MatchString(path) {
			b.t.Errorf("the server of imagery was asked for %s", path)
		}
	}
	for _, url := range asked.beyond(b.site) {
		if !strings.HasPrefix(url, server+"/land/") {
			b.t.Errorf("the browser asked for %s", url)
		}
	}
	before := b.measures()
	outside, _ := b.drawn()
	b.unfold("Take this area out")
	b.waitSays("There is no outside yet")
	b.unfold("Undo")
	if again, _ := b.drawn(); fmt.Sprint(again) != fmt.Sprint(outside) || b.measures() != before {
		b.t.Error("undo does not bring the area back")
	}
	b.look("draw over imagery")
}
