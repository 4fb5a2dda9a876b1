package site

import (
	"bytes"
	"context"
	"mime/multipart"
	"net/http/httptest"
	"strings"
	"testing"

	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/unit"
)

// ofDay is testForm with its day and the normal seedlings of every replicate set; what is
// left of the hundred is dead.
func ofDay(day string, normal, dead string) []string {
	form := with(testForm, "tested_on", day)
	for _, n := range []string{"1", "2", "3", "4"} {
		for name, value := range map[string]string{"normal_": normal, "abnormal_": "0", "hard_": "0", "fresh_": "0", "dead_": dead} {
			form = with(form, name+n, value)
		}
	}
	return form
}

func TestALotsLifeIsDrawnFromItsOwnTests(t *testing.T) {
	w := lotted(t)
	w.contractor.post("/shed/lots/1/tests/new", ofDay("2025-01-20", "40", "60")...).mustLead(t, "/shed/lots/1?done=tested")
	w.contractor.post("/shed/lots/1/tests/new", ofDay("2025-07-20", "34", "66")...).mustLead(t, "/shed/lots/1?done=tested")
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "Nothing is foreseen", `class="line"`, "retest due")
	w.contractor.post("/shed/lots/1/tests/new", ofDay("2026-03-20", "26", "74")...).mustLead(t, "/shed/lots/1?done=tested")
	p := w.contractor.get("/shed/lots/1")
	p.mustShow(t, 200, "Foreseen from its own 3 tests", `class="band"`, "deviates a year", "germination foreseen")
	if strings.Contains(p.text, "Nothing is foreseen") {
		t.Error("the page says both that something is foreseen and that nothing is")
	}
}

func TestWhereALotLayIsKeptAndForeseesItsLife(t *testing.T) {
	w := newTown(t)
	clover := with(with(lotForm, "species", "Trifolium subterraneum"), "layer", "understorey")
	w.contractor.post("/shed/lots/new", clover...).mustLead(t, "/shed/lots/1")
	w.contractor.post("/shed/lots/1/tests/new", ofDay("2026-02-10", "88", "12")...)
	store := []string{"since", "2026-02-01", "place", "shed, in bags", "moisture_percent", "11", "temperature_c", "24", "note", ""}
	w.contractor.post("/shed/lots/1/store", store...).mustLead(t, "/shed/lots/1?done=kept#store")
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "shed, in bags", "11.0", "24.0", "viability equation", "Trifolium subterraneum", "Hong et al., 1996")
	for _, c := range []struct{ field, value, says string }{
		{"since", "2026-07-21", "is after today"}, {"since", "2026-02-01", "kept already"}, {"place", "", "Enter where it lies."},
		{"moisture_percent", "0", "Moisture is 0 %, enter a figure above 0"}, {"moisture_percent", "damp", "is not a number"}, {"temperature_c", "300", "Temperature is 300 °C"},
	} {
		w.contractor.post("/shed/lots/1/store", with(store, c.field, c.value)...).mustShow(t, 422, c.says)
	}
	w.contractor.post("/shed/lots/1/store/1/drop").mustLead(t, "/shed/lots/1?done=off#store")
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "Not kept yet", "Nothing is foreseen")
}

func TestTestsOfOneSeasonAreJudgedTogether(t *testing.T) {
	w := lotted(t)
	w.contractor.post("/shed/lots/1/tests/new", ofDay("2026-02-10", "40", "60")...)
	w.contractor.post("/shed/lots/1/tests/new", ofDay("2026-05-10", "28", "72")...)
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "10 Feb 2026 and 10 May 2026: the tests differ by 12, at most 10: test again.")
}

func TestAKindOfTestHoldsItsOwnCounts(t *testing.T) {
	w := newTown(t)
	w.contractor.post("/shed/lots/new", with(lotForm, "harvest", "2025-12")...).mustLead(t, "/shed/lots/1")
	stained := []string{"kind", "tetrazolium", "certificate", "sample", "tested_on", "2026-03-02", "laboratory", "district laboratory", "seeds_1", "200", "normal_1", "96"}
	w.contractor.post("/shed/lots/1/tests/new", stained...).mustLead(t, "/shed/lots/1?done=tested")
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "Tetrazolium test", "does not speak for the whole lot", "Viable", "yes, until 2 Mar 2027, for want of a germination test in date")
	cut := with(with(stained, "kind", "cut test"), "normal_1", "190")
	w.contractor.post("/shed/lots/1/tests/new", cut...).mustLead(t, "/shed/lots/1?done=tested")
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "never: a cut test finds filled seed", "Filled and sound")
	for _, c := range []struct{ field, value, says string }{
		{"tested_on", "2025-11-30", "The test finished on 30 Nov 2025, before the lot was harvested in Dec 2025"},
		{"tested_on", "2026-07-21", "is after today"}, {"kind", "sniff", "choose germination, tetrazolium or cut test"},
		{"certificate", "gold", "choose lot or sample"}, {"dead_1", "104", "grows no seedlings"},
	} {
		w.contractor.post("/shed/lots/1/tests/new", append(with(stained, c.field, c.value), c.field, c.value)...).mustShow(t, 422, c.says)
	}
}

