package site

import (
	"fmt"

	"rowtally/internal/job"
)

// answer keeps the contractor's answer to a question, or closes one that is answered.
func (s *site) answer(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	id, err := questionOf(r, facts)
	if err != nil {
		return err
	}
	f := readForm(r)
	w := readWord(f, id, job.Answers)
	w.Name = r.person.Name
	if err := s.Books.Say(r.Context(), r.act(), w); err == nil {
		return r.see(fmt.Sprintf("%s?done=%s#question-%d", jobPath(facts.Job.ID), doneWith(w), id))
	} else if err := f.take(err); err != nil {
		return err
	}
	f.as("text", inThread("text", id))
	return s.showJob(r, facts, f)
}

// answerFields are the fields of a question's next word on the job's page.
func answerFields(t job.Thread) []Field {
	return []Field{{Name: inThread("text", t.ID), Label: "Your answer", Kind: "textarea", Required: t.Waits(), Hint: "The farmer reads it on the page behind the link."}}
}
