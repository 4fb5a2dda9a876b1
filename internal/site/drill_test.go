package site

import (
	"fmt"
	"testing"

	"rowtally/internal/job"
)

// heldOf is what the job holds back of a lot, in g.
func heldOf(f job.Facts, lotID int64) (grams int64) {
	for _, h := range f.Held {
		if h.StockKind == job.LotStock && h.StockID == lotID {
			grams = h.Held
		}
	}
	return grams
}

func TestTheDrillIsLoadedFromWhatIsHeldBack(t *testing.T) {
	w := sownBetween(t)
	w.contractor.get("/jobs/1/understorey/load").mustShow(t, 409, "has no understorey")
	w.contractor.post("/jobs/1/understorey", understoreyForm...).mustLead(t, "/jobs/1?done=kept#understorey")
	f := w.facts(t, 1)
	drill, err := job.DrillOf(f)
	if err != nil {
		t.Fatal(err)
	}
	need, onHand := drill.Lines[0].Need, f.Shelf.OnHand(job.LotStock, 2)
	kg := fmt.Sprintf("%.3f", float64(need)/1000)
	w.operator.get("/jobs/1/understorey/load").mustShow(t, 200, "U26-03", `value="`+kg+`"`, "Nothing is loaded yet.")
	load := []string{"kg_2", "5", "ha", "6", "note", "first half", "key", "load the drill once"}
	w.operator.post("/jobs/1/understorey/load", load...).mustLead(t, "/jobs/1/understorey/load?done=drilled")
	w.operator.post("/jobs/1/understorey/load", load...).mustLead(t, "/jobs/1/understorey/load?done=drilled")
	f = w.facts(t, 1)
	if got := f.Shelf.OnHand(job.LotStock, 2); len(f.DrillLoads) != 1 || got != onHand-5_000 || heldOf(f, 2) != need-5_000 {
		t.Errorf("%d loads, %d g on hand of %d, %d held back of %d", len(f.DrillLoads), got, onHand, heldOf(f, 2), need)
	}
	w.contractor.get("/jobs/1").mustShow(t, 200, "Loaded into the drill: 5.00 of ", "/jobs/1/understorey/load")
	w.contractor.get("/jobs/1/balance").mustShow(t, 200, "Understorey", "still to load", "data-of=\"loaded\">5\u2009000", "Loaded for 6.0 of")
	w.contractor.get("/journal").mustShow(t, 200, "loaded the drill for J-01 with 5.000 kg of understorey, for 6.0 ha")
	w.operator.get("/truck/1").mustShow(t, 200, "Load the drill")
	w.operator.get("/jobs/1/understorey/load").mustShow(t, 200, fmt.Sprintf(`value="%.3f"`, float64(need-5_000)/1000), "first half")
	w.sound(t)
	w.operator.post("/jobs/1/understorey/load/1/undo").mustLead(t, "/jobs/1/understorey/load?done=undone")
	w.operator.post("/jobs/1/understorey/load/1/undo").mustShow(t, 404, "There is no such drill load")
	if f = w.facts(t, 1); f.Shelf.OnHand(job.LotStock, 2) != onHand || heldOf(f, 2) != need || len(f.DrillLoads) != 0 {
		t.Errorf("undone: %d g on hand of %d, %d held back of %d", f.Shelf.OnHand(job.LotStock, 2), onHand, heldOf(f, 2), need)
	}
	w.sound(t)
}

func TestALoadThatCannotBeSaysWhatToChange(t *testing.T) {
	w := sownBetween(t)
	w.contractor.post("/jobs/1/understorey", understoreyForm...).mustLead(t, "/jobs/1?done=kept#understorey")
	form := []string{"kg_2", "5", "ha", "6", "note", ""}
	for _, c := range []struct{ field, typed, at, says string }{
		{"kg_2", "some", "kg_2", "is not a number"},
		{"kg_2", "0", "kg_2", "outside what is possible"},
		{"kg_2", "", "", "enter the kg of one lot at least"},
		{"kg_2", "99000", "", "the drill takes 99\u2009000.000 kg. Choose another, load less, or receive more first"},
		{"ha", "", "ha", "Enter a number"},
		{"ha", "-1", "ha", "outside what is possible"},
	} {
		p := w.operator.post("/jobs/1/understorey/load", with(form, c.field, c.typed)...)
		p.mustRefuse(t, c.at, c.says)
		p.mustKeep(t, c.field, c.typed)
	}
	w.contractor.post("/shed/lots/2/hold", "reason", "weevils").mustLead(t, "/shed/lots/2?done=held")
	w.operator.post("/jobs/1/understorey/load", form...).mustRefuse(t, "", "on hold: weevils. Choose another lot in the understorey of J-01")
	w.operator.get("/jobs/1/understorey/load").mustShow(t, 200, "On hold: weevils")
	if f := w.facts(t, 1); len(f.DrillLoads) != 0 {
		t.Errorf("refused loads kept %+v", f.DrillLoads)
	}
	w.sound(t)
}
