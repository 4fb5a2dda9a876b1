package walk

import (
	"encoding/json"
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func (w *walk) addFarm() {
	b := w.contractor
	b.press("Farms")
	b.says("No farm is kept yet.")
	b.press("A new farm")
	b.fill("Farm", w.farm, "Who speaks for it", "the owner", "Address", "1 Example Road\nExampletown SA 5000")
	b.press("Keep the farm")
	b.headed(w.farm)
	w.farmPage = b.path()
}

// addPaddock reads the boundary in; the hectares are those of the same file in calc.
func (w *walk) addPaddock() {
	b := w.contractor
	b.press("A new paddock")
	w.badBoundaries()
	b.typeIn("Paddock", w.paddock)
	b.attach("Boundary file", sample(w.t, w.boundary))
	if w.noGo != "" {
		b.attach("No-go file", sample(w.t, w.noGo))
	}
	b.press("Keep the paddock")
	measured := calc[struct {
		AreaM2     float64 `json:"area_m2"`
		PerimeterM float64 `json:"perimeter_m"`
	}](w.t, "polygon-area", map[string]any{"boundary": shapeOf(w.t, w.boundary)})
	b.shows(fixed(measured.AreaM2/1e4, 1)+" ha gross", fixed(measured.PerimeterM, 0)+" m round")
	b.unfold("Working")
	w.same("area", b.row("area")["figure"], fixed(measured.AreaM2, 0))
	w.same("gross hectares", b.row("gross hectares")["figure"], fixed(measured.AreaM2/1e4, 2))
	b.draws("outline")
	if w.noGo != "" {
		b.draws("dam", "nogo")
	}
}

func (w *walk) askJob() {
	b := w.contractor
	b.press("A job on this paddock")
	b.fill("Asked on", day(w.t, -20), "Sowing window from", day(w.t, 3), "to", day(w.t, 12))
	b.press("Keep the job")
	b.headed(w.paddock + ", " + w.farm)
	w.job = b.path()
	w.next("Asked", "Lay the rows")
}

// wordWithoutBlank is wider than a phone's screen, as what people paste may be.
const wordWithoutBlank = "https://example.org/readings/salt-and-water/winter-watertable/by-depth-and-month.html"

// lookAt keeps what was seen on the farm.
func (w *walk) lookAt() {
	b := w.contractor
	b.open(w.job)
	b.press("change")
	b.fill("Looked at on", day(w.t, -12), "What was seen", "ECe 11 dS/m at 25 cm in May, "+wordWithoutBlank)
	b.press("Keep the changes")
	b.says("Kept.", "looked at", "Looked at on "+dayShown(w.t, -12)+". ECe 11 dS/m")
	w.next("Looked at", "Choose lots")
}

// sample is the whole path of a file of testdata, as a browser's file field takes it.
func sample(t *testing.T, name string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func readSample(t *testing.T, name string) []byte {
	t.Helper()
	content, err := os.ReadFile(sample(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// polygon is a GeoJSON polygon, longitude first.
type polygon struct {
	Type        string         `json:"type"`
	Coordinates [][][2]float64 `json:"coordinates"`
}

// shapeOf reads the one polygon of a sample, apart from the program's own readers.
func shapeOf(t *testing.T, name string) polygon {
	t.Helper()
	if strings.HasSuffix(name, ".kml") {
		return kmlPolygon(t, readSample(t, name))
	}
	var held struct {
		Geometry polygon `json:"geometry"`
		Features []struct {
			Geometry polygon `json:"geometry"`
		} `json:"features"`
	}
	if err := json.Unmarshal(readSample(t, name), &held); err != nil {
		t.Fatal(err)
	}
	if len(held.Features) == 1 {
		return held.Features[0].Geometry
	}
	return held.Geometry
}

func kmlPolygon(t *testing.T, content []byte) polygon {
	t.Helper()
	var held struct {
		Outer string `xml:"Document>Placemark>Polygon>outerBoundaryIs>LinearRing>coordinates"`
	}
	if err := xml.Unmarshal(content, &held); err != nil {
		t.Fatal(err)
	}
	var ring [][2]float64
	for _, corner := range strings.Fields(held.Outer) {
		parts := strings.Split(corner, ",")
		ring = append(ring, [2]float64{amount(t, parts[0]), amount(t, parts[1])})
	}
	return polygon{"Polygon", [][][2]float64{ring}}
}
