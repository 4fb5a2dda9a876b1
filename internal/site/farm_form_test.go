package site

import (
	"context"
	"strings"
	"testing"
)

func TestAFarmIsKeptAndChanged(t *testing.T) {
	w := farmed(t)
	w.contractor.get("/farms").mustShow(t, 200, "Example Farm")
	w.contractor.post("/farms/1/edit", with(farmForm, "abn", "51 824 753 556")...).mustLead(t, "/farms/1?done=kept")
	w.contractor.get("/farms/1/edit").mustShow(t, 200, `value="51 824 753 556"`, `value="Example Farm"`, "2 Example Road")
	got, err := w.store.Farm(context.Background(), 1)
	if err != nil || got.ABN != "51824753556" || got.Contact != "the manager" {
		t.Errorf("kept %+v, %v", got, err)
	}
}

func TestAFarmFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := farmed(t)
	for _, path := range []string{"/farms/new", "/farms/1/edit"} {
		for _, c := range []struct{ field, value, says string }{
			{"name", "", "Enter the farm's name"},
			{"name", "  ", "Enter the farm's name"},
			{"abn", "51 824 753 557", "check digits do not agree"},
			{"abn", "1234", ""},
			{"note", strings.Repeat("x", 2001), "This is 2001 characters long, shorten it to 2000."},
			{"note", strings.Repeat("é", 2001), "This is 2001 characters long, shorten it to 2000."},
		} {
			p := w.contractor.post(path, with(farmForm, c.field, c.value)...)
			p.mustRefuse(t, c.field, c.says)
			p.mustShow(t, 422, "2 Example Road", strings.TrimSpace(c.value))
		}
	}
	farms, err := w.store.Farms(context.Background())
	if err != nil || len(farms) != 1 || farms[0].Name != "Example Farm" || farms[0].Note != "" {
		t.Errorf("kept %+v, %v", farms, err)
	}
}

// A name is a name, however long and whatever is in it.
func TestAnyNameIsShownAsItIs(t *testing.T) {
	w := agreed(t)
	long := strings.Repeat("Long ", 39) + "Name!" // 200 characters
	for _, name := range []string{long, strings.Repeat("x", 200), strings.Repeat("牧", 2000), `<script>alert("x")</script>`, `O'Hara & Sons "Flat" <b>`, "Müller’s 牧場 🌾"} {
		w.contractor.post("/farms/1/edit", with(farmForm, "name", name)...).mustLead(t, "/farms/1?done=kept")
		w.contractor.post("/jobs/1/edit", with(jobForm, "name", name)...).mustLead(t, "/jobs/1?done=kept")
		for _, path := range []string{"/farms", "/farms/1", "/farms/1/edit", "/farms/1/paddocks/new", "/jobs", "/jobs/1", "/jobs/1/edit", "/", "/truck", "/truck/1", farmJob} {
			p := w.contractor.get(path)
			p.mustShow(t, 200, name)
			for _, raw := range []string{"<script>alert", "Sons \"Flat\" <b>"} {
				if strings.Contains(p.text, raw) {
					t.Errorf("%s: %q is written raw", path, raw)
				}
			}
		}
		w.contractor.post("/jobs/1/quote").mustShow(t, 303)
		papers := w.papers(t)
		last := papers[len(papers)-1]
		w.contractor.get("/papers/"+itoa(last.ID)).mustShow(t, 200, name)
		if pdf := w.contractor.get("/papers/" + itoa(last.ID) + "/pdf"); pdf.status != 200 || !strings.HasPrefix(pdf.text, "%PDF-") {
			t.Errorf("%q: the PDF is answered %d", name, pdf.status)
		}
	}
}

// Bytes that are no text are left out, so that either engine keeps the same.
func TestWhatIsNoTextIsLeftOut(t *testing.T) {
	w := farmed(t)
	w.contractor.post("/farms/1/edit", with(farmForm, "name", "A\x00 Farm\xff\xfe")...).mustLead(t, "/farms/1?done=kept")
	if got, err := w.store.Farm(context.Background(), 1); err != nil || got.Name != "A Farm" {
		t.Errorf("kept %q, %v", got.Name, err)
	}
	w.contractor.post("/farms/1/edit", with(farmForm, "name", "\x00\xff")...).mustRefuse(t, "name", "Enter the farm's name")
}

