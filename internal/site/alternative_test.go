package site

import (
	"strings"
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

const alternativeB = "/jobs/1/alternatives/B"

// offeredTwice is priced with alternative B: alleys of 20 m, rows at 112.00.
func offeredTwice(t testing.TB) town {
	t.Helper()
	w := priced(t)
	w.contractor.post("/jobs/1/alternatives", "name_of_a", "twin rows, 12 m alleys", "name", "alleys of 20 m").mustLead(t, "/jobs/1/alternatives?done=kept")
	w.contractor.post(alternativeB+"/rows", with(layoutForm, "alley_m", "20")...).mustLead(t, "/jobs/1/alternatives?done=kept#alternative_B")
	w.contractor.post(alternativeB+"/rates", with(ratesForm, "price_1", "112.00")...).mustLead(t, "/jobs/1/alternatives?done=kept#alternative_B")
	return w
}

// Two alternatives quoted, yes to B: its rows are the job's, sown on, and billed at its price.
func TestTheYesNamesTheAlternativeThatIsDone(t *testing.T) {
	w := offeredTwice(t)
	asA := w.facts(t, 1)
	b, _ := asA.AlternativeOf("B")
	rowsOfB, err := asA.By(b).Rows()
	if err != nil {
		t.Fatal(err)
	}
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	w.contractor.get("/papers/1").mustShow(t, 200, "Total of A incl. GST", "Total of B incl. GST", "Their totals do not add up", "112.00")
	if pdf := w.contractor.get("/papers/1/pdf"); pdf.status != 200 || !strings.HasPrefix(pdf.text, "%PDF-") {
		t.Errorf("its PDF is answered %d", pdf.status)
	}
	w.contractor.get("/jobs/1").mustShow(t, 200, "It offers A, twin rows, 12 m alleys at $", "B, alleys of 20 m at $", "for A")
	w.nobody.get(farmJob).mustShow(t, 200, `type="radio" name="alternative" value="B"`, "to the one alternative that you choose", "Seed as in A", "alley 20 m")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1").mustRefuse(t, "alternative", "several alternatives, choose the one that you say yes to: A, twin rows, 12 m alleys; B, alleys of 20 m")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1", "alternative", "C").mustRefuse(t, "alternative", "choose the one")
	w.nobody.post(farmJob+"/yes", "name", " ", "quote", "1", "alternative", "B").mustShow(t, 422, `value="B" checked`, "Type your name")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1", "alternative", "B").mustLead(t, farmJob+"?done=agreed")
	w.nobody.get(farmJob).mustShow(t, 200, "To alternative B, alleys of 20 m.")
	w.contractor.get("/jobs/1").mustShow(t, 200, "Q2026-0001 (alternative B, alleys of 20 m) agreed by the manager")

	f := w.facts(t, 1)
	quote, yes, ok := f.Agreed()
	if laid, err := f.Rows(); err != nil || laid.RowM != rowsOfB.RowM || f.Layout.AlleyM != 20 || len(f.Alternatives) != 0 {
		t.Errorf("the job is laid over %.0f m with alleys of %g m, want %.0f: %v; %d alternatives left", laid.RowM, f.Layout.AlleyM, rowsOfB.RowM, err, len(f.Alternatives))
	}
	if !ok || yes.Alternative != "B" || quote.RowM != rowsOfB.RowM || quote.Lines[1].UnitPrice.String() != "112" || f.Rates[1].UnitPrice.String() != "112" {
		t.Errorf("agreed to %q over %g m at %s; the job's price is %s", yes.Alternative, quote.RowM, quote.Lines[1].UnitPrice, f.Rates[1].UnitPrice)
	}
	if claims, err := job.Claims(f); err != nil || len(claims) != len(f.Held) || claims[0].Wanted != f.Held[0].Wanted {
		t.Errorf("held back %v for what takes %v, %v", f.Held, claims, err)
	}
	w.contractor.upload("/jobs/1/sown", "log", "day 1.geojson", w.drive(t), "rows", "2", "row_gap_m", "2", "offset_right_m", "0").mustLead(t, "/jobs/1/sown?done=loaded")
	f = w.facts(t, 1)
	if f.Sown.PlannedM != rowsOfB.RowM {
		t.Errorf("the log is matched to %g m, want B's %g", f.Sown.PlannedM, rowsOfB.RowM)
	}
	w.contractor.post("/jobs/1/invoice").mustLead(t, "/papers/2?done=issued")
	w.contractor.get("/papers/2").mustShow(t, 200, "Quote Q2026-0001, revision 1 (alternative B, alleys of 20 m), of", "112.00")
	invoice := w.papers(t)[1]
	if want := job.RowKmOf(f.Sown.CoveredM); invoice.Lines[1].Quantity.Compare(want) != 0 || invoice.Lines[1].UnitPrice.String() != "112" {
		t.Errorf("billed %s at %s, want %s at 112", invoice.Lines[1].Quantity, invoice.Lines[1].UnitPrice, want)
	}
	w.contractor.get("/papers/2/ubl.xml").mustShow(t, 200, "<cbc:PriceAmount currencyID=\"AUD\">112")
	w.sound(t)
}

