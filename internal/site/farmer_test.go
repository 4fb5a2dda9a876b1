package site

import (
	"context"
	"strings"
	"testing"

	"rowtally/internal/job"
)

func TestALinkOpensItsFarmAlone(t *testing.T) {
	w := quoted(t)
	w.contractor.post("/farms/new", with(farmForm, "name", "Other Farm")...).mustLead(t, "/farms/2")
	const other = "another-link-that-nobody-could-guess-either-not-at-all"
	if err := w.store.AddLink(context.Background(), w.act(), 2, other); err != nil {
		t.Fatal(err)
	}
	w.nobody.get("/farm/"+farmToken).mustLead(t, farmJob)
	w.nobody.get(farmJob).mustShow(t, 200, "Quote Q2026-0001", "Say yes", "1,673.70", "D26-01", "Before stock go in")
	if pdf := w.nobody.get("/farm/" + farmToken + "/papers/1/pdf"); pdf.status != 200 || pdf.header.Get("Content-Type") != "application/pdf" {
		t.Errorf("its own quote is answered %d as %s", pdf.status, pdf.header.Get("Content-Type"))
	}
	w.nobody.get("/farm/"+other).mustShow(t, 200, "Other Farm")
	for _, path := range []string{
		"/farm/" + other + "/jobs/1", "/farm/" + other + "/papers/1/pdf", "/farm/" + farmToken + "/jobs/2", "/farm/" + farmToken + "/papers/2/pdf",
		"/farm/" + farmToken + "/jobs/x", "/farm/" + farmToken[1:], "/farm/x", "/farm/" + other + "/jobs/1/yes",
	} {
		w.nobody.get(path).mustShow(t, 404)
	}
	w.nobody.post("/farm/"+other+"/jobs/1/yes", "name", "a stranger", "quote", "1").mustShow(t, 404)
	if _, _, agreed := w.facts(t, 1).Agreed(); agreed {
		t.Error("a stranger's yes was kept")
	}
}

// Costs, free stock and other farms are the contractor's.
func TestTheFarmersPageHoldsNothingOfTheOffice(t *testing.T) {
	w := quoted(t)
	p := w.nobody.get(farmJob)
	for _, secret := range []string{"$48", "48.00", "64.0", "Sign out", "/shed", "/jobs/1/", "csrf", `href="/jobs`} {
		if strings.Contains(strings.ReplaceAll(p.text, farmJob, ""), secret) {
			t.Errorf("the farmer's page holds %q", secret)
		}
	}
}

func TestAJobWithoutAPaperIsNotShown(t *testing.T) {
	w := priced(t)
	w.nobody.get(farmJob).mustShow(t, 404)
	w.nobody.get("/farm/"+farmToken).mustShow(t, 200, "Example Farm")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustShow(t, 404)
}

func TestAWithdrawnLinkOpensNothing(t *testing.T) {
	w := quoted(t)
	w.contractor.get("/farms/1").mustShow(t, 200, farmToken)
	w.contractor.post("/farms/1/link").mustLead(t, "/farms/1?done=link#link")
	w.contractor.post("/farms/1/link/1/withdraw").mustLead(t, "/farms/1?done=withdrew#link")
	for _, path := range []string{"/farm/" + farmToken, farmJob, "/farm/" + farmToken + "/papers/1/pdf"} {
		w.nobody.get(path).mustShow(t, 404)
	}
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustShow(t, 404)
	links, err := w.store.Links(context.Background(), 1)
	if err != nil || len(links) != 2 {
		t.Fatalf("%d links, %v", len(links), err)
	}
	for _, link := range links {
		switch {
		case link.Token == farmToken && link.WithdrawnAt == nil:
			t.Error("the link is not withdrawn")
		case link.Token != farmToken && len(link.Token) < 40:
			t.Errorf("a link of %d letters can be guessed", len(link.Token))
		case link.Token != farmToken:
			w.nobody.get("/farm/"+link.Token).mustLead(t, "/farm/"+link.Token+"/jobs/1")
		}
	}
	if p := w.contractor.get("/farms/1"); strings.Contains(p.text, farmToken) {
		t.Error("a withdrawn link is still shown")
	}
}

func TestAYesIsKeptWithNameAndTime(t *testing.T) {
	w := quoted(t)
	w.nobody.post(farmJob+"/yes", "name", "  ", "quote", "1").mustRefuse(t, "name", "Type your name")
	w.nobody.post(farmJob+"/yes", "name", "The <Manager>", "quote", "1").mustLead(t, farmJob+"?done=agreed")
	p := w.nobody.get(farmJob + "?done=agreed")
	p.mustShow(t, 200, "You said yes to Q2026-0001 on 20 Jul 2026, 09:30, as The <Manager>.", "Thank you. Your yes is kept with its time.")
	if strings.Contains(p.text, "Say yes</h2>") || strings.Contains(p.text, "<Manager>") {
		t.Error("the page asks again, or writes the name raw")
	}
	facts := w.facts(t, 1)
	if len(facts.Held) != 2 || job.StageOf(facts) != job.Agreed {
		t.Errorf("%s, %v is held back", job.StageOf(facts), facts.Held)
	}
	w.contractor.get("/jobs/1").mustShow(t, 200, "agreed by The <Manager> on 20 Jul 2026")
	w.sound(t)
}