func TestAPaddockIsReadFromItsFile(t *testing.T) {
	w := farmed(t)
	kml := `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><Polygon><outerBoundaryIs><LinearRing><coordinates>` +
		`140.1,-36.4 140.104,-36.4 140.104,-36.397 140.1,-36.397 140.1,-36.4</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></kml>`
	w.contractor.upload("/farms/1/paddocks/new", "boundary", "hut.kml", kml, "name", "Hut").mustLead(t, "/paddocks/2")
	w.contractor.get("/paddocks/2").mustShow(t, 200, "Hut", "11.9", "hut.kml")
	w.contractor.upload("/paddocks/2/boundary", "no_go", "drain.geojson", strings.ReplaceAll(square, "140.104", "140.1005")).mustLead(t, "/paddocks/2?done=kept")
	got, err := w.store.Paddock(context.Background(), 2)
	if err != nil || got.NoGo == "" || got.Boundary == "" || !strings.HasPrefix(got.Source, "hut.kml") {
		t.Errorf("kept %+v, %v", got, err)
	}
}

// A fence and a bore keep rows off as an area does, once they have a margin.
func TestNoGoLinesAndPointsAreReadAndNeedAMargin(t *testing.T) {
	w := jobbed(t)
	w.contractor.post("/paddocks/1/boundary", "no_go_text", "-36.3990 140.1001\n-36.3990 140.1039\n\n-36.3980 140.1001\n-36.3980 140.1020\n-36.3975 140.1020", "no_go_lists", "lines").mustLead(t, "/paddocks/1?done=kept")
	w.contractor.get("/paddocks/1").mustShow(t, 200, "2 lines", "nogo-line")
	gpx := `<gpx><wpt lat="-36.3985" lon="140.1020"/><trk><trkseg><trkpt lat="-36.3990" lon="140.1001"/><trkpt lat="-36.3990" lon="140.1030"/><trkpt lat="-36.3992" lon="140.1039"/></trkseg></trk></gpx>`
	w.contractor.upload("/paddocks/1/boundary", "no_go", "round.gpx", gpx).mustRefuse(t, "no_go", "close it for me")
	w.contractor.upload("/paddocks/1/boundary", "no_go", "fence.gpx", gpx, "no_go_lists", "lines").mustLead(t, "/paddocks/1?done=kept")
	w.contractor.get("/paddocks/1").mustShow(t, 200, "1 line and 1 point", "nogo-line", "nogo-point")
	w.contractor.post("/jobs/1/rows", with(layoutForm, "no_go_margin_m", "0")...).mustRefuse(t, "no_go_margin_m", "No-go 1 is a line without width, and 0 m keeps no row off it")
	w.contractor.post("/jobs/1/rows", with(layoutForm, "no_go_margins", "2: 0 m, bore")...).mustRefuse(t, "no_go_margins", "No-go 2 is a point without width")
	w.contractor.post("/jobs/1/rows", with(with(layoutForm, "no_go_margin_m", "0"), "no_go_margins", "1: 6 m, fence\n2: 30 m, bore")...).mustLead(t, "/jobs/1?done=kept#rows")
	w.contractor.get("/jobs/1/rows").mustShow(t, 200, "2: 30 m, bore", "nogo-line")
}

func TestAPaddockFormSaysWhatToChange(t *testing.T) {
	w := farmed(t)
	for _, c := range []struct{ field, value, besides, says string }{
		{"name", "", "name", "Enter the paddock's name."},
		{"boundary_text", "{", "boundary", ""},
		{"boundary_text", `{"type":"Point","coordinates":[140.1,-36.4]}`, "boundary", ""},
		{"boundary_text", strings.ReplaceAll(square, "-36.4", "-96.4"), "boundary", ""},
		{"no_go_text", "<kml>", "no_go", ""},
	} {
		p := w.contractor.post("/farms/1/paddocks/new", with([]string{"name", "Hut", "boundary_text", square}, c.field, c.value)...)
		p.mustRefuse(t, c.besides, c.says)
		if c.field != "name" {
			p.mustKeep(t, "name", "Hut", c.field, c.value)
		}
	}
	w.contractor.upload("/farms/1/paddocks/new", "boundary", "empty.geojson", "", "name", "Hut").mustRefuse(t, "boundary", "empty.geojson is empty: choose the file again.")
	w.contractor.upload("/farms/1/paddocks/new", "boundary", "torn.geojson", "{", "name", "Hut").mustRefuse(t, "boundary", "")
	paddocks, err := w.store.Paddocks(context.Background(), 0)
	if err != nil || len(paddocks) != 1 {
		t.Errorf("%d paddocks are kept, %v", len(paddocks), err)
	}
}

// Reading a boundary in without a file changes nothing, and says so.
func TestABoundaryFormWithoutAFileIsRefused(t *testing.T) {
	w := farmed(t)
	w.contractor.post("/paddocks/1/boundary", "boundary_text", "", "no_go_text", "").mustRefuse(t, "boundary", "Choose the boundary's file")
	w.contractor.post("/paddocks/1/boundary", "boundary_text", "{").mustRefuse(t, "boundary", "")
	if got, err := w.store.Paddock(context.Background(), 1); err != nil || !strings.HasPrefix(got.Source, "pasted text") || got.NoGo != "" {
		t.Errorf("kept %+v, %v", got, err)
	}
}