// The job as it stands is agreed: nothing of it changes, and the choice is over.
func TestAYesToTheJobAsItStands(t *testing.T) {
	w := offeredTwice(t)
	before := w.facts(t, 1)
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1", "alternative", "A").mustLead(t, farmJob+"?done=agreed")
	f := w.facts(t, 1)
	agreed, yes, ok := f.Agreed()
	if !ok || yes.Alternative != "A" || agreed.Total != f.Papers[0].Total || f.Layout.AlleyM != before.Layout.AlleyM || len(f.Alternatives) != 0 {
		t.Errorf("agreed to %q at %s, laid with alleys of %g m, %d alternatives left", yes.Alternative, agreed.Total, f.Layout.AlleyM, len(f.Alternatives))
	}
	if len(f.Papers[0].Alternatives) != 2 {
		t.Error("the quote has lost what it offered")
	}
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/2?done=issued") // a revision after the yes offers one alone
	if p := w.papers(t)[1]; p.Revision != 2 || len(p.Alternatives) != 0 || p.Lines[0].Net != agreed.Lines[0].Net {
		t.Errorf("revision %d offers %d alternatives", p.Revision, len(p.Alternatives))
	}
	w.sound(t)
}

// A quote that waits no longer holds once any of its alternatives is changed.
func TestAChangedAlternativeIsSaidBeforeTheYes(t *testing.T) {
	w := offeredTwice(t)
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	if w.nobody.get(farmJob); strings.Contains(w.nobody.get(farmJob).text, "no longer holds") {
		t.Error("a quote just issued does not hold")
	}
	w.contractor.post(alternativeB+"/rates", with(ratesForm, "price_1", "119.00")...).mustLead(t, "/jobs/1/alternatives?done=kept#alternative_B")
	w.nobody.get(farmJob).mustShow(t, 200, "B: Lines or prices of the job have changed since this quote was issued.")
	w.contractor.post(alternativeB+"/rows", with(layoutForm, "alley_m", "24")...).mustLead(t, "/jobs/1/alternatives?done=kept#alternative_B")
	w.nobody.get(farmJob).mustShow(t, 200, "B: The rows were laid anew since")
	w.contractor.post("/jobs/1/rates", with(ratesForm, "price_1", "99.00")...).mustLead(t, "/jobs/1?done=kept#money")
	w.nobody.get(farmJob).mustShow(t, 200, "A: Lines or prices of the job have changed")
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1", "alternative", "B").mustLead(t, farmJob+"?done=agreed")
	if f := w.facts(t, 1); f.Layout.AlleyM != 20 || f.Rates[1].UnitPrice.String() != "112" {
		t.Errorf("the yes took B as it became, not as quoted: alleys of %g m at %s", f.Layout.AlleyM, f.Rates[1].UnitPrice)
	}
	w.sound(t)
}

