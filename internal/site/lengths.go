package site

import (
	"fmt"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// lengthRoutes lets rows leave: planned and sown, as files and as a map, to the crew and
// through the farmer's link.
func (s *site) lengthRoutes() []route {
	routes := []route{
		field(get, "/jobs/:id/map.pdf", s.rowMap(s.jobFacts)),
		{method: get, path: "/farm/:token/jobs/:id/map.pdf", open: anyone, answer: s.rowMap(s.farmersFacts)},
	}
	for _, file := range job.LengthFiles {
		for what, lengths := range map[string]lengthsOf{"rows": plannedLengths, "sown": sownLengths} {
			path := "/jobs/:id/" + what + "." + file.Ending
			routes = append(routes,
				field(get, path, s.lengthFile(file, what, lengths, s.jobFacts)),
				route{method: get, path: "/farm/:token" + path, open: anyone, answer: s.lengthFile(file, what, lengths, s.farmersFacts)})
		}
	}
	return routes
}

type lengthsOf func(job.Facts) ([]job.Length, error)

func plannedLengths(f job.Facts) ([]job.Length, error) {
	laid, err := f.Rows()
	if err != nil {
		return nil, err
	}
	return laid.Lengths(), nil
}

func sownLengths(f job.Facts) ([]job.Length, error) {
	all, err := f.SownLengths()
	if err == nil && len(all) == 0 {
		return nil, fault.Conflict("No row of %s is matched to a log yet. Load the machine's log first.", f.Job.Name)
	}
	return all, err
}

// farmersFacts is the job that a farmer's link and the path name.
func (s *site) farmersFacts(r *request) (job.Facts, error) {
	_, facts, err := s.farmerOf(r)
	return facts, err
}

// lengthFile answers with lengths of row as a file to be kept.
func (s *site) lengthFile(file job.LengthFile, what string, lengths lengthsOf, factsOf func(*request) (job.Facts, error)) handler {
	return func(r *request) error {
		facts, err := factsOf(r)
		if err != nil {
			return err
		}
		all, err := lengths(facts)
		if err != nil {
			return err
		}
		content, err := file.Write(fmt.Sprintf("%s %s, %s: rows %s", facts.Job.Code, facts.Job.Name, facts.Farm.Name, map[string]string{"rows": "as planned", "sown": "as sown"}[what]), all)
		if err != nil {
			return err
		}
		r.Set(fiber.HeaderContentType, file.Type)
		r.Set(fiber.HeaderContentDisposition, fmt.Sprintf("attachment; filename=%q", facts.Job.Code+"-"+what+"."+file.Ending))
		return r.Send(content)
	}
}

// rowMap prints the map of the rows as they are laid now.
func (s *site) rowMap(factsOf func(*request) (job.Facts, error)) handler {
	return func(r *request) error {
		facts, err := factsOf(r)
		if err != nil {
			return err
		}
		m, err := job.RowMapOf(facts)
		if err != nil {
			return err
		}
		pdf, err := s.Press.RowMap(m)
		if err != nil {
			return fmt.Errorf("print the map of %s: %w", facts.Job.Code, err)
		}
		return r.sendPDF(facts.Job.Code+"-rows.pdf", pdf)
	}
}
