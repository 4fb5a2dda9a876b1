package site

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/working"
)

// What became of mix that remained in the hoppers.
const (
	keptBack   = "kept"
	thrownAway = "thrown"
)

var fates = []Option{{keptBack, "kept: back into stock, on the truck"}, {thrownAway, "thrown away: written off"}}

type cleanOutPage struct {
	formPage
	Job   job.Job
	Lines []remainsLine // how what was typed splits
	Past  []mix.CleanOut
}

// remainsLine is one lot or medium of what remained.
type remainsLine struct{ Name, Amount, Unit string }

// cleanOut keeps what remained in the hoppers: "split" shows how the litres split over lots
// and medium, "keep" keeps them.
func (s *site) cleanOut(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if len(facts.Tubs) == 0 {
		return fault.Conflict("No tub of %s is mixed yet, so nothing can remain in its hoppers.", facts.Job.Name)
	}
	f := blank(map[string]string{"fate": thrownAway})
	page := cleanOutPage{Job: facts.Job, Past: facts.CleanOuts}
	if r.isPost() {
		f = readForm(r)
		remains, err := readRemains(f, facts)
		if err := f.take(err); err != nil {
			return err
		}
		if f.ok() {
			page.Lines = remainsLines(facts, remains)
		}
		if f.ok() && f.typed["act"] != "split" {
			remains.MadeAt = r.now
			if _, err := s.Books.CleanOut(r.Context(), r.act(), remains); err == nil {
				return r.see(fmt.Sprintf("/jobs/%d/balance?done=cleaned", facts.Job.ID))
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.drawCleanOut(f, page)
}

func (r *request) drawCleanOut(f *form, page cleanOutPage) error {
	page.Frame = r.frame(r.atWork(), "Clean-out, "+page.Job.Name)
	page.Action, page.Back = r.Path(), fmt.Sprintf("/jobs/%d/balance", page.Job.ID)
	page.Groups = []group{{Fields: f.fields(
		Field{Name: "left_l", Label: "Mix that remained", Unit: "L", Kind: "number", Required: true, Hint: "In all hoppers together, by the bucket's marks."},
		Field{Name: "fate", Label: "What became of it", Kind: "select", Options: fates, Required: true, Hint: "Mixed seed put back in a seed bag ruins the lot: keep it in a bag of its own."},
		Field{Name: "note", Label: "Note"},
	)}}
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("clean_out", page)
}

func readRemains(f *form, facts job.Facts) (mix.CleanOut, error) {
	leftML, fate, note := f.thousandths("left_l", leastAmount, mostLitres), f.oneOf("fate", fates), f.text("note")
	if !f.ok() {
		return mix.CleanOut{}, nil
	}
	remains, err := job.RemainsOf(facts, leftML, fate == keptBack)
	remains.Note = note
	return remains, err
}

func remainsLines(facts job.Facts, c mix.CleanOut) (lines []remainsLine) {
	for _, part := range facts.RemainsParts(c) {
		line := remainsLine{part.Name, amount(part.Quantity), "L"}
		if part.Kind == job.LotStock {
			line = remainsLine{part.Code + " " + part.Name, grouped(float64(part.Quantity), 0), "g"}
		}
		lines = append(lines, line)
	}
	return lines
}

// cleanOutUndo takes a clean-out back that was entered wrong.
func (s *site) cleanOutUndo(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	id, err := r.id("entry")
	if err != nil {
		return err
	}
	for _, c := range facts.CleanOuts {
		if c.ID == id {
			if err := s.Books.UndoCleanOut(r.Context(), r.act(), id); err != nil {
				return err
			}
			return r.see(fmt.Sprintf("/jobs/%d/balance?done=undone", facts.Job.ID))
		}
	}
	return fault.Miss("There is no such clean-out of %s. It may be taken back already.", facts.Job.Name)
}

type balancePage struct {
	Frame
	Job     job.Job
	Balance *job.MassBalance // nil while no tub is mixed
	Drill   *job.Drill       // nil while none is loaded
	Steps   working.Steps
	Past    []mix.CleanOut
}

// balance shows where a job's seed and medium have gone.
func (s *site) balance(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	page := balancePage{Frame: r.frame(r.atWork(), "Mass balance of "+facts.Job.Name), Job: facts.Job, Past: facts.CleanOuts}
	if len(facts.DrillLoads) > 0 {
		drill, err := job.DrillOf(facts)
		if err != nil {
			return err
		}
		page.Drill = &drill
	}
	b, err := job.MassBalanceOf(facts)
	switch {
	case err == nil:
		page.Balance, page.Steps = &b, b.Working()
	case page.Drill == nil || fault.KindOf(err) != fault.Clash:
		return err
	}
	for i := range page.Past {
		page.Past[i].MadeAt = inZone(page.Past[i].MadeAt, r.business.Zone)
	}
	return r.show("balance", page)
}
