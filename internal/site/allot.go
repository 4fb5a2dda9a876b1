package site

import (
	"rowtally/internal/choose"
	"rowtally/internal/job"
	"rowtally/internal/seed"
)

// allotPage is the lots allotted to all agreed jobs at once.
type allotPage struct {
	Frame
	choose.Allotment
	Says    string
	Trouble bool
	Total   string
	Lots    []choose.Given
	Along   *allotted // along the rows; nil where nothing is wanted there
	Between *allotted // between the rows, likewise
}

// allotted is one table of needs.
type allotted struct {
	Along bool
	Needs []choose.Need
}

// allottedIn is the needs of one layer as a table.
func allottedIn(a choose.Allotment, layer seed.Layer) *allotted {
	t := allotted{Along: layer == seed.Shrub}
	for _, n := range a.Needs {
		if n.Layer == layer {
			t.Needs = append(t.Needs, n)
		}
	}
	if t.Needs == nil {
		return nil
	}
	return &t
}

// allot proposes lots for every job that is agreed and not yet sown. Nothing is kept: each
// job takes its part over on its own page.
func (s *site) allot(r *request) error {
	a, shelf, err := s.seasonsLots(r)
	if err != nil {
		return err
	}
	page := allotPage{Frame: r.frame("shed", "Allot lots to the agreed jobs"), Allotment: a, Says: a.Says(), Total: r.business.Money(a.Cost), Lots: a.ByLot(shelf),
		Along: allottedIn(a, seed.Shrub), Between: allottedIn(a, seed.Understorey)}
	for _, n := range a.Needs {
		page.Trouble = page.Trouble || n.Buy != nil
	}
	return r.show("allot", page)
}

// seasonsLots allots the shed to the agreed jobs.
func (s *site) seasonsLots(r *request) (choose.Allotment, job.Shelf, error) {
	all, err := s.currentFacts(r)
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
