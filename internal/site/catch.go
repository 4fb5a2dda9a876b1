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
	Files  bool // the form carries a file
}

// catchTest keeps a catch test; the recipe follows it.
func (s *site) catchTest(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if facts.Recipe == nil || facts.Layout == nil {
		return fault.Conflict("A catch test is judged by the job's rows and recipe, and one of them is not there yet.")
	}
	f := blank(map[string]string{"outlets": "1", "spacing_m": short(facts.Layout.SpacingM)})
	if r.isPost() {
		f = readForm(r)
		if err := s.keepCatch(r, f, facts); err != nil {
			return err
		}
		if f.ok() {
			return r.see(truckPath(facts.Job.ID) + "?done=caught")
		}
		r.Status(422)
	}
	page := truckForm{Frame: r.frame("truck", "Catch test, "+facts.Job.Name), Job: facts.Job, Action: r.Path(), Button: "Keep the catch",
		Lead:   fmt.Sprintf("Catch what the outlets drop over a measured run at working speed, with the real mix. Intended: %s mL a placement.", short(facts.Recipe.PlacementML)),
		Fields: f.fields(catchFields()...)}
	page.Head = f.head()
	return r.show("truck_form", page)
}

// keepCatch reads a catch test off the form, tries it and keeps it.
func (s *site) keepCatch(r *request, f *form, facts job.Facts) error {
	c := mix.Catch{JobID: facts.Job.ID, CaughtML: f.number("caught_ml", 0.1, 1_000_000), RunM: f.number("run_m", 0.1, 10_000),
		Outlets: f.integer("outlets", 1, 50), SpacingM: f.number("spacing_m", 0.1, 100), CaughtAt: r.now, PersonID: r.person.ID}
	if !f.ok() {
		return nil
	}
	if _, err := job.JudgeCatch(c, *facts.Recipe); err != nil {
		return f.take(err)
	}
	_, err := s.Books.AddCatch(r.Context(), r.act(), c)
	return f.take(err)
}

func catchFields() []Field {
	return []Field{
		{Name: "caught_ml", Label: "Caught, all outlets together", Unit: "mL", Kind: "number", Required: true},
		{Name: "run_m", Label: "Over a run of", Unit: "m", Kind: "number", Required: true, Hint: "Wheel turns × the loaded wheel's round."},
		{Name: "outlets", Label: "Outlets caught", Kind: "number", Required: true},
		{Name: "spacing_m", Label: "Placements every", Unit: "m", Kind: "number", Required: true, Hint: "As counted over the run."},
	}
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
