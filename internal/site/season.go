package site

import (
	"context"

	"rowtally/internal/job"
	"rowtally/internal/machine"
)

// seasonBooks is what the first page asks of the store beside the jobs and the shelf.
type seasonBooks interface {
	Machines(ctx context.Context) ([]machine.Machine, error)
}

func (s *site) seasonRoutes() []route {
	return []route{field(get, "/", s.season)}
}

type seasonPage struct {
	Frame
	job.Season
	Day     string
	Summary string
	Strip   *strip
	Wanted  *liveLine
	First   bool // no job is kept yet
}

// season is the first page: what must happen next and what is short. The operator's is
// the truck's.
func (s *site) season(r *request) error {
	if r.person.Role == job.Operator {
		return r.see("/truck")
	}
	all, err := s.currentFacts(r)
	if err != nil {
		return err
	}
	shelf, err := s.shelfOf(r, all)
	if err != nil {
		return err
	}
	machines, err := s.Books.Machines(r.Context())
	if err != nil {
		return err
	}
	season := job.SeasonOf(all, shelf, machines, r.today())
	page := seasonPage{Frame: r.frame("season", "Season"), Season: season, Strip: stripOf(season), Wanted: liveLineOf(season),
		Day: r.today().Time().Format("Monday 2 January 2006"), Summary: season.Summary(), First: len(all) == 0}
	return r.show("season", page)
}

// shelfOf is the shelf that the jobs were read with; read by itself while there is no job.
func (s *site) shelfOf(r *request, all []job.Facts) (job.Shelf, error) {
	if len(all) > 0 {
		return all[0].Shelf, nil
	}
	return s.Books.Shelf(r.Context())
}