func TestALabelsOtherPartsAreHeldTogether(t *testing.T) {
	w := newTown(t)
	full := append(append([]string{}, lotForm...), "harvest", "2025-11", "permit", "PC-7", "inert_percent", "6.5", "other_seed_percent", "1.5")
	full = with(full, "treatment", "insecticide")
	full = append(full, "treated_on", "2026-01-05")
	w.contractor.post("/shed/lots/new", full...).mustLead(t, "/shed/lots/1")
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "Nov 2025", "PC-7", "6.5", "1.5", "insecticide, 5 Jan 2026", "never feed it to stock")
	w.contractor.get("/shed/lots/1/edit").mustShow(t, 200, `value="2025-11"`, `value="6.5"`, `value="2026-01-05"`)
	for _, c := range []struct{ field, value, says string }{
		{"inert_percent", "8", "Pure seed, inert matter and other seed make 101.5 %, not 100"}, {"inert_percent", "-1", "Inert matter is -1 %"},
		{"other_seed_percent", "nil", "is not a number"}, {"harvest", "2025-13", "is not a month"}, {"harvest", "2026-02", "after it was received"},
		{"treatment", "", "It was treated on 5 Jan 2026: enter the product"}, {"treated_on", "2026-08-01", "is after today"},
	} {
		w.contractor.post("/shed/lots/new", with(full, c.field, c.value)...).mustShow(t, 422, c.says)
	}
}

// sent posts a file in a form of several parts.
func (b *browser) sent(path, title, name string, content []byte) page {
	b.t.Helper()
	if b.csrf == "" {
		b.csrf = tokenIn(b.get("/shed").text)
	}
	var body bytes.Buffer
	parts := multipart.NewWriter(&body)
	for field, value := range map[string]string{"csrf": b.csrf, "title": title} {
		if err := parts.WriteField(field, value); err != nil {
			b.t.Fatal(err)
		}
	}
	file, err := parts.CreateFormFile("file", name)
	if err != nil {
		b.t.Fatal(err)
	}
	if _, err := file.Write(content); err != nil {
		b.t.Fatal(err)
	}
	parts.Close()
	r := httptest.NewRequest("POST", path, &body)
	r.Header.Set("Content-Type", parts.FormDataContentType())
	r.Header.Set("Origin", "http://"+host)
	return b.send(r)
}

func TestADocumentComesBackAsItWasAndAsNothingElse(t *testing.T) {
	w := lotted(t)
	pdf := []byte("%PDF-1.7 \x00\xff an analysis")
	w.contractor.sent("/shed/lots/1/documents/new", "analysis certificate", "cert <1>\".exe", pdf).mustLead(t, "/shed/lots/1?done=kept#documents")
	w.operator.get("/shed/lots/1").mustShow(t, 200, "analysis certificate", "/shed/lots/1/documents/1")
	p := w.operator.get("/shed/lots/1/documents/1")
	if p.status != 200 || p.text != string(pdf) || p.header.Get("Content-Type") != "application/pdf" ||
		p.header.Get("X-Content-Type-Options") != "nosniff" || p.header.Get("Content-Disposition") != `inline; filename="cert 1.pdf"` {
		t.Errorf("came back %d %v", p.status, p.header)
	}
	w.contractor.get("/shed/lots/2/documents/1").mustShow(t, 404)
	for _, c := range []struct {
		title   string
		content []byte
		says    string
	}{
		{"photo", []byte("<html><script>alert(1)</script>"), "neither a PDF nor a photo"},
		{"photo", nil, "Choose the file again"[7:]},
		{"", pdf, "Say what it is"},
		{"again", pdf, "kept with the lot D26-01 already"},
		{"huge", append([]byte("%PDF-"), make([]byte, seed.MostDocumentBytes)...), "up to 10 MB"},
	} {
		w.contractor.sent("/shed/lots/1/documents/new", c.title, "x.pdf", c.content).mustShow(t, 422, c.says)
	}
	w.contractor.post("/shed/lots/1/documents/1/drop").mustLead(t, "/shed/lots/1?done=off#documents")
	w.contractor.get("/shed/lots/1/documents/1").mustShow(t, 404)
}

