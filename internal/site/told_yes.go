package site

import (
	"fmt"
	"time"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// toldBy are the ways in which a farmer says yes without the link.
var toldBy = []Option{{"", "choose"}, {"by phone", "by phone"}, {"in person", "in person"}, {"on the signed paper", "on the signed paper"}, {"in a letter or mail", "in a letter or mail"}}

// toldYes keeps a yes that the farmer told the contractor, to the quote that waits for it. It
// is kept as the farmer's own, and says how it came and who entered it.
func (s *site) toldYes(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	view := job.ViewOf(facts)
	switch {
	case view.Quote == nil:
		return fault.Conflict("No quote of %s is issued yet, so there is nothing to say yes to.", facts.Job.Code)
	case view.Yes != nil:
		return fault.Conflict("%s is agreed already.", view.Quote.Number)
	case !view.CanSay:
		return fault.Conflict("%s", view.WhyNot)
	}
	f := blank(map[string]string{"on": string(r.today())})
	if r.isPost() {
		f = readForm(r)
		yes := toldFrom(f, r, *view.Quote)
		claims, err := claimsOf(facts, *view.Quote, yes)
		if err != nil {
			return err
		}
		if f.ok() {
			err = f.take(s.Books.AcceptQuote(r.Context(), r.act(), yes, claims))
		}
		if err != nil {
			return err
		}
		if f.ok() {
			return r.see(jobPath(facts.Job.ID) + "?done=told#money")
		}
	}
	return r.draw(f, toldPage(f, r, facts, view))
}

// toldFrom reads a yes that was told.
func toldFrom(f *form, r *request, quote bill.Paper) bill.Acceptance {
	yes := bill.Acceptance{PaperID: quote.ID, Name: f.must("name", "Enter who said yes: the name stands under it."), AcceptedAt: r.now}
	yes.Alternative, yes.Options = chosenFrom(f, quote)
	how := f.oneOf("how", toldBy)
	if how == "" {
		f.refuse("how", "Choose how the farmer said it.")
	}
	yes.Address = bill.ToldAddress(how, r.person.Name)
	on := f.past("on", true, r.today())
	if f.ok() && on < quote.IssuedOn {
		f.refuse("on", "%s is before the quote was issued on %s.", on, quote.IssuedOn)
	}
	if on != "" && on != r.today() {
		yes.AcceptedAt = noon(on, r.now)
	}
	return yes
}

// noon is the middle of a day where the business is.
func noon(on unit.Date, now time.Time) time.Time {
	day := on.Time()
	return time.Date(day.Year(), day.Month(), day.Day(), 12, 0, 0, 0, now.Location())
}

func toldPage(f *form, r *request, facts job.Facts, view job.FarmerView) formPage {
	quote := *view.Quote
	lead := fmt.Sprintf("To quote %s, revision %d, of %s. What it says holds as if the farmer had said yes on the farm's own page, where it can be read.", quote.Number, quote.Revision, quote.IssuedOn)
	for _, says := range view.Doubts {
		lead += " " + says
	}
	var fields []Field
	if which := whichField(f, view); which != nil {
		which.Label = "Which one the yes is to"
		fields = append(fields, *which)
	}
	fields = append(fields,
		Field{Name: "name", Label: "Who said yes", Required: true},
		Field{Name: "how", Label: "How it was said", Kind: "select", Options: toldBy, Required: true},
		Field{Name: "on", Label: "On", Kind: "date", Required: true})
	page := formPage{Frame: r.frame("jobs", fmt.Sprintf("A yes told, to %s", quote.Number)), Button: "Keep the yes", Back: jobPath(facts.Job.ID), Lead: lead,
		Groups: []group{{Fields: fields}}}
	for _, options := range optionGroups(f, view) {
		page.Groups = append(page.Groups, group{Heading: "Only if wanted", Lead: options.Of, Fields: options.Fields})
	}
	return page
}
