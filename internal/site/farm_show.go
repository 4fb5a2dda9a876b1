package site

import (
	"fmt"

	"rowtally/internal/job"
)

type farmPage struct {
	Frame
	Farm     job.Farm
	Paddocks []paddockLine
	Jobs     []jobLine
	Links    []linkLine
}

type paddockLine struct {
	job.Paddock
	GrossM2 float64
}

// linkLine is a farmer's link with its whole address, ready to copy.
type linkLine struct {
	job.Link
	URL string
}

func (s *site) farmShow(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	page := farmPage{}
	if page.Farm, err = s.Books.Farm(r.Context(), id); err != nil {
		return err
	}
	paddocks, err := s.Books.Paddocks(r.Context(), id)
	if err != nil {
		return err
	}
	for _, p := range paddocks {
		page.Paddocks = append(page.Paddocks, paddockLine{p, job.GrossM2(p)})
	}
	all, err := s.factsWhere(r, func(j job.Job) bool { return j.FarmID == id })
	if err != nil {
		return err
	}
	page.Jobs = jobLines(all)
	links, err := s.Books.Links(r.Context(), id)
	if err != nil {
		return err
	}
	for _, l := range links {
		if l.WithdrawnAt == nil {
			l.MadeAt = inZone(l.MadeAt, r.business.Zone)
			page.Links = append(page.Links, linkLine{l, r.base(s.Origin) + "/farm/" + l.Token})
		}
	}
	page.Frame = r.frame("farms", page.Farm.Name)
	return r.show("farm", page)
}

func (s *site) linkMake(r *request) error {
	id, err := r.id("id")
	if err != nil {
		return err
	}
	if err := s.Books.AddLink(r.Context(), r.act(), id, secret()); err != nil {
		return err
	}
	return r.see(fmt.Sprintf("/farms/%d?done=link#link", id))
}

func (s *site) linkWithdraw(r *request) error {
	farm, err := r.id("id")
	if err != nil {
		return err
	}
	link, err := r.id("link")
	if err != nil {
		return err
	}
	if err := s.Books.WithdrawLink(r.Context(), r.act(), link); err != nil {
		return err
	}
	return r.see(fmt.Sprintf("/farms/%d?done=withdrew#link", farm))
}
