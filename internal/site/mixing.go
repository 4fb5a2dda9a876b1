package site

import (
	"context"
	"fmt"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/mix"
	"rowtally/internal/working"
)

// mixingBooks is what the mixing pages write.
type mixingBooks interface {
	KeepVoids(ctx context.Context, act job.Act, jobID int64, share, mediumL float64) error
	CleanOut(ctx context.Context, act job.Act, c mix.CleanOut) (int64, error)
	UndoCleanOut(ctx context.Context, act job.Act, id int64) error
	LoadDrill(ctx context.Context, act job.Act, l job.DrillLoad) (int64, error)
	UndoDrillLoad(ctx context.Context, act job.Act, id int64) error
}

func (s *site) mixingRoutes() []route {
	return []route{
		field(get, "/jobs/:id/mixing", s.mixing),
		field(post, "/jobs/:id/mixing", s.mixing),
		field(get, "/jobs/:id/clean-out", s.cleanOut),
		field(post, "/jobs/:id/clean-out", s.cleanOut),
		field(post, "/jobs/:id/clean-out/:entry/undo", s.cleanOutUndo),
		field(get, "/jobs/:id/balance", s.balance),
		field(get, "/jobs/:id/understorey/load", s.loadDrill),
		field(post, "/jobs/:id/understorey/load", s.loadDrill),
		field(post, "/jobs/:id/understorey/load/:entry/undo", s.drillUndo),
	}
}

// atWork is the word of the top bar that a page of the mix stands under: an operator has no
// list of jobs.
func (r *request) atWork() string {
	if r.person.Role == job.Operator {
		return "truck"
	}
	return "jobs"
}

type mixingPage struct {
	Frame
	Job      job.Job
	Recipe   job.Recipe
	View     *job.MixView // nil when the mix cannot be worked out
	Cannot   string       // why it cannot, or why no tub is to be mixed now
	Ranged   bool         // the share that becomes plants has a range
	First    Field        // what the first tub took
	FirstHow working.Steps
	Head     string
}

// mixing shows a job's mix: what it fills, what a meter that is off does, tub by tub; and
// keeps what the first tub took.
func (s *site) mixing(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	f := blank(nil)
	if facts.Recipe != nil && facts.Recipe.FirstTubMediumL > 0 {
		f = blank(map[string]string{"medium_l": short(facts.Recipe.FirstTubMediumL)})
	}
	if r.isPost() {
		f = readForm(r)
		if err := s.keepFirstTub(r, f, facts); err != nil {
			return err
		}
		if f.ok() {
			return r.see(fmt.Sprintf("/jobs/%d/mixing?done=voids", facts.Job.ID))
		}
		r.Status(422)
	}
	return r.show("mixing", mixingPageOf(r, f, facts))
}

func mixingPageOf(r *request, f *form, facts job.Facts) mixingPage {
	page := mixingPage{Frame: r.frame(r.atWork(), "The mix of "+facts.Job.Name), Job: facts.Job}
	if facts.Recipe != nil {
		page.Recipe = *facts.Recipe
	}
	if view, err := job.MixViewOf(facts); err != nil {
		page.Cannot = sentence(err.Error())
	} else {
		page.View, page.Cannot = &view, view.Cannot
		page.Ranged = view.Mix.Range != nil && view.Mix.Range.Emergence.LowFraction < view.Mix.Range.Emergence.HighFraction
	}
	if first, err := facts.FirstTub(page.Recipe.FirstTubMediumL); err == nil && page.Recipe.FirstTubMediumL > 0 {
		page.FirstHow = first.Working()
	}
	page.First = f.field(Field{Name: "medium_l", Label: "The first tub took", Unit: "L of medium to its line", Kind: "number", Required: true,
		Hint: "Weigh the seed in, then count the litres of medium up to the line."})
	page.Head = f.head()
	return page
}

// keepFirstTub reads what the first tub took, keeps the share that follows from it, and
// moves what an agreed job holds back over to the litres that follow.
func (s *site) keepFirstTub(r *request, f *form, facts job.Facts) error {
	mediumL := f.number("medium_l", leastAmount, mostLitres)
	if !f.ok() {
		return nil
	}
	if facts.Recipe == nil {
		return fault.Conflict("No lots are chosen yet, so there is no tub to measure.")
	}
	first, err := facts.FirstTub(mediumL)
	if err := f.take(err); err != nil || !f.ok() {
		return err
	}
	share, err := first.Voids()
	if err := f.take(err); err != nil || !f.ok() {
		return err
	}
	if err := f.take(s.Books.KeepVoids(r.Context(), r.act(), facts.Job.ID, share, mediumL)); err != nil || !f.ok() {
		return err
	}
	again := *facts.Recipe
	again.VoidsFraction, again.FirstTubMediumL = share, mediumL
	facts.Recipe = &again
	claims, err := job.Claims(facts)
	if err := f.take(err); err != nil || !f.ok() {
		return err
	}
	return s.reclaim(r, f, facts, claims)
}
