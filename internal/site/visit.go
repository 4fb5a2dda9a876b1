package site

import (
	"fmt"

	"rowtally/internal/job"
)

// visitSheet prints the sheet that a visit to a job's paddock is written on.
func (s *site) visitSheet(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	pdf, err := s.Press.Visit(job.VisitSheetOf(facts))
	if err != nil {
		return fmt.Errorf("print the visit sheet of %s: %w", facts.Job.Code, err)
	}
	return r.sendPDF(facts.Job.Code+" visit sheet.pdf", pdf)
}
