package site

import (
	"html"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// asQuery writes a form's pairs as an address carries them.
func asQuery(pairs ...string) string {
	values := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		values.Set(pairs[i], pairs[i+1])
	}
	return "?" + values.Encode()
}

// A quote's plan stands beside the rows as they are laid afterwards, and does not follow them.
func TestAQuotesPlanStandsFrozenBesideTheRowsAsKept(t *testing.T) {
	w := quoted(t)
	line := regexp.MustCompile(`<th scope="row">row-km</th><td class="n" data-of="as kept">([^<]*)</td><td class="n" data-of="[^"]*">([^<]*)</td><td class="n" data-of="difference">([^<]*)</td>`)
	rowKm := func() []string {
		t.Helper()
		p := w.contractor.get("/jobs/1/plans")
		p.mustShow(t, 200, "Q2026-0001 of 20 Jul 2026", "alley 12 m", "Not kept on the quote, so not compared: rows; belts; turns")
		if strings.Contains(p.text, `data-of="difference">–`) {
			t.Error("a figure that the quote does not keep has a line")
		}
		if n := strings.Count(p.text, "<svg"); n != 2 {
			t.Errorf("%d pictures", n)
		}
		found := line.FindStringSubmatch(p.text)
		if found == nil {
			t.Fatalf("no line of row-km: %s", p.mainText())
		}
		return found[1:]
	}
	before := rowKm()
	if before[0] != before[1] || before[2] != "0.00" {
		t.Errorf("the plan as quoted and as kept differ: %q", before)
	}
	w.contractor.post("/jobs/1/rows", with(layoutForm, "alley_m", "20")...).mustLead(t, "/jobs/1?done=kept#rows")
	if after := rowKm(); after[1] != before[1] || after[0] == before[0] || !strings.HasPrefix(html.UnescapeString(after[2]), "+") {
		t.Errorf("wider alleys make %q of %q", after, before)
	}
}

func TestALayoutTypedStandsBesideTheRowsAsKept(t *testing.T) {
	w := jobbed(t)
	w.contractor.get("/jobs/1/plans").mustShow(t, 409, "not laid yet")
	w.contractor.post("/jobs/1/rows", layoutForm...).mustLead(t, "/jobs/1?done=kept#rows")
	w.contractor.get("/jobs/1/rows").mustShow(t, 200, `href="/jobs/1/plans"`)
	typed := append([]string{"beside", "typed"}, layoutForm...)
	w.contractor.get("/jobs/1/plans"+asQuery(with(typed, "bearing_deg", "90")...)).mustShow(t, 200, "As typed", "along 90° true", "along 0° true", "turns")
	refused := w.contractor.get("/jobs/1/plans" + asQuery(with(typed, "alley_m", "wide")...))
	refused.mustRefuse(t, "alley_m", "“wide” is not a number")
	refused.mustKeep(t, "alley_m", "wide")
	w.contractor.get("/jobs/1/plans"+asQuery("beside", "77")).mustRefuse(t, "beside", "has no such quote")
	if got := w.facts(t, 1).Layout.BearingDeg; got != 0 {
		t.Errorf("looking at two plans has turned the rows to %g°", got)
	}
}
