package site

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// square is a paddock of 358 m by 333 m, as a boundary file holds it.
const square = `{"type":"Polygon","coordinates":[[[140.100,-36.400],[140.104,-36.400],[140.104,-36.397],[140.100,-36.397],[140.100,-36.400]]]}`

// The forms of a job, in the order in which it is lived through.
var (
	farmForm   = []string{"name", "Example Farm", "contact", "the manager", "abn", "", "address", "2 Example Road", "phone", "", "email", "", "note", ""}
	jobForm    = []string{"paddock", "1", "name", "", "season", "2026", "asked_on", "2026-04-20", "visited_on", "2026-05-04", "visit_note", "ECe 11 dS/m", "window_from", "2026-07-13", "window_to", "2026-07-24", "note", ""}
	layoutForm = []string{"act", "keep", "bearing_deg", "0", "rows_per_belt", "2", "row_gap_m", "2", "alley_m", "12", "headland_m", "7", "no_go_margin_m", "", "spacing_m", "3", "least_row_m", ""}
	recipeForm = []string{"placement_ml", "45", "tub_l", "160", "product", "1", "spare_percent", "0", "scale_step_g", "1", "live_0", "30", "emergence_0", "5", "lot_1", "on"}
	ratesForm  = []string{
		"what_0", "Set-up", "unit_0", "each", "basis_0", "fixed", "quantity_0", "1", "price_0", "380.00",
		"what_1", "Seeding rows on mounds", "unit_1", "row-km", "basis_1", "row-km", "quantity_1", "", "price_1", "105.00",
	}
	catchForm = []string{"act", "keep", "caught_ml", "720", "run_m", "47.2", "outlets", "1", "spacing_m", "2.95"}
	dayForm   = []string{"machine", "1", "day", "2026-07-18", "meter_from", "4812.4", "meter_to", "4820.0", "row_km", "16.0", "fuel_l", "92.5", "standby_min", "30", "note", "gate locked"}
)

// farmToken is the farmer's link of farmed.
const farmToken = "a-link-that-nobody-could-guess-in-a-hundred-years"

// farmed is a town with a farm, its link, and its paddock, number 1 each.
func farmed(t testing.TB) town {
	t.Helper()
	w := newTown(t)
	w.contractor.post("/farms/new", farmForm...).mustLead(t, "/farms/1")
	w.contractor.post("/farms/1/paddocks/new", "name", "Bore", "boundary_text", square).mustLead(t, "/paddocks/1")
	if err := w.store.AddLink(context.Background(), w.act(), 1, farmToken); err != nil {
		t.Fatal(err)
	}
	return w
}

// jobbed is a town with a job on the paddock and all that one needs: a tested lot of 64 kg,
// 4 780 L of medium and a tractor, number 1 each.
func jobbed(t testing.TB) town {
	t.Helper()
	w := farmed(t)
	w.contractor.post("/shed/lots/new", lotForm...).mustLead(t, "/shed/lots/1")
	w.contractor.post("/shed/lots/1/tests/new", testForm...).mustLead(t, "/shed/lots/1?done=tested")
	w.contractor.post("/shed/media/new", mediumForm...).mustLead(t, "/shed/media/1")
	w.contractor.post("/machines/new", machineForm...).mustLead(t, "/machines/1")
	w.contractor.post("/jobs/new", jobForm...).mustLead(t, "/jobs/1")
	return w
}

// priced is jobbed with rows, lots and rates chosen.
func priced(t testing.TB) town {
	t.Helper()
	w := jobbed(t)
	w.contractor.post("/jobs/1/rows", layoutForm...).mustLead(t, "/jobs/1?done=kept#rows")
	w.contractor.post("/jobs/1/mix", recipeForm...).mustLead(t, "/jobs/1?done=kept#seed")
	w.contractor.post("/jobs/1/rates", ratesForm...).mustLead(t, "/jobs/1?done=kept#money")
	return w
}

// quoted is priced with quote 1 issued.
func quoted(t testing.TB) town {
	t.Helper()
	w := priced(t)
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	return w
}

// farmJob is job 1 as the farmer's link opens it.
const farmJob = "/farm/" + farmToken + "/jobs/1"

// agreed is quoted with the farmer's yes.
func agreed(t testing.TB) town {
	t.Helper()
	w := quoted(t)
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustLead(t, farmJob+"?done=agreed")
	return w
}

