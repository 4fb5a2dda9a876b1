package site

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"rowtally/internal/ground"
	"rowtally/internal/job"
)

func TestPlannedRowsLeaveInEveryFormatAndAsAMap(t *testing.T) {
	w := priced(t)
	const rows = "/jobs/1/rows"
	for ending, begins := range map[string]string{"geojson": `{"type":"FeatureCollection"`, "kml": "<?xml", "gpx": "<?xml", "csv": "row,from_lat"} {
		for _, who := range []*browser{w.contractor, w.operator} {
			p := who.get(rows + "." + ending)
			if p.status != 200 || !strings.HasPrefix(p.text, begins) || !strings.Contains(p.header.Get("Content-Disposition"), `attachment; filename="J-01-rows.`+ending+`"`) {
				t.Errorf("%s: %d %q %.80s", ending, p.status, p.header.Get("Content-Disposition"), p.text)
			}
		}
	}
	var g ground.Geometry
	if err := json.Unmarshal([]byte(w.contractor.get(rows+".geojson").text), &g); err != nil || len(g.Lines) < 20 {
		t.Errorf("%d lines, %v", len(g.Lines), err)
	}
	if p := w.contractor.get("/jobs/1/map.pdf"); p.status != 200 || !strings.HasPrefix(p.text, "%PDF") {
		t.Errorf("the map: %d %.80s", p.status, p.text)
	}
	w.contractor.get(rows).mustShow(t, 200, rows+".gpx", "map.pdf")
	w.contractor.get(rows+".doc").mustShow(t, 404)
	w.contractor.get("/jobs/1/sown.geojson").mustShow(t, 409, "matched to a log yet")
}

// A farmer takes the rows of an own job along once a paper is issued, and of no other.
func TestFarmersTakeTheirOwnRowsAlong(t *testing.T) {
	w := priced(t)
	const path = "/farm/" + farmToken + "/jobs/1"
	w.nobody.get(path+"/rows.gpx").mustShow(t, http.StatusNotFound)
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	w.nobody.get(path+"/rows.gpx").mustShow(t, 200, "<trkpt", "row 1")
	w.nobody.get(path).mustShow(t, 200, path+"/rows.geojson", path+"/map.pdf")
	if p := w.nobody.get(path + "/map.pdf"); p.status != 200 || !strings.HasPrefix(p.text, "%PDF") {
		t.Errorf("the map: %d", p.status)
	}
	other, err := w.store.AddFarm(t.Context(), w.act(), job.Farm{Name: "Another Farm"})
	if err != nil {
		t.Fatal(err)
	}
	if err := w.store.AddLink(t.Context(), w.act(), other, "another-token"); err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"/rows.csv", "/sown.kml", "/map.pdf"} {
		w.nobody.get("/farm/another-token/jobs/1"+file).mustShow(t, http.StatusNotFound)
		w.nobody.get("/farm/no-token/jobs/1"+file).mustShow(t, http.StatusNotFound)
	}
}
