package site

import (
	"strings"
	"testing"

	"rowtally/internal/money"
)

// A line without tax keeps its reason from the form to the quote and its PDF; one without a
// reason is refused beside its field, and what was kept stays.
func TestALineWithoutTaxSaysWhy(t *testing.T) {
	w := priced(t)
	w.contractor.get("/jobs/1/rates").mustShow(t, 200, `name="tax_0"`, "GST-free", "input taxed, no GST", "outside GST", `name="why_0"`)
	w.contractor.post("/jobs/1/rates", with(with(ratesForm, "price_0", "381"), "tax_0", "Z")...).mustRefuse(t, "why_0", "say why")
	w.contractor.post("/jobs/1/rates", with(ratesForm, "why_0", "a ruling")...).mustRefuse(t, "why_0", "needs no reason")
	w.contractor.post("/jobs/1/rates", with(ratesForm, "tax_0", "Q")...).mustRefuse(t, "tax_0", "Choose one of the list.")
	if kept := w.facts(t, 1).Rates[0]; kept.UnitPrice.Plain() != "380.00" || kept.TaxCategory != "S" {
		t.Errorf("kept %+v", kept)
	}
	w.contractor.post("/jobs/1/rates", with(with(ratesForm, "tax_0", "Z"), "why_0", "a ruling, read on 3 Jul 2026")...).mustLead(t, "/jobs/1?done=kept#money")
	w.contractor.get("/jobs/1/rates").mustShow(t, 200, `value="Z" selected`, `value="a ruling, read on 3 Jul 2026"`)
	w.contractor.get("/jobs/1/quote").mustShow(t, 200, "GST-free: a ruling, read on 3 Jul 2026", "Without GST")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	p := w.papers(t)[0]
	if net := p.Lines[0].Net; p.TaxTotal != (p.NetTotal-net).Factor().Percent(money.Whole(10)).Cents() || p.Lines[0].TaxReason == "" {
		t.Errorf("%s of tax on %s with %s untaxed", p.TaxTotal, p.NetTotal, net)
	}
	w.contractor.get("/papers/1").mustShow(t, 200, "GST-free: a ruling")
	w.contractor.get("/papers/1/pdf").mustShow(t, 200, "%PDF-")
	w.sound(t)
}

func TestABusinessWithoutTheTaxIsAskedOfNone(t *testing.T) {
	w := priced(t)
	b := w.facts(t, 1).Business
	b.Registered = false
	if err := w.store.ChangeBusiness(t.Context(), w.act(), b); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/jobs/1/rates", "/cards/new"} {
		page := w.contractor.get(path)
		page.mustShow(t, 200, `name="price_0"`)
		if strings.Contains(page.text, `name="tax_0"`) || strings.Contains(page.text, "Lines without") {
			t.Errorf("%s asks for the tax of a line", path)
		}
	}
}

func TestTheInoculantsOfTheShed(t *testing.T) {
	w := newTown(t)
	w.contractor.get("/shed/inoculants").mustShow(t, 200, "every pack begun counts whole", `name="group_7"`)
	form := []string{"group_0", "C", "product_0", "peat (example)", "pack_0", "250", "price_0", "14.50", "left_0", ""}
	w.contractor.post("/shed/inoculants", with(form, "pack_0", "0")...).mustRefuse(t, "pack_0", "outside what is possible")
	w.contractor.post("/shed/inoculants", with(form, "product_0", "")...).mustRefuse(t, "product_0", "Enter what it is sold as")
	w.contractor.post("/shed/inoculants", with(form, "price_0", "-2")...).mustRefuse(t, "price_0", "below zero")
	w.contractor.post("/shed/inoculants", append(form, "group_1", " c", "product_1", "other", "pack_1", "30", "price_1", "9")...).mustRefuse(t, "group_1", "stands here twice")
	w.contractor.post("/shed/inoculants", form...).mustLead(t, "/shed/inoculants?done=kept")
	w.contractor.get("/shed/inoculants").mustShow(t, 200, `value="250"`, `value="14.50"`)
	first, err := w.store.Inoculants(t.Context())
	if err != nil || len(first) != 1 {
		t.Fatalf("kept %+v, %v", first, err)
	}
	w.contractor.post("/shed/inoculants", append(with(form, "price_0", "15"), "group_1", "AM", "product_1", "other", "pack_1", "30", "price_1", "9", "left_1", "keeps")...).mustLead(t, "/shed/inoculants?done=kept")
	after, err := w.store.Inoculants(t.Context())
	if err != nil || len(after) != 2 || after[1].ID != first[0].ID || !after[0].Keeps || after[1].PackPrice.Plain() != "15.00" {
		t.Errorf("kept %+v after %+v, %v", after, first, err)
	}
}
