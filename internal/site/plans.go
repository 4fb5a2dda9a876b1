package site

import (
	"strconv"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

type plansPage struct {
	Frame
	Job    job.Job
	Sides  []planSide // the kept plan, and the other one; nil while the other one is refused
	Lines  []job.PlanLine
	Apart  []string // figures that one of the two does not hold
	Beside Field
	Groups []group // of a layout typed
	More   bool    // something of their second part is filled
	Head   string
}

// planSide is one plan with its picture.
type planSide struct {
	job.RowPlan
	Sketch *sketch
}

// typedPlan is the choice of a layout typed, instead of a quote's.
const typedPlan = "typed"

// plans sets the rows as kept beside the rows of a quote as it was issued, or beside a layout
// typed. It keeps nothing.
func (s *site) plans(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	kept, err := facts.Rows()
	if err != nil {
		return err
	}
	f := s.plansTyped(r, facts)
	page := plansPage{Job: facts.Job}
	if err := f.take(page.compare(f, facts, kept)); err != nil {
		return err
	}
	page.Frame = r.frame("jobs", "Two plans of "+facts.Job.Name)
	page.Beside = f.field(Field{Name: "beside", Label: "Beside the rows as kept", Kind: "select", Required: true, Options: plansToChoose(facts)})
	page.Groups = f.groups(layoutGroups()...)
	page.Head, page.More = f.head(), f.filled(page.Groups[basicGroups:])
	if !f.ok() {
		r.Status(422)
	}
	return r.show("plans", page)
}

// plansTyped is what the address asks for; at first the newest quote with rows, and the
// layout as kept to be changed.
func (s *site) plansTyped(r *request, facts job.Facts) *form {
	f := readQuery(r)
	if f.typed["beside"] != "" {
		return f
	}
	f = blank(layoutTyped(facts.Layout, surveyed(facts.Paddock)))
	options := plansToChoose(facts)
	f.typed["beside"] = options[len(options)-1].Value
	return f
}

// plansToChoose lists a layout typed, and the quotes with rows in order of their issue.
func plansToChoose(facts job.Facts) []Option {
	options := []Option{{typedPlan, "the layout typed below"}}
	for _, p := range plannedQuotes(facts) {
		label := "quote " + p.Number + " of " + p.IssuedOn.String()
		if p.Alternative != "" {
			label += ", " + p.Alternative
		}
		options = append(options, Option{planOf(p), label})
	}
	return options
}

// plannedQuotes are the quotes with rows in order of their issue, each alternative by itself.
func plannedQuotes(facts job.Facts) (quotes []bill.Paper) {
	for _, p := range facts.Papers {
		if p.Kind != bill.Quote {
			continue
		}
		for _, each := range eachOf(p) {
			if _, err := job.PlanQuoted(each); err == nil {
				quotes = append(quotes, each)
			}
		}
	}
	return quotes
}

// planOf names a quote's plan in the choice: its number in the store, and its alternative.
func planOf(p bill.Paper) string {
	return strconv.FormatInt(p.ID, 10) + p.Letter()
}

// compare fills the page with the two plans.
func (page *plansPage) compare(f *form, facts job.Facts, kept job.Laid) error {
	other, err := otherPlan(f, facts)
	if err != nil || !f.ok() {
		return err
	}
	first := job.PlanLaid("As kept", kept)
	page.Sides = []planSide{sideOf(first), sideOf(other)}
	page.Lines, page.Apart = job.ComparePlans(first, other)
	return nil
}

func otherPlan(f *form, facts job.Facts) (job.RowPlan, error) {
	if f.typed["beside"] == typedPlan {
		layout, err := layoutFrom(f, facts.Job.ID, surveyed(facts.Paddock))
		if err != nil || !f.ok() {
			return job.RowPlan{}, err
		}
		laid, err := job.Lay(facts.Paddock, layout)
		if err != nil {
			return job.RowPlan{}, err
		}
		return job.PlanLaid("As typed", laid), nil
	}
	for _, p := range plannedQuotes(facts) {
		if planOf(p) == f.typed["beside"] {
			return job.PlanQuoted(p)
		}
	}
	return job.RowPlan{}, fault.Refuse("beside", "this job has no such quote, choose one of the list")
}

func sideOf(p job.RowPlan) planSide { return planSide{p, sketchOf(p.Map, acrossPage)} }