func TestALotIsSplitAndBlendedOnThePage(t *testing.T) {
	w := lotted(t)
	w.contractor.post("/shed/lots/1/tests/new", testForm...)
	w.contractor.get("/shed/blend").mustShow(t, 409, "there is nothing to blend")
	w.contractor.post("/shed/lots/1/split", "code", "D26-01-B", "quantity", "70").mustShow(t, 422, "64.000 kg of D26-01 lie free", `value="70"`)
	w.contractor.post("/shed/lots/1/split", "code", "D26-01-B", "quantity", "14").mustLead(t, "/shed/lots/2?done=kept")
	w.contractor.get("/shed/lots/2").mustShow(t, 200, "D26-01-B", "Came from", "14.0 kg", "Copied from the lot that this one was split from", "26.1")
	w.contractor.get("/shed/lots/1").mustShow(t, 200, "Went into", "50.0")
	w.contractor.get("/shed/blend").mustShow(t, 200, "50.0 kg free", "14.0 kg free", "Old man saltbush, Atriplex nummularia")
	w.contractor.post("/shed/blend", "code", "B26-01", "kg_1", "30").mustShow(t, 422, "two lots or more")
	w.contractor.post("/shed/blend", "code", "B26-01", "kg_1", "30", "kg_2", "10").mustLead(t, "/shed/lots/3?done=kept")
	w.contractor.get("/shed/lots/3").mustShow(t, 200, "B26-01", "(75.0 %)", "(25.0 %)", "worked out from the parts", "26.1")
	w.sound(t)
}

func TestRetestMonthsAreASettingOfTheSpecies(t *testing.T) {
	w := newTown(t)
	bush := with(with(lotForm, "species", "Maireana brevifolia"), "retest_months", "")
	w.contractor.post("/shed/lots/new", bush...).mustLead(t, "/shed/lots/1")
	months := func() int {
		lot, err := w.store.Lot(context.Background(), 1)
		if err != nil {
			t.Fatal(err)
		}
		return lot.RetestMonths
	}
	if months() != 6 {
		t.Errorf("a test of bluebush counts for %d months, want 6", months())
	}
	w.contractor.get("/shed/retests").mustShow(t, 200, "Maireana brevifolia", `value="6"`, "bluebush loses much of its life")
	w.contractor.post("/shed/retests", "months_0", "0").mustShow(t, 422, "enter a whole number from 1 to 120")
	w.contractor.post("/shed/retests", "months_0", "4").mustLead(t, "/shed?done=kept")
	if months() != 4 {
		t.Errorf("a test counts for %d months after the setting changed to 4", months())
	}
	second := with(with(bush, "code", "D26-02"), "species", "Atriplex amnicola")
	w.contractor.post("/shed/lots/new", second...).mustLead(t, "/shed/lots/2")
	w.contractor.get("/shed/retests").mustShow(t, 200, "common practice, no source", `value="12"`, `value="4"`)
}

// The picture keeps within its frame, and its days run from left to right.
func TestThePictureOfALotStaysInItsFrame(t *testing.T) {
	lot := seed.Lot{ID: 1, Code: "D1", PurityPercent: 90, UnitsPerKg: 1000, RetestMonths: 12}
	var tests []seed.Test
	for i, normal := range []int{170, 120, 60} {
		day := unit.Date("2025-01-01").Plus(200 * i)
		tests = append(tests, seed.Test{ID: int64(i + 1), LotID: 1, TestedOn: day, Replicates: []seed.Replicate{{Seeds: 400, Normal: normal}}})
	}
	figures := job.LotToday(lot, tests, "2026-07-20")
	sows := []sowing{{Job: job.Job{Code: "J-05", WindowFrom: "2026-08-10"}}, {Job: job.Job{Code: "J-09", WindowFrom: "2028-08-10"}}}
	c := chartLife(lotLife{figures, seed.DeclineOf(lot, tests, nil, figures.Day), testLines(figures, tests), sows})
	if c == nil || len(c.Marks) != 3 || c.Decline == "" || c.Band == "" || c.Path != "" || len(c.Days) != 4 {
		t.Fatalf("the picture is %+v", c)
	}
	for _, d := range c.Days {
		if d.X < chartLeft || d.X > chartRight {
			t.Errorf("%s stands at %v", d.Words, d.X)
		}
	}
	for i, m := range c.Marks {
		if m.X < chartLeft || m.X > chartRight || m.HighY < chartTop || m.LowY > chartBottom || !(m.HighY <= m.Y && m.Y <= m.LowY) || i > 0 && m.X <= c.Marks[i-1].X {
			t.Errorf("test %d stands at %+v", i, m)
		}
	}
	if chartLife(lotLife{figures: job.LotToday(lot, nil, "2026-07-20")}) != nil {
		t.Error("a lot without tests is drawn")
	}
}
