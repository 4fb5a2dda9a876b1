package site

import (
	"strings"
	"testing"
)

func TestTheVisitSheetIsForBothWhoDriveOut(t *testing.T) {
	w := jobbed(t)
	for who, b := range map[string]*browser{"contractor": w.contractor, "operator": w.operator} {
		if p := b.get("/jobs/1/visit.pdf"); p.status != 200 || !strings.HasPrefix(p.text, "%PDF-") || p.header.Get("Content-Disposition") != `inline; filename="J-01 visit sheet.pdf"` {
			t.Errorf("the %s gets %d", who, p.status)
		}
	}
	w.nobody.get("/jobs/1/visit.pdf").mustLead(t, "/enter?to=%2Fjobs%2F1%2Fvisit.pdf")
	w.contractor.get("/jobs/99/visit.pdf").mustShow(t, 404)
	w.contractor.get("/jobs/1").mustShow(t, 200, `href="/jobs/1/visit.pdf"`)
	w.operator.get("/truck/1").mustShow(t, 200, `href="/jobs/1/visit.pdf"`)
}