func TestAlternativesAreNamedChangedAndTakenOff(t *testing.T) {
	w := priced(t)
	w.contractor.get("/jobs/1/alternatives").mustShow(t, 200, "What A is called", "What B is called", "Offer a second one")
	w.contractor.post("/jobs/1/alternatives", "name_of_a", " ", "name", "wide").mustRefuse(t, "name_of_a", "Give it a few words")
	w.contractor.post("/jobs/1/alternatives", "name_of_a", "wide", "name", "Wide").mustRefuse(t, "name", "Another alternative has this name")
	w.contractor.post("/jobs/1/alternatives", "name_of_a", "twin", "name", strings.Repeat("wide ", 20)).mustRefuse(t, "name", "shorten it to 60")
	w.contractor.post("/jobs/1/alternatives", "name_of_a", "twin", "name", "wide").mustLead(t, "/jobs/1/alternatives?done=kept")
	w.contractor.get("/jobs/1/quote").mustShow(t, 409, "B, wide has no rows, mix or prices of its own yet, so it is the same as A")
	w.contractor.get(alternativeB+"/rows").mustShow(t, 200, "Rows of Bore, alternative B, wide", `value="12"`)
	w.contractor.get(alternativeB+"/mix").mustShow(t, 200, "alternative B, wide", `value="30"`)
	w.contractor.post(alternativeB+"/mix", with(recipeForm, "live_0", "40")...).mustLead(t, "/jobs/1/alternatives?done=kept#alternative_B")
	w.contractor.post(alternativeB+"/rows", with(layoutForm, "alley_m", "0")...).mustRefuse(t, "alley_m", "")
	w.contractor.post(alternativeB+"/rows", with(layoutForm, "alley_m", "20")...).mustLead(t, "/jobs/1/alternatives?done=kept#alternative_B")
	if own, _ := w.facts(t, 1).AlternativeOf("B"); own.Recipe.Species[0].LivePerPlacement != 40 || w.facts(t, 1).Recipe.Species[0].LivePerPlacement != 30 {
		t.Error("the mix of B is not kept with B")
	}
	w.contractor.post("/jobs/1/alternatives", "name", "third").mustLead(t, "/jobs/1/alternatives?done=kept")
	w.contractor.post("/jobs/1/alternatives", "name", "fourth").mustShow(t, 422, "is offered in 3 alternatives already")
	w.contractor.post(alternativeB, "name_B", "third").mustRefuse(t, "name_B", "Another alternative has this name")
	w.contractor.post(alternativeB, "name_B", "wider", "rows_B", "on").mustLead(t, "/jobs/1/alternatives?done=kept")
	if own, _ := w.facts(t, 1).AlternativeOf("B"); own.Name != "wider" || own.Layout != nil || own.Recipe == nil {
		t.Errorf("B is %+v", own)
	}
	w.contractor.post(alternativeB, "do", "off").mustLead(t, "/jobs/1/alternatives?done=kept")
	if left := w.facts(t, 1).Alternatives; len(left) != 2 || left[1].Titled() != "B, third" {
		t.Errorf("left are %+v", left)
	}
	w.contractor.post(alternativeB, "do", "off").mustLead(t, "/jobs/1/alternatives?done=kept")
	if left := w.facts(t, 1).Alternatives; len(left) != 0 {
		t.Errorf("left are %+v", left)
	}
	w.contractor.get("/jobs/1/alternatives/A/rows").mustShow(t, 404)
	w.contractor.get("/jobs/1/alternatives/B").mustShow(t, 404)
	w.sound(t)
}

// What only one alternative offers if wanted is chosen with it.
func TestAnOptionalLineOfAnAlternative(t *testing.T) {
	w := offeredTwice(t)
	roller := append(with(ratesForm, "price_1", "112.00"), "what_2", "Roller", "unit_2", "each", "basis_2", "fixed", "quantity_2", "1", "price_2", "50.00", "counts_2", "optional")
	w.contractor.post(alternativeB+"/rates", roller...).mustLead(t, "/jobs/1/alternatives?done=kept#alternative_B")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	w.nobody.get(farmJob).mustShow(t, 200, "If you choose B, alleys of 20 m: these are done only if you tick them", `name="option_B_3"`)
	w.nobody.post(farmJob+"/yes", "name", "the manager", "quote", "1", "alternative", "B", "option_B_3", "on").mustLead(t, farmJob+"?done=agreed")
	agreed, _, _ := w.facts(t, 1).Agreed()
	if len(agreed.Lines) != 3 || agreed.Lines[2].Description != "Roller" || agreed.Lines[2].Net != 50_00 {
		t.Errorf("agreed on %+v", agreed.Lines)
	}
	w.nobody.get(farmJob).mustShow(t, 200, "To alternative B, alleys of 20 m. With Roller.")
	w.sound(t)
}

