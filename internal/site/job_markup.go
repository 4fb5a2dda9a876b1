package site

import (
	"github.com/gofiber/fiber/v2"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
	"rowtally/internal/working"
)

var priceWays = []Option{{string(job.ByMarkup), "a mark-up, % of the cost"}, {string(job.ByMargin), "a margin, % of the price"}}

type markupPage struct {
	Frame
	Job    job.Job
	Cannot string
	Head   string
	Says   string // what the lines that the job has now leave over their cost; "" where it has none
	Steps  working.Steps
	Fields []Field
	Draft  *bill.Paper // the lines as they would be kept
	Marked string      // what they leave over the cost
}

// jobMarkup builds a job's lines from its planned cost; a post shows them, or keeps them in
// the place of the lines that the job has.
func (s *site) jobMarkup(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	page := markupPage{Frame: r.frame("jobs", "Price of "+facts.Job.Name+" from its cost"), Job: facts.Job}
	page.Says, page.Steps = leftOver(facts)
	f := blank(map[string]string{"way": string(job.ByMarkup)})
	if r.isPost() {
		f = readForm(r)
	}
	if _, err := job.RatesFromCost(facts, job.ByMarkup, money.Factor{}); err != nil {
		if fault.KindOf(err) == fault.Internal {
			return err
		}
		page.Cannot = sentence(err.Error())
		return r.Status(fiber.StatusConflict).Render("markup", page)
	}
	if r.isPost() {
		kept, err := s.keepMarkup(r, f, facts, &page)
		if err != nil || kept {
			return err
		}
	}
	page.Fields = f.fields(
		Field{Name: "way", Label: "Price by", Kind: "select", Options: priceWays, Required: true},
		Field{Name: "percent", Label: "How much", Kind: "number", Unit: "%", Required: true})
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("markup", page)
}

// keepMarkup works the lines out and, where that is asked, keeps them.
func (s *site) keepMarkup(r *request, f *form, facts job.Facts, page *markupPage) (kept bool, err error) {
	way, percent := job.PriceWay(f.oneOf("way", priceWays)), f.price("percent", true)
	if !f.ok() {
		return false, nil
	}
	rates, err := job.RatesFromCost(facts, way, percent)
	if err := f.take(err); err != nil || !f.ok() {
		return false, err
	}
	facts.Rates = rates
	if f.typed["act"] == "keep" {
		if err := s.Books.KeepRates(r.Context(), r.act(), facts.Job.ID, rates); err == nil {
			return true, r.see(jobPath(facts.Job.ID) + "?done=kept#money")
		} else if err := f.take(err); err != nil {
			return false, err
		}
	}
	draft, err := job.QuoteDraft(facts)
	if err := f.take(err); err != nil || !f.ok() {
		return false, err
	}
	page.Draft = &draft
	page.Marked, _ = leftOver(facts)
	return false, nil
}

// leftOver says what a job's lines leave over its planned cost, with the working; "" where
// there is no price or no cost yet.
func leftOver(facts job.Facts) (string, working.Steps) {
	draft, err := job.QuoteDraft(facts)
	if err != nil {
		return "", nil
	}
	marked, err := job.MarkedAt(facts, draft.NetTotal)
	if err != nil {
		return "", nil
	}
	return marked.Says(facts.Business), marked.Working()
}
