package site

import (
	"context"

	"rowtally/internal/job"
)

// farmBooks is what the farm and paddock pages ask of the store.
type farmBooks interface {
	Farms(ctx context.Context) ([]job.Farm, error)
	Farm(ctx context.Context, id int64) (job.Farm, error)
	AddFarm(ctx context.Context, act job.Act, farm job.Farm) (int64, error)
	ChangeFarm(ctx context.Context, act job.Act, farm job.Farm) error
	Paddocks(ctx context.Context, farmID int64) ([]job.Paddock, error)
	Paddock(ctx context.Context, id int64) (job.Paddock, error)
	AddPaddock(ctx context.Context, act job.Act, paddock job.Paddock) (int64, error)
	ChangePaddock(ctx context.Context, act job.Act, paddock job.Paddock) error
	AddLink(ctx context.Context, act job.Act, farmID int64, token string) error
	Links(ctx context.Context, farmID int64) ([]job.Link, error)
	WithdrawLink(ctx context.Context, act job.Act, id int64) error
}

func (s *site) farmRoutes() []route {
	return []route{
		office(get, "/farms", s.farms),
		office(get, "/farms/new", s.farmNew),
		office(post, "/farms/new", s.farmNew),
		office(get, "/farms/:id", s.farmShow),
		office(get, "/farms/:id/edit", s.farmEdit),
		office(post, "/farms/:id/edit", s.farmEdit),
		office(post, "/farms/:id/link", s.linkMake),
		office(post, "/farms/:id/link/:link/withdraw", s.linkWithdraw),
		office(get, "/farms/:id/paddocks/new", s.paddockNew),
		office(post, "/farms/:id/paddocks/new", s.paddockNew),
		office(get, "/paddocks/:id", s.paddockShow),
		office(get, "/paddocks/:id/boundary", s.paddockBoundary),
		office(post, "/paddocks/:id/boundary", s.paddockBoundary),
		office(get, "/paddocks/:id/draw", s.paddockDraw),
		office(post, "/paddocks/:id/draw", s.paddockDraw),
		office(post, "/paddocks/:id/draw/measure", s.drawnMeasure),
	}
}

// farmLine is one farm of the list.
type farmLine struct {
	job.Farm
	Paddocks int
	GrossM2  float64 // of the paddocks whose boundary is read
	Open     int     // jobs that still want something
}

type farmsPage struct {
	Frame
	Says  string
	Farms []farmLine
}

func (s *site) farms(r *request) error {
	farms, err := s.Books.Farms(r.Context())
	if err != nil {
		return err
	}
	paddocks, err := s.Books.Paddocks(r.Context(), 0)
	if err != nil {
		return err
	}
	open, err := s.openJobs(r)
	if err != nil {
		return err
	}
	page := farmsPage{Frame: r.frame("farms", "Farms")}
	for _, f := range farms {
		line := farmLine{Farm: f, Open: open[f.ID]}
		for _, p := range paddocks {
			if p.FarmID == f.ID {
				line.Paddocks++
				line.GrossM2 += job.GrossM2(p)
			}
		}
		page.Farms = append(page.Farms, line)
	}
	page.Says = job.FarmsSay(len(farms), open)
	return r.show("farms", page)
}
