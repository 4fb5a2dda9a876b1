package site

import (
	"testing"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// A job from the farm's name to the invoice, by the forms alone.
func TestAJobLivedThroughByItsForms(t *testing.T) {
	w := sownOver(t)
	facts := w.facts(t, 1)
	// one row stands alone beside the fence, and its belt is not driven
	if facts.Sown == nil || facts.Sown.CoveredM < 0.97*facts.Sown.PlannedM || facts.Sown.DoubledM > 1 || facts.Sown.PlannedM < 10_000 {
		t.Fatalf("sown %+v", facts.Sown)
	}
	w.contractor.post("/jobs/1/invoice").mustLead(t, "/papers/2?done=issued")
	papers := w.papers(t)
	if len(papers) != 2 || papers[1].Kind != bill.Invoice || papers[1].Number != "T2026-0001" || papers[1].AnswersID != 1 {
		t.Fatalf("papers %+v", papers)
	}
	if job.StageOf(w.facts(t, 1)) != job.Billed {
		t.Error("the job is not billed")
	}
	w.contractor.get("/papers/2").mustShow(t, 200, "Tax invoice T2026-0001", papers[1].SHA256, "as measured", papers[1].Total.Shown())
	w.sound(t)
}
