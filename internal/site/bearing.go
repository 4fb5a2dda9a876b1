package site

import (
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

type bearingPage struct {
	Frame
	Job      job.Job
	Fields   []Field
	Head     string
	Bearings *job.Bearings // nil while the wish is refused
	Picture  *bearingPicture
}

// bearing tries the job's layout along every bearing: one picture, and the best few by the
// rule that the contractor weighs.
func (s *site) bearing(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if facts.Layout == nil {
		return fault.Conflict("The rows of %s are not laid yet. Lay them along any bearing first: belts, alley and headland are taken from there.", facts.Job.Name)
	}
	f := blank(wishTyped(r))
	wish := job.Wish{LeastFallPercent: f.maybe("least_fall", 0, 100, 0), MostFallPercent: f.maybe("most_fall", 0, 100, 100), TurnM: f.maybe("turn_m", 0, 10_000, 0)}
	page := bearingPage{Job: facts.Job}
	if f.ok() {
		tried, err := job.TryBearings(facts.Paddock, *facts.Layout, wish)
		if err := f.take(err); err != nil {
			return err
		}
		if f.ok() {
			page.Bearings, page.Picture = &tried, bearingPictureOf(tried)
		}
	}
	page.Frame = r.frame("jobs", "Bearings of "+facts.Job.Name)
	page.Fields = f.fields(wishFields()...)
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("bearing", page)
}

// wishTyped is what the address asks for; at first, what a sweep begins with.
func wishTyped(r *request) map[string]string {
	begin := job.BeginWish()
	return map[string]string{
		"least_fall": r.Query("least_fall", short(begin.LeastFallPercent)),
		"most_fall":  r.Query("most_fall", short(begin.MostFallPercent)),
		"turn_m":     r.Query("turn_m", short(begin.TurnM)),
	}
}

func wishFields() []Field {
	return []Field{
		{Name: "least_fall", Label: "Rows fall at least", Unit: "%", Kind: "number", Hint: "Less does not carry the water off."},
		{Name: "most_fall", Label: "and at most", Unit: "%", Kind: "number", Hint: "More washes the mounds out."},
		{Name: "turn_m", Label: "One turn is worth", Unit: "m of row", Kind: "number", Hint: "What you would give up to save a turn."},
	}
}