// Nothing may lay a job anew under the work that has begun on it.
func TestNoAlternativesOnceWorkHasBegun(t *testing.T) {
	w := sownOver(t)
	w.contractor.get("/jobs/1/alternatives").mustShow(t, 200, "Work on this job has begun as agreed")
	w.contractor.post("/jobs/1/alternatives", "name_of_a", "twin", "name", "wide").mustShow(t, 422, "Work on J-01 has begun")
	if f := w.facts(t, 1); len(f.Alternatives) != 0 {
		t.Errorf("it is offered in %v", f.Alternatives)
	}
}

// No page of the truck or of the operator holds what an alternative is charged.
func TestTheTruckKnowsNoAlternative(t *testing.T) {
	w := offeredTwice(t)
	f := w.facts(t, 1)
	if kept := job.ForTruck(f, job.RowsPlanned{}, nil); len(kept.Facts.Alternatives) != 0 {
		t.Error("the truck's day carries alternatives with their prices")
	}
	if len(bill.Letters) != 3 {
		t.Errorf("%d letters", len(bill.Letters))
	}
	w.operator.get("/jobs/1/alternatives").mustShow(t, 403)
}

// The farmer says yes to B by phone: the contractor enters it, and the farmer reads so.
func TestAYesThatWasTold(t *testing.T) {
	w := offeredTwice(t)
	w.contractor.get("/jobs/1/yes").mustShow(t, 409, "No quote of J-01 is issued yet")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued") // a second press
	w.contractor.get("/accounts").mustShow(t, 200, "open, 2 alternatives; the total here is A&#39;s")
	w.contractor.get("/jobs/1/yes").mustShow(t, 200, "A yes told, to Q2026-0001", `type="radio" name="alternative" value="B"`)
	told := []string{"alternative", "B", "name", "the manager", "how", "by phone", "on", "2026-07-20"}
	w.contractor.post("/jobs/1/yes", with(told, "alternative", "")...).mustRefuse(t, "alternative", "choose the one that you say yes to")
	w.contractor.post("/jobs/1/yes", with(told, "how", "")...).mustRefuse(t, "how", "Choose how the farmer said it")
	w.contractor.post("/jobs/1/yes", with(told, "on", "2026-07-21")...).mustRefuse(t, "on", "is after today")
	w.contractor.post("/jobs/1/yes", with(told, "on", "2026-07-19")...).mustRefuse(t, "on", "before the quote was issued on 20 Jul 2026")
	w.contractor.post("/jobs/1/yes", with(told, "name", "")...).mustShow(t, 422, `value="B" checked`, `value="by phone" selected`)
	w.contractor.post("/jobs/1/yes", told...).mustLead(t, "/jobs/1?done=told#money")
	w.contractor.get("/jobs/1/yes").mustShow(t, 409, "Q2026-0001 is agreed already")
	w.contractor.get("/jobs/1").mustShow(t, 200, "agreed by the manager on 20 Jul 2026, told by phone, entered by "+contractorName)
	w.nobody.get(farmJob).mustShow(t, 200, "on 20 Jul 2026, as the manager, told by phone, entered by "+contractorName, "To alternative B")
	w.contractor.get("/accounts").mustShow(t, 200, "agreed, alternative B; the total here is A&#39;s")
	f := w.facts(t, 1)
	agreed, _, _ := f.Agreed()
	if view := job.ViewOf(f); f.Layout.AlleyM != 20 || view.Quoted != agreed.Total {
		t.Errorf("laid with alleys of %g m, the farmer reads %s and agreed to %s", f.Layout.AlleyM, view.Quoted, agreed.Total)
	}
	w.operator.get("/jobs/1/yes").mustShow(t, 403)
	w.sound(t)
}

// A yes told to a quote that offers one alone, days after it was issued.
func TestAYesToldToAQuoteOfOne(t *testing.T) {
	w := quoted(t)
	*w.now = moment.AddDate(0, 0, 3)
	w.contractor.post("/jobs/1/yes", "name", "the manager", "how", "in person", "on", "2026-07-21").mustLead(t, "/jobs/1?done=told#money")
	if _, yes, ok := w.facts(t, 1).Agreed(); !ok || yes.AcceptedAt.Format("2 Jan 2006 15:04") != "21 Jul 2026 12:00" || yes.Told() != "told in person, entered by "+contractorName {
		t.Errorf("kept %+v", yes)
	}
	w.sound(t)
}
