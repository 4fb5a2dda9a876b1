package site

import (
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/unit"
)

func grouped(v float64, decimals int) string { return unit.Grouped(v, decimals) }

type truckForm struct {
	Frame
	Job    job.Job
	Head   string
	Lead   string
	Fields []Field
	Action string
	Button string
	Found  *mix.Metering // what the values typed come to
}

// catchTest keeps a catch test: "try" shows what the values typed come to, "keep" keeps
// them, and the recipe follows.
func (s *site) catchTest(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if facts.Recipe == nil || facts.Layout == nil {
		return fault.Conflict("A catch test is judged by the job's rows and recipe, and one of them is not there yet.")
	}
	f := blank(map[string]string{"outlets": "1", "spacing_m": short(facts.Layout.SpacingM)})
	page := truckForm{Frame: r.frame("truck", "Catch test, "+facts.Job.Name), Job: facts.Job, Action: r.Path(), Button: "Keep the catch",
		Lead: fmt.Sprintf("Catch what the outlets drop over a measured run at working speed, with the real mix. Intended: %s mL a placement.", short(facts.Recipe.PlacementML))}
	if r.isPost() {
		f = readForm(r)
		c := mix.Catch{JobID: facts.Job.ID, CaughtML: f.number("caught_ml", 0.1, 1_000_000), RunM: f.number("run_m", 0.1, 10_000),
			Outlets: f.integer("outlets", 1, 50), SpacingM: f.number("spacing_m", 0.1, 100), CaughtAt: r.now, PersonID: r.person.ID}
		if f.ok() {
			found, err := job.JudgeCatch(c, *facts.Recipe)
			if err := f.take(err); err != nil {
				return err
			}
			page.Found = &found
		}
		if f.ok() && f.typed["act"] != "try" {
			if _, err := s.Books.AddCatch(r.Context(), r.act(), c); err == nil {
				return r.see(truckPath(facts.Job.ID) + "?done=caught")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
		if !f.ok() {
			page.Found = nil
			r.Status(422)
		}
	}
	page.Fields = f.fields(
		Field{Name: "caught_ml", Label: "Caught, all outlets together", Unit: "mL", Kind: "number", Required: true},
		Field{Name: "run_m", Label: "Over a run of", Unit: "m", Kind: "number", Required: true, Hint: "Wheel turns × the loaded wheel's round."},
		Field{Name: "outlets", Label: "Outlets caught", Kind: "number", Required: true},
		Field{Name: "spacing_m", Label: "Placements every", Unit: "m", Kind: "number", Required: true, Hint: "As counted over the run."},
	)
	page.Head = f.head()
	return r.show("truck_form", page)
}

func (s *site) catchUndo(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if c, ok := facts.Catch(); ok {
		if err := s.Books.WithdrawCatch(r.Context(), r.act(), c.ID); err != nil {
			return err
		}
	}
	return r.see(truckPath(facts.Job.ID) + "?done=undone")
}
