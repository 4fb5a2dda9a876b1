package site

import (
	"fmt"
	"testing"

	"rowtally/internal/job"
)

func TestWhatIsSownIsBilledInOneGo(t *testing.T) {
	w := sownOver(t)
	draft, err := job.InvoiceDraft(w.facts(t, 1))
	if err != nil {
		t.Fatal(err)
	}
	total := draft.Total.Shown()
	w.contractor.get("/accounts/bill").mustShow(t, 200, "1 job can be billed", total, `name="job_1" checked`, "Ticked: 1 of 1 job")
	w.contractor.post("/accounts/bill", "act", "sum").mustShow(t, 200, "Ticked: 0 of 1 job")
	w.contractor.post("/accounts/bill", "act", "issue").mustShow(t, 422, "Nothing is ticked")
	w.contractor.post("/accounts/bill", "act", "issue", "key", "k1", "job_1", "on", "total_1", "1").mustShow(t, 200, "0 invoices are issued", "1 could not be", total+" now, which is not what the page showed")
	if papers := w.papers(t); len(papers) != 1 {
		t.Fatalf("%d papers are issued, want the quote alone", len(papers))
	}
	form := []string{"act", "issue", "key", "k2", "job_1", "on"}
	w.contractor.post("/accounts/bill", form...).mustShow(t, 200, "1 invoice is issued", "T2026-0001", total)
	for _, key := range []string{"k2", "k3"} {
		w.contractor.post("/accounts/bill", with(form, "key", key)...).mustShow(t, 200, "T2026-0001", "issued before")
	}
	papers := w.papers(t)
	if len(papers) != 2 || papers[1].SHA256 == "" || papers[1].Total != draft.Total {
		t.Errorf("issued %+v, want one invoice with its PDF", papers)
	}
	w.contractor.get("/accounts/bill").mustShow(t, 200, "Nothing waits for its invoice")
	w.operator.get("/accounts/bill").mustShow(t, 403)
	w.sound(t)
}

// What a run did not come to is offered again, with what the page had shown of it.
func TestBillingThatEndsEarlyOffersTheRest(t *testing.T) {
	w := sownOver(t)
	draft, err := job.InvoiceDraft(w.facts(t, 1))
	if err != nil {
		t.Fatal(err)
	}
	shown := fmt.Sprint(int64(draft.Total))
	close(w.ends)
	w.contractor.post("/accounts/bill", "act", "issue", "key", "k1", "job_1", "on", "total_1", shown).mustShow(t, 200,
		"Ticked: 1 job.", "0 invoices are issued", "Go on with the 1 left", `name="job_1" value="on"`, `name="total_1" value="`+shown+`"`)
	if papers := w.papers(t); len(papers) != 1 {
		t.Errorf("%d papers are issued, want the quote alone", len(papers))
	}
}

// A job that is agreed and not measured is listed with what it waits for, and refused alone.
func TestWhatIsNotSownIsNotBilled(t *testing.T) {
	w := agreed(t)
	w.contractor.get("/accounts/bill").mustShow(t, 200, "Nothing can be billed yet: 1 job agreed and not ready.", "Nothing is measured yet")
	w.contractor.post("/accounts/bill", "act", "issue", "job_1", "on").mustShow(t, 200, "Not issued. Nothing is measured yet")
	if papers := w.papers(t); len(papers) != 1 {
		t.Errorf("%d papers are issued, want the quote alone", len(papers))
	}
}

func TestANewPasswordEndsTheOtherSessions(t *testing.T) {
	w := newTown(t)
	elsewhere, operator := w.session(1), w.session(2)
	w.contractor.post("/people/1/password", "password", "another four unrelated words").mustLead(t, "/people?done=kept")
	w.contractor.get("/shed").mustShow(t, 200)
	elsewhere.get("/shed").mustShow(t, 303)
	operator.get("/shed").mustShow(t, 200)
	w.contractor.post("/people/2/password", "password", "another four unrelated words").mustLead(t, "/people?done=kept")
	operator.get("/shed").mustShow(t, 303)
}
