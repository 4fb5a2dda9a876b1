package site

import (
	"context"
	"strings"
	"sync"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// Two people press issue on the same draft at the same moment: one quote, and both are led
// to it.
func TestTwoPeopleWhoIssueAtOnceGetOnePaper(t *testing.T) {
	w := priced(t)
	var all sync.WaitGroup
	for range 8 {
		b := w.session(1)
		b.csrf = tokenIn(b.get("/shed").text)
		all.Go(func() {
			b.post("/jobs/1/quote", "key", secret()).mustLead(t, "/papers/1?done=issued")
		})
	}
	all.Wait()
	if papers := w.papers(t); len(papers) != 1 {
		t.Errorf("%d papers are issued", len(papers))
	}
	w.sound(t)
}

func TestAnEstimateCannotBeAgreedTo(t *testing.T) {
	w := priced(t)
	w.contractor.get("/jobs/1").mustShow(t, 200, "Make an estimate")
	w.contractor.get("/jobs/1/estimate").mustShow(t, 200, "It binds nobody and cannot be agreed to.", "This is no quote.")
	for range 2 {
		w.contractor.post("/jobs/1/estimate").mustLead(t, "/papers/1?done=issued")
	}
	w.contractor.get("/papers/1").mustShow(t, 200, "Estimate E2026-0001", "binds nobody")
	if pdf := w.contractor.get("/papers/1/pdf"); pdf.status != 200 || !strings.HasPrefix(pdf.text, "%PDF-") {
		t.Errorf("its PDF is answered %d", pdf.status)
	}
	w.nobody.get(farmJob).mustShow(t, 200, "Estimate E2026-0001", "This is no quote.")
	if p := w.nobody.get(farmJob); strings.Contains(p.text, "Say yes") {
		t.Error("the farmer is asked for a yes to an estimate")
	}
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustShow(t, 404)
	err := w.store.AcceptQuote(context.Background(), job.Act{Who: "a farmer", Now: moment}, bill.Acceptance{PaperID: 1, Name: "x"}, nil)
	if err == nil || !strings.Contains(err.Error(), "only a quote can be accepted") {
		t.Errorf("the store answers %v", err)
	}
	w.contractor.get("/jobs/1").mustShow(t, 200, "Estimate E2026-0001 of 20 Jul 2026 came to")
	w.contractor.get("/accounts").mustShow(t, 200, "1 papers issued, 0 of them invoices, 0.00 billed")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/2?done=issued")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "2").mustLead(t, farmJob+"?done=agreed")
	w.sound(t)
}

var variationForm = []string{"act", "issue", "reason", "Stumps nobody knew of.", "what_0", "Stumps pushed aside", "unit_0", "h", "quantity_0", "3", "price_0", "210"}

func TestAVariationHasItsOwnYesAndIsBilled(t *testing.T) {
	w := quoted(t)
	w.contractor.get("/jobs/1/variation").mustShow(t, 409, "No quote of this job is agreed yet")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustLead(t, farmJob+"?done=agreed")
	w.contractor.get("/jobs/1").mustShow(t, 200, "A variation")
	w.contractor.get("/jobs/1/variation").mustShow(t, 200, "What was agreed stays agreed.")
	w.contractor.post("/jobs/1/variation", with(variationForm, "reason", " ")...).mustRefuse(t, "reason", "Say what changes and why")
	w.contractor.post("/jobs/1/variation", with(variationForm, "price_0", "-1")...).mustRefuse(t, "price_0", "-1 is below zero")
	w.contractor.post("/jobs/1/variation", "act", "issue", "reason", "why").mustRefuse(t, "", "from 1 to 12 lines")
	w.contractor.post("/jobs/1/variation", with(variationForm, "act", "show")...).mustShow(t, 200, "The variation as it would be issued", "693.00", "Issue the variation")
	for range 2 {
		w.contractor.post("/jobs/1/variation", variationForm...).mustLead(t, "/papers/2?done=issued")
	}
	w.contractor.get("/papers/2").mustShow(t, 200, "Variation V2026-0001", `varies <a href="/papers/1">Q2026-0001</a>`)
	if pdf := w.nobody.get("/farm/" + farmToken + "/papers/2/pdf"); pdf.status != 200 {
		t.Errorf("its PDF is answered %d", pdf.status)
	}
	w.contractor.get("/jobs/1").mustShow(t, 200, "V2026-0001, $693.00, waits for its yes.")
	held := w.facts(t, 1).Held
	w.nobody.get(farmJob).mustShow(t, 200, "Yes to V2026-0001", "$693.00 including GST, and to nothing else")
	w.nobody.post(farmJob+"/yes", "quote", "2").mustRefuse(t, "name_2", "Type your name")
	w.nobody.post(farmJob+"/yes", "name_2", "the owner", "quote", "2").mustLead(t, farmJob+"?done=agreed")
	w.nobody.post(farmJob+"/yes", "name_2", "the owner", "quote", "2").mustShow(t, 422, "The variation V2026-0001 is agreed already")
	if facts := w.facts(t, 1); len(facts.Held) != len(held) || len(facts.Acceptances) != 2 {
		t.Errorf("%d yeses, %v is held back", len(facts.Acceptances), facts.Held)
	}
	w.nobody.get(farmJob).mustShow(t, 200, "You said yes to this variation on 20 Jul 2026, 09:30, as the owner.")
	w.sound(t)
}

// What moved under a quote is said on the job's page and on the farmer's, before the yes.
func TestAQuoteThatNoLongerHoldsIsSaidBeforeTheYes(t *testing.T) {
	w := quoted(t)
	w.contractor.post("/shed/lots/1/hold", "reason", "mice").mustShow(t, 303)
	w.contractor.get("/jobs/1").mustShow(t, 200, "Quote Q2026-0001 no longer holds as issued. Seed lot D26-01, which the price rests on, is on hold", "A new revision")
	w.nobody.get(farmJob).mustShow(t, 200, "Read this first: the quote no longer holds as it was issued.", "is on hold: nothing may be sown from it now.", "Say yes")
	if p := w.nobody.get(farmJob); strings.Contains(p.text, "mice") {
		t.Error("the farmer reads the contractor's reason")
	}
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustLead(t, farmJob+"?done=agreed")
	if p := w.nobody.get(farmJob); strings.Contains(p.text, "Read this first") {
		t.Error("doubts are said after the yes")
	}
}

// A variation is claimed in part, beside what is sown; more of it than agreed is refused
// beside its field; the last invoice bills the rest.
func TestAVariationIsClaimedInPart(t *testing.T) {
	w := sownOver(t)
	w.contractor.post("/jobs/1/variation", append(variationForm, "what_1", "Float travels less", "unit_1", "driven km", "quantity_1", "-10", "price_1", "2.90")...).mustLead(t, "/papers/2?done=issued")
	w.nobody.post(farmJob+"/yes", "name_2", "the owner", "quote", "2").mustLead(t, farmJob+"?done=agreed")
	w.contractor.get("/jobs/1/claim").mustShow(t, 200, "Done of “V2026-0001: Stumps pushed aside”", `name="done_2"`, `value="-10"`)
	form := []string{"done_0", "0", "done_2", "1", "done_3", "-4", "act", "issue"}
	w.contractor.post("/jobs/1/claim", with(form, "done_2", "3.5")...).mustShow(t, 422, "Of this line 3 h were agreed", `value="3.5"`)
	w.contractor.post("/jobs/1/claim", with(form, "done_3", "4")...).mustShow(t, 422, "Of this line -10 driven km were agreed", `value="4"`)
	w.contractor.post("/jobs/1/claim", form...).mustLead(t, "/papers/3?done=issued")
	w.contractor.post("/jobs/1/invoice").mustLead(t, "/papers/4?done=issued")
	p := w.papers(t)
	if p[2].Lines[2].Net != 210_00 || p[2].Lines[3].Net != -11_60 || p[3].Lines[2].Net != 630_00 || p[3].Lines[3].Net != -29_00 {
		t.Errorf("claimed %+v, then %+v", p[2].Lines, p[3].Lines)
	}
	w.sound(t)
}
