package site

import (
	"rowtally/internal/choose"
	"rowtally/internal/job"
)

// allotPage is the lots allotted to all agreed jobs at once.
type allotPage struct {
	Frame
	choose.Allotment
	Says    string
	Trouble bool
	Total   string
	Lots    []choose.Given
}

// allot proposes lots for every job that is agreed and not yet sown. Nothing is kept: each
// job takes its part over on its own page.
func (s *site) allot(r *request) error {
	a, shelf, err := s.seasonsLots(r)
	if err != nil {
		return err
	}
	page := allotPage{Frame: r.frame("shed", "Allot lots to the agreed jobs"), Allotment: a, Says: a.Says(), Total: r.business.Money(a.Cost), Lots: a.ByLot(shelf)}
	for _, n := range a.Needs {
		page.Trouble = page.Trouble || n.Buy != nil
	}
	return r.show("allot", page)
}

// seasonsLots allots the shed to the agreed jobs.
func (s *site) seasonsLots(r *request) (choose.Allotment, job.Shelf, error) {
	all, err := s.factsWhere(r, everyJob)
	if err != nil {
		return choose.Allotment{}, job.Shelf{}, err
	}
	var agreed []job.Facts
	for _, f := range all {
		if stage := job.StageOf(f); stage == job.Agreed || stage == job.Sowing {
			agreed = append(agreed, f)
		}
	}
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return choose.Allotment{}, shelf, err
	}
	a, err := choose.ForSeason(agreed)
	return a, shelf, err
}
