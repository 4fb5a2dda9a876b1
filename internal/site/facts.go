package site

import (
	"context"

	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// factBooks is what is read to know a job, or the shed, whole.
type factBooks interface {
	Facts(ctx context.Context, jobID int64, today unit.Date) (job.Facts, error)
	FactsWhere(ctx context.Context, today unit.Date, want func(job.Job) bool) ([]job.Facts, error)
	Standings(ctx context.Context, today unit.Date) ([]job.Facts, error)
	Shelf(ctx context.Context) (job.Shelf, error)
	Jobs(ctx context.Context, season int) ([]job.Job, error)
	Job(ctx context.Context, id int64) (job.Job, error)
}

// facts reads everything that is known of one job today.
func (s *site) facts(r *request, id int64) (job.Facts, error) {
	return s.Books.Facts(r.Context(), id, r.today())
}

// factsWhere reads everything that is known of the jobs that a page wants.
func (s *site) factsWhere(r *request, want func(job.Job) bool) ([]job.Facts, error) {
	return s.Books.FactsWhere(r.Context(), r.today(), want)
}

// standings reads of every job what its stage is read off.
func (s *site) standings(r *request) ([]job.Facts, error) {
	return s.Books.Standings(r.Context(), r.today())
}

// currentFacts reads everything that is known of the jobs that are not past.
func (s *site) currentFacts(r *request) ([]job.Facts, error) {
	standing, err := s.standings(r)
	if err != nil {
		return nil, err
	}
	return s.factsOfCurrent(r, standing)
}

func (s *site) factsOfCurrent(r *request, standing []job.Facts) ([]job.Facts, error) {
	current := map[int64]bool{}
	for _, f := range standing {
		current[f.Job.ID] = !f.Past()
	}
	return s.factsWhere(r, func(j job.Job) bool { return current[j.ID] })
}

// jobFacts reads everything that is known of the job that the path names.
func (s *site) jobFacts(r *request) (job.Facts, error) {
	id, err := r.id("id")
	if err != nil {
		return job.Facts{}, err
	}
	return s.facts(r, id)
}
