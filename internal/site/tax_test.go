package site

import (
	"testing"

	"rowtally/internal/money"
)

func TestRatesOfTheTaxByTheirDay(t *testing.T) {
	w := priced(t)
	w.contractor.get("/business/tax").mustShow(t, 200, "10 % today")
	w.contractor.post("/business/tax", "percent", "12.5", "from_on", "2026-07-01", "note", "").mustShow(t, 422, "Say where you read it", `value="12.5"`)
	w.contractor.post("/business/tax", "percent", "112", "from_on", "2026-07-01", "note", "a page").mustShow(t, 422, "more than the whole")
	w.contractor.post("/business/tax", "percent", "12.5", "from_on", "2026-07-01", "note", "a page").mustLead(t, "/business/tax?done=kept")
	w.contractor.post("/business/tax", "percent", "15", "from_on", "2026-07-01", "note", "a page").mustShow(t, 422, "There is a rate from 1 Jul 2026 already")
	w.contractor.post("/business/tax", "percent", "15", "from_on", "2027-07-01", "note", "a page").mustLead(t, "/business/tax?done=kept")
	w.contractor.get("/business/tax").mustShow(t, 200, "12.5 % today", "1 Jul 2027")
	w.contractor.post("/jobs/1/quote").mustLead(t, "/papers/1?done=issued")
	if p := w.papers(t)[0]; p.Lines[0].TaxPercent.String() != "12.5" || p.TaxTotal != p.NetTotal.Factor().Percent(money.MustFactor("12.5")).Cents() {
		t.Errorf("%s of tax on %s at %s %%", p.TaxTotal, p.NetTotal, p.Lines[0].TaxPercent)
	}
	w.contractor.post("/business/tax/2027-07-01/remove").mustLead(t, "/business/tax?done=kept")
	w.contractor.post("/business/tax/2027-07-01/remove").mustShow(t, 404)
	w.contractor.post("/business/tax/never/remove").mustShow(t, 404)
	w.sound(t)
}