// sownOver is agreed with the log of a drive over every belt.
func sownOver(t testing.TB) town {
	t.Helper()
	w := agreed(t)
	w.contractor.upload("/jobs/1/sown", "log", "day 1.geojson", w.drive(t), "rows", "2", "row_gap_m", "2", "offset_right_m", "0").mustLead(t, "/jobs/1/sown?done=loaded")
	return w
}

// drive is a log of a straight drive along the middle of every belt.
func (w town) drive(t testing.TB) string {
	t.Helper()
	laid, err := w.facts(t, 1).Rows()
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for i := 1; i < len(laid.Rows); i++ {
		left, right := laid.Rows[i-1], laid.Rows[i]
		if left.Belt != right.Belt {
			continue
		}
		from := laid.Frame.ToEarth(laid.Place(left.Spans[0].FromM, (left.OffsetM+right.OffsetM)/2))
		to := laid.Frame.ToEarth(laid.Place(left.Spans[0].ToM, (left.OffsetM+right.OffsetM)/2))
		lines = append(lines, fmt.Sprintf("[[%.9f,%.9f],[%.9f,%.9f]]", from.Lon, from.Lat, to.Lon, to.Lat))
	}
	return `{"type":"MultiLineString","coordinates":[` + strings.Join(lines, ",") + `]}`
}

// facts is what the store knows of a job.
func (w town) facts(t testing.TB, jobID int64) job.Facts {
	t.Helper()
	facts, err := w.store.Facts(context.Background(), jobID, "2026-07-20")
	if err != nil {
		t.Fatal(err)
	}
	return facts
}

// papers is every paper issued.
func (w town) papers(t testing.TB) []bill.Paper {
	t.Helper()
	papers, err := w.store.Papers(context.Background(), 0)
	if err != nil {
		t.Fatal(err)
	}
	return papers
}

// sound fails where the store breaks a law.
func (w town) sound(t testing.TB) {
	t.Helper()
	broken, err := w.store.Verify(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, law := range broken {
		t.Error("broken law:", law)
	}
}

// mustRefuse fails unless the form came back with this sentence beside this field.
func (p page) mustRefuse(t testing.TB, field, says string) {
	t.Helper()
	if p.status != http.StatusUnprocessableEntity {
		t.Errorf("%s: answered %d, want 422: %s", field, p.status, p.mainText())
	}
	beside := `id="` + field + `-says">`
	if field == "" {
		beside = `role="alert">`
	}
	_, rest, found := strings.Cut(p.text, beside)
	got, _, _ := strings.Cut(rest, "<")
	if got = strings.ReplaceAll(html.UnescapeString(got), joiner, ""); !found || !strings.Contains(got, says) {
		t.Errorf("beside %q stands %q, want %q", field, got, says)
	}
}

// mustKeep fails unless the form shows again what was typed in its text fields.
func (p page) mustKeep(t testing.TB, pairs ...string) {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		name, value := pairs[i], html.EscapeString(pairs[i+1])
		again := regexp.MustCompile(`name="` + regexp.QuoteMeta(name) + `"[^>]*(value="([^"]*)"|>[^<]*<option[^>]*value="([^"]*)" selected|>([^<]*)</textarea>)`)
		if !again.MatchString(p.text) && value != "" {
			t.Errorf("the page has no field %q", name)
		} else if value != "" && !strings.Contains(html.UnescapeString(again.FindString(p.text)), pairs[i+1]) && !strings.Contains(p.text, `value="`+value+`" selected`) {
			t.Errorf("%s was typed as %q and is shown as %s", name, pairs[i+1], again.FindString(p.text))
		}
	}
}

// upload sends a form with a file.
func (b *browser) upload(path, field, name, content string, pairs ...string) page {
	b.t.Helper()
	b.form(path) // reads the session's token
	var body bytes.Buffer
	out := multipart.NewWriter(&body)
	file, err := out.CreateFormFile(field, name)
	if err != nil {
		b.t.Fatal(err)
	}
	file.Write([]byte(content))
	for i := 0; i < len(pairs); i += 2 {
		out.WriteField(pairs[i], pairs[i+1])
	}
	out.WriteField("csrf", b.csrf)
	if err := out.Close(); err != nil {
		b.t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, path, &body)
	r.Header.Set("Content-Type", out.FormDataContentType())
	r.Header.Set("Origin", "http://"+host)
	return b.send(r)
}
