package site

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

func TestADraftSaysWhatIsMissing(t *testing.T) {
	w := jobbed(t)
	w.contractor.get("/jobs/1/quote").mustShow(t, 409, "There are no rates yet")
	w.contractor.post("/jobs/1/quote").mustShow(t, 409, "There are no rates yet")
	w.contractor.post("/jobs/1/rates", ratesForm...).mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.post("/jobs/1/quote").mustShow(t, 409, "The rows are not laid yet")
	w.contractor.get("/jobs/1/invoice").mustShow(t, 409, "No quote of this job is agreed yet")
	w.contractor.post("/jobs/1/invoice").mustShow(t, 409, "No quote of this job is agreed yet")
	w.contractor.get("/accounts").mustShow(t, 200, "No paper is issued yet.")
	if papers := w.papers(t); len(papers) != 0 {
		t.Errorf("%d papers are issued", len(papers))
	}
}

func TestAnInvoiceWaitsForTheLog(t *testing.T) {
	w := agreed(t)
	for _, p := range []page{w.contractor.get("/jobs/1/invoice"), w.contractor.post("/jobs/1/invoice")} {
		p.mustShow(t, 409, "Nothing is measured yet. Load the sown log")
	}
	if papers := w.papers(t); len(papers) != 1 {
		t.Errorf("%d papers are issued", len(papers))
	}
}

func TestRowsAreBilledOnce(t *testing.T) {
	w := sownOver(t)
	w.contractor.get("/jobs/1/invoice").mustShow(t, 200, "Issue the invoice", "as measured")
	w.contractor.post("/jobs/1/invoice", "key", "k1").mustLead(t, "/papers/2?done=issued")
	for _, key := range []string{"k1", "k2"} { // a second press leads to the invoice as issued
		w.contractor.post("/jobs/1/invoice", "key", key).mustLead(t, "/papers/2?done=issued")
	}
	w.contractor.get("/jobs/1/invoice").mustShow(t, 409, "Invoice T2026-0001 has billed this job already")
	w.contractor.post("/jobs/1/sown/1/remove").mustShow(t, 409, "T2026-0001 rests on the logs of J-01")
	if papers := w.papers(t); len(papers) != 2 {
		t.Errorf("%d papers are issued", len(papers))
	}
	if facts := w.facts(t, 1); job.StageOf(facts) != job.Billed || len(facts.Held) != 0 {
		t.Errorf("%s, holds %v back", job.StageOf(facts), facts.Held)
	}
	w.contractor.get("/accounts").mustShow(t, 200, "2 papers issued, 1 of them invoices", "T2026-0001", "Q2026-0001")
	w.sound(t)
}

// A quote issued by a form sent twice is one quote, and so is one that somebody else issues as
// it stands; what says something else is a new revision, back to the first words too.
func TestAQuoteIssuedTwiceByOneFormIsOneQuote(t *testing.T) {
	w := priced(t)
	w.contractor.post("/jobs/1/quote", "key", "k1").mustLead(t, "/papers/1?done=issued")
	w.contractor.post("/jobs/1/quote", "key", "k1").mustLead(t, "/papers/1?done=issued")
	w.contractor.post("/jobs/1/quote", "key", "k2").mustLead(t, "/papers/1?done=issued")
	w.contractor.post("/jobs/1/rates", with(ratesForm, "price_1", "112.00")...).mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.post("/jobs/1/quote", "key", "k3").mustLead(t, "/papers/2?done=issued")
	w.contractor.post("/jobs/1/rates", ratesForm...).mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.post("/jobs/1/quote", "key", "k4").mustLead(t, "/papers/3?done=issued")
	papers := w.papers(t)
	if len(papers) != 3 || papers[1].Revision != 2 || papers[1].Number != "Q2026-0002" {
		t.Errorf("issued %+v", papers)
	}
	w.sound(t)
}

// What is issued stays: rates, rows, names and lots change, and the paper does not.
func TestAnIssuedPaperNeverChanges(t *testing.T) {
	w := quoted(t)
	before, pdf := w.papers(t)[0], w.contractor.get("/papers/1/pdf")
	sum := sha256.Sum256([]byte(pdf.text))
	if pdf.status != 200 || hex.EncodeToString(sum[:]) != before.SHA256 || !strings.HasPrefix(pdf.text, "%PDF-") {
		t.Fatalf("the PDF is answered %d and hashes to another sum than %q", pdf.status, before.SHA256)
	}
	if got := pdf.header.Get("Content-Disposition"); got != `inline; filename="Q2026-0001.pdf"` {
		t.Errorf("sent as %s", got)
	}
	w.contractor.post("/jobs/1/rates", with(ratesForm, "price_1", "112.00")...).mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.post("/jobs/1/rows", with(layoutForm, "alley_m", "20")...).mustLead(t, "/jobs/1?done=kept#rows")
	w.contractor.post("/farms/1/edit", with(farmForm, "name", "Renamed")...).mustLead(t, "/farms/1?done=kept")
	w.contractor.post("/jobs/1/edit", with(jobForm, "name", "Renamed too")...).mustLead(t, "/jobs/1?done=kept")
	after := w.papers(t)[0]
	if after.Total != before.Total || after.RowM != before.RowM || after.Buyer != before.Buyer || after.Map != before.Map || after.SHA256 != before.SHA256 {
		t.Errorf("the paper changed from %+v to %+v", before, after)
	}
	if w.contractor.get("/papers/1/pdf").text != pdf.text || w.nobody.get("/farm/"+farmToken+"/papers/1/pdf").text != pdf.text {
		t.Error("the PDF changed")
	}
	w.contractor.get("/papers/1").mustShow(t, 200, "105.00", "Example Farm")
}

