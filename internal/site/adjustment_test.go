package site

import (
	"context"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"testing"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/demo"
	"rowtally/internal/job"
	"rowtally/web"
)

// lagoon is the job of the demo that was billed by the plan before its log came.
const lagoon = "/jobs/2"

// demoTown is the demo's season, with its contractor signed in.
func demoTown(t testing.TB) (town, demo.Town) {
	t.Helper()
	books := freshStore(t)
	invented, err := demo.Build(context.Background(), books, func(string) (string, error) { return contractorHash, nil })
	if err != nil {
		t.Fatal(err)
	}
	app, err := New(Options{Books: books, Press: press(t), Pages: web.Pages, Dist: web.Dist, Asset: web.Asset,
		Now: func() time.Time { return moment }, Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	if err != nil {
		t.Fatal(err)
	}
	w := town{app: app, store: books, nobody: &browser{t: t, app: app}}
	w.contractor = w.session(1)
	return w, invented
}

// 24.80 row-km were billed and 24.00 sown: 4,860.70 against 4,740.12, 120.58 less.
func TestTheQueriedInvoiceIsAdjustedThroughTheFrontDoor(t *testing.T) {
	w, invented := demoTown(t)
	w.contractor.get(lagoon).mustShow(t, 200, "An adjustment note is owed: the log shows 24.00 of 24.80 row-km billed.", "$4,860.70", "Make the adjustment note")
	w.contractor.get(lagoon+"/adjustment").mustShow(t, 200, "24.80 row-km were billed; the machine", "Less to pay, incl. GST, AUD", "−120.58", "−10.96")
	form := []string{"act", "issue", "reason", "The log shows 24.00 row-km.",
		"quantity_0", "1", "price_0", "380.00", "quantity_1", "164", "price_1", "2.90", "quantity_2", "24.00", "price_2", "105.00",
		"quantity_3", "24.00", "price_3", "22.7248", "quantity_4", "24.00", "price_4", "9.30", "quantity_5", "1", "price_5", "165.00"}
	sent := w.contractor.post(lagoon+"/adjustment", form...)
	note := w.papers(t)[len(w.papers(t))-1]
	sent.mustLead(t, "/papers/"+itoa(note.ID)+"?done=issued")
	if note.Kind != bill.Adjustment || note.Number != "A2026-0001" || note.Total != -120_58 || note.TaxTotal != -10_96 || note.SHA256 == "" {
		t.Errorf("the note is %+v", note)
	}
	standing, _ := w.facts(t, 2).Standing()
	if standing.Invoice.Total != 4860_70 || standing.Total != 4740_12 {
		t.Errorf("the invoice is over %s and stands at %s", standing.Invoice.Total, standing.Total)
	}
	w.contractor.get("/papers/"+itoa(note.ID)).mustShow(t, 200, "Adjustment note A2026-0001", "It adjusts T2026-0001 of 29 Jun 2026: The log shows 24.00 row-km.", note.SHA256)
	if pdf := w.contractor.get("/papers/" + itoa(note.ID) + "/pdf"); pdf.status != 200 || !strings.HasPrefix(pdf.text, "%PDF") {
		t.Errorf("the PDF: %d", pdf.status)
	}
	w.contractor.get("/papers/"+itoa(note.ID)).mustShow(t, 200, "UBL 2.1 invoice data (not sent through any network)", "the buyer's ABN; a buyer reference or order number")
	credit := w.contractor.get("/papers/" + itoa(note.ID) + "/ubl.xml")
	credit.mustShow(t, 200, "<CreditNote xmlns=", "T2026-0001", `<cbc:PayableAmount currencyID="AUD">120.58</cbc:PayableAmount>`)
	if kind := credit.header.Get("Content-Type"); !strings.HasPrefix(kind, "application/xml") {
		t.Errorf("the UBL file is sent as %s", kind)
	}
	w.contractor.get("/papers/1/ubl.xml").mustShow(t, 404, "Only an issued invoice or adjustment note")
	page := w.contractor.get(lagoon)
	page.mustShow(t, 200, "$4,740.12", "A2026-0001 of 20 Jul 2026: $120.58 less.")
	if strings.Contains(page.text, "is owed") {
		t.Error("a note is still owed")
	}
	w.contractor.get("/accounts").mustShow(t, 200, "A2026-0001")
	w.nobody.get("/farm/"+invented.Links[0].Token+lagoon).mustShow(t, 200, "Adjustment note A2026-0001", "Less to pay", "<b>$4,740.12</b> is what T2026-0001 comes to now.")
	// once more by the same form: nothing is left to adjust
	w.contractor.post(lagoon+"/adjustment", form...).mustRefuse(t, "", "Every line is as T2026-0001 stands")
	w.sound(t)
}

func TestAnAdjustmentFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := sownOver(t)
	w.contractor.get("/jobs/1/adjustment").mustShow(t, http.StatusConflict, "no invoice yet")
	w.contractor.post("/jobs/1/invoice").mustLead(t, "/papers/2?done=issued")
	km := job.RowKmOf(w.facts(t, 1).Sown.CoveredM).String()
	for _, c := range []struct {
		field, says           string
		quantity, rows, price string
		reason                string
	}{
		{"reason", "Say why the invoice is adjusted", "2", km, "380.00", ""},
		{"", "Every line is as T2026-0001 stands", "1", km, "380.00", "a slip"},
		{"quantity_1", "rows are billed once", "1", "99", "380.00", "a slip"},
		{"quantity_0", "below zero", "-1", km, "380.00", "a slip"},
		{"price_0", "is not an amount", "1", km, "a lot", "a slip"},
		{"price_0", "more than anybody could charge", "1", km, "9999999999", "a slip"},
		{"price_0", "is not an amount", "1", km, "", "a slip"},
	} {
		form := []string{"act", "issue", "reason", c.reason, "quantity_0", c.quantity, "price_0", c.price, "quantity_1", c.rows, "price_1", "105.00"}
		p := w.contractor.post("/jobs/1/adjustment", form...)
		p.mustRefuse(t, c.field, c.says)
		p.mustKeep(t, "quantity_0", c.quantity, "quantity_1", c.rows)
	}
	if n := len(w.papers(t)); n != 2 {
		t.Errorf("%d papers after refusals", n)
	}
	w.contractor.post("/jobs/1/adjustment", "act", "show", "reason", "a slip", "quantity_0", "0.5", "price_0", "380.00", "quantity_1", km, "price_1", "105.00").
		mustShow(t, 200, "The note as it would be issued", "−209.00")
}