// A yes sent twice, by a second press or a slow line, is one yes.
func TestAYesTwiceIsOneYes(t *testing.T) {
	w := quoted(t)
	yes := []string{"name", "the manager", "quote", "1", "key", "k1"}
	w.nobody.post(farmJob+"/yes", yes...).mustLead(t, farmJob+"?done=agreed")
	held := w.facts(t, 1).Held
	w.nobody.post(farmJob+"/yes", yes...).mustLead(t, farmJob+"?done=agreed")
	w.nobody.post(farmJob+"/yes", with(yes, "key", "k2")...).mustShow(t, 422, "Q2026-0001 is agreed already")
	facts := w.facts(t, 1)
	if len(facts.Acceptances) != 1 || len(facts.Held) != len(held) {
		t.Errorf("%d yeses, %v held back", len(facts.Acceptances), facts.Held)
	}
}

// The farmer reads one revision while the contractor issues the next.
func TestAYesToAnOlderRevisionShowsTheNewer(t *testing.T) {
	w := quoted(t)
	w.contractor.post("/jobs/1/rates", with(ratesForm, "price_1", "112.00")...).mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/2?done=issued")
	p := w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1")
	p.mustRefuse(t, "", "The quote has a newer revision, Q2026-0002. It is shown below: read it before you say yes.")
	p.mustShow(t, 422, "Quote Q2026-0002, revision 2", "112.00", `name="quote" value="2"`, `value="the manager"`)
	if _, _, agreed := w.facts(t, 1).Agreed(); agreed {
		t.Error("the yes was kept")
	}
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "2").mustLead(t, farmJob+"?done=agreed")
}

func TestAQuoteThatRanOutCannotBeAgreed(t *testing.T) {
	w := quoted(t) // holds until 19 August
	*w.now = moment.AddDate(0, 0, 30)
	w.nobody.get(farmJob).mustShow(t, 200, "Say yes")
	*w.now = moment.AddDate(0, 0, 31)
	w.nobody.get(farmJob).mustShow(t, 200, "This quote ran out on 19 Aug 2026. Ask the contractor for a new one.")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustShow(t, 422, "Q2026-0001 held until 19 Aug 2026, ask for a new one")
	if _, _, agreed := w.facts(t, 1).Agreed(); agreed {
		t.Error("the yes was kept")
	}
	w.enter(contractorName, contractorPassword).get("/jobs/1").mustShow(t, 200, "Quote Q2026-0001 ran out on 19 Aug 2026. Issue a new revision.")
}

func TestADeclinedJobCannotBeAgreed(t *testing.T) {
	w := quoted(t)
	w.contractor.post("/jobs/1/decline", "on", "2026-07-20", "why", "too wet").mustLead(t, "/jobs/1?done=kept")
	w.nobody.get(farmJob).mustShow(t, 200, "The contractor has declined this job.")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustShow(t, 422, "J-01 was declined on 20 Jul 2026")
}

// The farmer has no account, and needs none: whoever has the link may say yes, from no
// other page than ours.
func TestAYesFromAForeignPageIsRefused(t *testing.T) {
	w := quoted(t)
	r := w.nobody.form(farmJob+"/yes", "name", "the manager", "quote", "1")
	r.Header.Set("Origin", "https://elsewhere.test")
	w.nobody.send(r).mustShow(t, 403, "not sent from Rowtally")
	if _, _, agreed := w.facts(t, 1).Agreed(); agreed {
		t.Error("the yes was kept")
	}
}

// What the shed can give has changed since the quote: the farmer's yes is kept all the same.
func TestAYesDoesNotDependOnTheShed(t *testing.T) {
	w := quoted(t)
	w.contractor.post("/shed/lots/1/hold", "reason", "mice").mustShow(t, 303)
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustLead(t, farmJob+"?done=agreed")
	w.contractor.get("/jobs/1").mustShow(t, 200, "Lot D26-01 is on hold: mice")
	w.sound(t)
}

// By its link a farm reads its own account and no other: what was billed, what was paid.
func TestAFarmReadsItsAccountByItsLink(t *testing.T) {
	w, invoice := billedTown(t)
	w.contractor.post("/farms/1/payment", "amount", "100.00", "paid_on", "2026-07-20", "way", "transfer").mustShow(t, 303)
	w.nobody.get(farmJob).mustShow(t, 200, `href="/farm/`+farmToken+`/account"`)
	rest := invoice.Total - 10_000
	w.nobody.get("/farm/"+farmToken+"/account").mustShow(t, 200, invoice.Number, invoice.Total.Shown(), "payment", rest.Shown(), "closing balance")
	w.nobody.get("/farm/"+farmToken+"/account?from=x").mustShow(t, 422, `value="x"`)
	w.nobody.get("/farm/"+farmToken+"/account.pdf").mustShow(t, 200, "%PDF-")
	w.nobody.get("/farm/another-token-that-is-none/account").mustShow(t, 404)
	w.nobody.get("/farm/another-token-that-is-none/account.pdf").mustShow(t, 404)
	w.sound(t)
}
