package site

import (
	"context"
	"strings"
	"testing"

	"rowtally/internal/fault"
)

func TestASownRecordNeedsALog(t *testing.T) {
	w := quoted(t)
	for _, path := range []string{"/jobs/1/sown-record", "/jobs/1/sown-record.pdf"} {
		w.contractor.get(path).mustShow(t, 409, "is matched to a log yet")
		w.nobody.get("/farm/"+farmToken+path).mustShow(t, 409, "is matched to a log yet")
	}
	w.contractor.get("/papers/1/sown-record").mustShow(t, 404, "issued without a sown record")
	w.nobody.get("/farm/"+farmToken+"/papers/1/sown-record").mustShow(t, 404)
	w.nobody.get("/farm/x/papers/1/sown-record.pdf").mustShow(t, 404)
	if _, err := w.store.PaperSown(context.Background(), 1); fault.KindOf(err) != fault.Missing {
		t.Errorf("a quote has a sown record: %v", err)
	}
	if p := w.contractor.get("/papers/1"); strings.Contains(p.text, "sown-record") {
		t.Error("a quote leads to a sown record that it has not")
	}
}
