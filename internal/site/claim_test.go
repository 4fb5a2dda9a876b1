package site

import (
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/money"
)

// A job billed in three parts: deposit, what is sown so far, and the rest.
func TestAJobBilledInParts(t *testing.T) {
	w := quoted(t)
	w.contractor.get("/jobs/1/deposit").mustShow(t, 409, "No quote of this job is agreed yet")
	w.nobody.post(farmJob+"/yes", "name", "the owner", "quote", "1").mustLead(t, farmJob+"?done=agreed")
	w.contractor.get("/jobs/1/deposit").mustShow(t, 200, "The invoice as it would be issued", "Deposit, 20 % of quote Q2026-0001")
	w.contractor.post("/jobs/1/deposit", "percent", "120", "act", "issue").mustShow(t, 422, "no share of the price", `value="120"`)
	w.contractor.post("/jobs/1/deposit", "percent", "25", "act", "show").mustShow(t, 200, "Deposit, 25 % of quote Q2026-0001")
	w.contractor.post("/jobs/1/deposit", "percent", "25", "act", "issue").mustLead(t, "/papers/2?done=issued")
	w.contractor.get("/papers/2").mustShow(t, 200, "Tax invoice, deposit T2026-0001")
	w.contractor.get("/jobs/1").mustShow(t, 200, "T2026-0001 of", "a deposit:", "billed so far")
	w.nobody.get(farmJob).mustShow(t, 200, "Invoice T2026-0001, deposit")
	w.contractor.get("/jobs/1/claim").mustShow(t, 409, "Nothing is measured yet")
	if p := w.papers(t); p[1].Part != bill.Deposit || p[1].NetTotal != p[0].NetTotal.Factor().Percent(money.Whole(25)).Cents() {
		t.Errorf("issued %+v", p[1])
	}
	w.sound(t)
}

// With the rows sown: a claim for some of the other lines, then the rest. Together they bill
// what one invoice would, the PDF opens, and of two presses one is issued.
func TestAProgressClaimAndTheRest(t *testing.T) {
	w := sownOver(t)
	w.contractor.get("/jobs/1/claim").mustShow(t, 200, "Done of", "What is done up to")
	w.contractor.post("/jobs/1/claim", "done_0", "999", "act", "issue").mustShow(t, 422, "enter what is done of it, from 0 to", `value="999"`)
	w.contractor.post("/jobs/1/claim", "done_0", "0", "act", "issue").mustLead(t, "/papers/2?done=issued")
	w.contractor.get("/papers/2").mustShow(t, 200, "Tax invoice, progress claim T2026-0001")
	w.contractor.get("/papers/2/pdf").mustShow(t, 200, "%PDF-")
	w.contractor.get("/jobs/1").mustShow(t, 200, "a progress claim:", "not billed yet")
	w.contractor.get("/jobs/1/deposit").mustShow(t, 409, "a deposit comes first")
	w.contractor.get("/jobs/1/invoice").mustShow(t, 200, "Less billed on T2026-0001")
	w.contractor.post("/jobs/1/invoice").mustLead(t, "/papers/3?done=issued")
	w.contractor.get("/jobs/1/claim").mustShow(t, 409, "has billed this job already")
	w.contractor.get("/jobs/1").mustShow(t, 200, "T2026-0001 before it")
	w.nobody.get(farmJob).mustShow(t, 200, "Before it: T2026-0001, progress claim")
	w.contractor.get("/jobs/1/adjustment").mustShow(t, 200, "quantity should be")
	p := w.papers(t)
	agreed := money.Cents(0)
	for _, l := range p[2].Lines {
		if !l.TakesOff() {
			agreed += l.Net
		}
	}
	if p[1].NetTotal+p[2].NetTotal != agreed || p[2].Lines[len(p[2].Lines)-1].LessID != p[1].ID {
		t.Errorf("%s and %s for %s of work", p[1].NetTotal, p[2].NetTotal, agreed)
	}
	w.sound(t)
}