func TestABusinessThatIsNotRegisteredQuotesWithoutTax(t *testing.T) {
	w := priced(t)
	form := []string{"name", "Example Rows", "abn", "", "registered", "no", "registered_on", "", "currency", "EUR", "tax_label", "VAT",
		"tax_percent", "10", "zone", "Australia/Adelaide", "terms_days", "14", "valid_days", "30"}
	w.contractor.post("/business", form...).mustShow(t, 303)
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	p := w.papers(t)[0]
	if p.Registered || p.TaxTotal != 0 || p.Total != p.NetTotal || p.Currency != "EUR" {
		t.Errorf("issued %+v", p)
	}
	w.contractor.get("/papers/1").mustShow(t, 200, "No VAT has been charged.", "Total, EUR")
	w.contractor.get("/jobs/1").mustShow(t, 200, "EUR "+p.Total.Shown())
	w.nobody.get(farmJob).mustShow(t, 200, "EUR "+p.Total.Shown(), "No VAT has been charged.")
	w.sound(t)
}

func TestAMixingSheetIsAPaperOfTheDay(t *testing.T) {
	w := priced(t)
	for who, b := range map[string]*browser{"contractor": w.contractor, "operator": w.operator} {
		if p := b.get("/jobs/1/mixing-sheet.pdf"); p.status != 200 || !strings.HasPrefix(p.text, "%PDF-") || p.header.Get("Content-Disposition") != `inline; filename="J-01 mixing sheet.pdf"` {
			t.Errorf("the %s gets %d", who, p.status)
		}
	}
	w.contractor.post("/shed/lots/1/hold", "reason", "mice").mustShow(t, 303)
	w.operator.get("/jobs/1/mixing-sheet.pdf").mustShow(t, 409, "Lot D26-01 is on hold: mice", "No other lot of the species has enough free live seed")
}

// A job of understorey alone, from its rates to its invoice: no row-km on any paper.
func TestAJobWithoutRowsIsQuotedAndBilled(t *testing.T) {
	w := jobbed(t)
	w.contractor.post("/jobs/1/rates", "what_0", "Drilling understorey", "unit_0", "ha", "basis_0", "fixed", "quantity_0", "22.0", "price_0", "46.00").mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	w.nobody.post(farmJob+"/yes", "name", "the owner", "quote", "1").mustLead(t, farmJob+"?done=agreed")
	w.contractor.get("/jobs/1").mustShow(t, 200, "Day sheet")
	w.operator.get("/truck/1").mustShow(t, 200, "Bore is priced without rows, so there is no tub to mix for it.")
	w.contractor.post("/jobs/1/invoice").mustShow(t, 409, "Nothing of this job is done yet")
	w.operator.post("/truck/1/day", with(dayForm, "row_km", "0")...).mustLead(t, "/truck/1?done=day")
	w.contractor.post("/jobs/1/invoice").mustLead(t, "/papers/2?done=issued")
	for _, p := range w.papers(t) {
		if p.RowM != 0 || p.Total.Shown() != "1,113.20" { // 22.0 x 46.00 and a tenth
			t.Errorf("%s over %v m comes to %s", p.Number, p.RowM, p.Total.Shown())
		}
	}
	for _, path := range []string{"/papers/1", "/papers/2"} {
		if p := w.contractor.get(path); strings.Contains(p.mainText(), "row-km") {
			t.Errorf("%s speaks of row-km: %s", path, p.mainText())
		}
		if p := w.contractor.get(path + "/pdf"); p.status != 200 {
			t.Errorf("%s is answered %d as PDF", path, p.status)
		}
	}
	w.sound(t)
}

// 15.31 row-km of 105.00 and 380.00: the lines on the page are those in the books.
func TestThePageOfAPaperShowsItsLines(t *testing.T) {
	w := sownOver(t)
	w.contractor.post("/jobs/1/invoice").mustLead(t, "/papers/2?done=issued")
	p := w.papers(t)[1]
	if p.Lines[1].Quantity.Compare(job.RowKmOf(w.facts(t, 1).Sown.CoveredM)) != 0 || p.Lines[1].Basis != bill.RowKm {
		t.Errorf("billed %s row-km", p.Lines[1].Quantity)
	}
	for _, b := range []page{w.contractor.get("/papers/2"), w.nobody.get(farmJob)} {
		b.mustShow(t, 200, "380.00", p.Lines[1].Net.Shown(), p.NetTotal.Shown(), p.TaxTotal.Shown(), p.Total.Shown(), "Measured from the machine's log")
	}
}
