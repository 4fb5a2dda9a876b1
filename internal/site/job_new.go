package site

import (
	"fmt"
	"strconv"

	"rowtally/internal/job"
)

func (s *site) jobNew(r *request) error {
	paddocks, err := s.paddockOptions(r)
	if err != nil {
		return err
	}
	if len(paddocks) == 0 {
		return r.see("/farms?done=first")
	}
	f := blank(map[string]string{
		"paddock": r.Query("paddock"), "asked_on": string(r.today()), "season": strconv.Itoa(r.today().Time().Year()),
	})
	if r.isPost() {
		f = readForm(r)
		j, err := s.jobFrom(r, f)
		if err != nil {
			return err
		}
		if f.ok() {
			id, err := s.Books.AddJob(r.Context(), r.act(), j)
			if err == nil {
				return r.see(jobPath(id))
			}
			if err := f.take(err); err != nil {
				return err
			}
		}
	}
	page := formPage{Frame: r.frame("jobs", "A new job"), Groups: []group{{Fields: jobFields(paddocks)}}, Button: "Keep the job", Back: "/jobs"}
	return r.draw(f, page)
}

func (s *site) jobEdit(r *request) error {
	was, err := named(r, s.Books.Job)
	if err != nil {
		return err
	}
	paddocks, err := s.paddockOptions(r)
	if err != nil {
		return err
	}
	f := blank(map[string]string{
		"paddock": strconv.FormatInt(was.PaddockID, 10), "name": was.Name, "season": strconv.Itoa(was.Season),
		"asked_on": string(was.AskedOn), "visited_on": string(was.VisitedOn), "visit_note": was.VisitNote,
		"window_from": string(was.WindowFrom), "window_to": string(was.WindowTo), "note": was.Note,
	})
	if r.isPost() {
		f = readForm(r)
		j, err := s.jobFrom(r, f)
		if err != nil {
			return err
		}
		j.ID, j.Code, j.DeclinedOn, j.DeclinedWhy = was.ID, was.Code, was.DeclinedOn, was.DeclinedWhy
		if f.ok() {
			if err := s.Books.ChangeJob(r.Context(), r.act(), j); err == nil {
				return r.see(jobPath(was.ID) + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
			f.as("paddock_id", "paddock")
		}
	}
	return r.draw(f, formPage{Frame: r.frame("jobs", "Change "+was.Code+", "+was.Name), Groups: []group{{Fields: jobFields(paddocks)}}, Button: "Keep the changes", Back: jobPath(was.ID)})
}

// jobFrom reads a job off the form; its farm is its paddock's.
func (s *site) jobFrom(r *request, f *form) (job.Job, error) {
	j := job.Job{
		Name: f.text("name"), Season: f.integer("season", 1990, 2200), AskedOn: f.day("asked_on", true),
		VisitedOn: f.past("visited_on", false, r.today()), VisitNote: f.text("visit_note"), Note: f.text("note"),
		WindowFrom: f.day("window_from", false), WindowTo: f.day("window_to", false),
	}
	if j.WindowFrom != "" && j.WindowTo != "" && j.WindowTo < j.WindowFrom {
		f.refuse("window_to", "The window ends on %s, before it begins: enter a day from %s on.", j.WindowTo, j.WindowFrom)
	}
	if j.WindowTo != "" && j.WindowTo < j.AskedOn {
		f.refuse("window_to", "The window ends on %s, before the farmer asked on %s: enter a day from then on.", j.WindowTo, j.AskedOn)
	}
	if j.VisitedOn != "" && j.VisitedOn < j.AskedOn {
		f.refuse("visited_on", "%s is before the farmer asked on %s: enter a day from then on, or mend the day above.", j.VisitedOn, j.AskedOn)
	}
	if j.AskedOn > r.today() {
		f.refuse("asked_on", "%s is still to come: enter the day when the farmer asked.", j.AskedOn)
	}
	paddockID, err := strconv.ParseInt(f.typed["paddock"], 10, 64)
	if err != nil {
		f.refuse("paddock", "Choose the paddock.")
		return j, nil
	}
	paddock, err := s.Books.Paddock(r.Context(), paddockID)
	if err != nil {
		return j, err
	}
	j.PaddockID, j.FarmID = paddock.ID, paddock.FarmID
	if j.Name == "" {
		j.Name = paddock.Name
	}
	return j, nil
}

func jobFields(paddocks []Option) []Field {
	return []Field{
		{Name: "paddock", Label: "Paddock", Kind: "select", Options: paddocks, Required: true},
		{Name: "name", Label: "Name of the job", Hint: "The paddock's name when left empty."},
		{Name: "season", Label: "Season", Inputmode: "numeric", Required: true},
		{Name: "asked_on", Label: "Asked on", Kind: "date", Required: true},
		{Name: "visited_on", Label: "Looked at on", Kind: "date"},
		{Name: "visit_note", Label: "What was seen", Kind: "textarea", Hint: "Salt and water readings with depth, month and method; what the adviser said, role and date."},
		{Name: "window_from", Label: "Sowing window from", Kind: "date"},
		{Name: "window_to", Label: "to", Kind: "date"},
		{Name: "note", Label: "Note", Kind: "textarea"},
	}
}

// paddockOptions lists every paddock under its farm.
func (s *site) paddockOptions(r *request) ([]Option, error) {
	farms, err := s.Books.Farms(r.Context())
	if err != nil {
		return nil, err
	}
	paddocks, err := s.Books.Paddocks(r.Context(), 0)
	if err != nil {
		return nil, err
	}
	var options []Option
	for _, farm := range farms {
		for _, p := range paddocks {
			if p.FarmID == farm.ID {
				options = append(options, Option{strconv.FormatInt(p.ID, 10), farm.Name + ": " + p.Name})
			}
		}
	}
	return options, nil
}

func (s *site) jobDecline(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	facts, err := s.facts(r, id)
	if err != nil {
		return err
	}
	j := facts.Job
	f := blank(map[string]string{"on": string(r.today()), "why": facts.Advice().WhyNot()})
	if r.isPost() {
		f = readForm(r)
		on, why := f.past("on", true, r.today()), f.must("why", "Say why, as it should be read next year.")
		if f.ok() {
			if err := s.Books.Decline(r.Context(), r.act(), id, on, why); err == nil {
				return r.see(jobPath(id) + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("jobs", fmt.Sprintf("Decline %s, %s", j.Code, j.Name)), Button: "Decline the job", Back: jobPath(id),
		Lead: "A declined job keeps its papers and readings, and lets go of the stock held back for it.",
		Groups: []group{{Fields: []Field{
			{Name: "on", Label: "On", Kind: "date", Required: true},
			{Name: "why", Label: "Why", Kind: "textarea", Required: true, Hint: "Too salt or too wet for shrubs, the farmer said no, no seed in time."},
		}}},
	})
}
