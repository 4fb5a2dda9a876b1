package site

import (
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// termsEdit is the form of what the business's quotes state.
func (s *site) termsEdit(r *request) error {
	terms, err := s.Books.Terms(r.Context(), 0)
	if err != nil {
		return err
	}
	return s.askTerms(r, terms, formPage{
		Frame: r.frame("business", "The terms of quotes"), Button: "Keep the terms", Back: "/business",
		Lead: "Every quote states these unless its job has terms of its own. The wording is yours: have it seen by a lawyer.",
	}, "/terms?done=kept")
}

// jobTerms is the form of what one job's quotes state.
func (s *site) jobTerms(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if r.isPost() && r.FormValue("act") == "drop" {
		if err := s.Books.DropTerms(r.Context(), r.act(), facts.Job.ID); err != nil {
			return err
		}
		return r.see(jobPath(facts.Job.ID) + "?done=kept#money")
	}
	page := formPage{Frame: r.frame("jobs", "Terms of "+facts.Job.Name), Button: "Keep them for this job", Back: jobPath(facts.Job.ID),
		Lead: "This job goes by the business's terms. What is kept here is for this job alone, and stands on its next quote."}
	if facts.Terms.JobID != 0 {
		page.Lead = "This job has terms of its own. They stand on its next quote."
		page.Other = "Go by the business's terms again"
	}
	facts.Terms.JobID = facts.Job.ID
	return s.askTerms(r, facts.Terms, page, jobPath(facts.Job.ID)+"?done=kept#money")
}

func (s *site) askTerms(r *request, terms job.Terms, page formPage, after string) error {
	f := blank(termsTyped(terms))
	if r.isPost() {
		f = readForm(r)
		changed := termsFrom(f)
		changed.JobID = terms.JobID
		if f.ok() {
			if err := s.Books.KeepTerms(r.Context(), r.act(), changed); err == nil {
				return r.see(after)
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	page.Groups = termsGroups(r.business)
	return r.draw(f, page)
}

func termsTyped(t job.Terms) map[string]string {
	return map[string]string{
		"minimum": pricedOrNone(t.MinimumCharge), "guard_low": numberOrNone(t.GuardLowPercent), "guard_high": numberOrNone(t.GuardHighPercent),
		"standby_free": numberOrNone(t.StandbyFreeH), "standby": pricedOrNone(t.StandbyPerH), "extra": pricedOrNone(t.ExtraPerH),
		"deposit": factorOrNone(t.DepositPercent), "work_days": numberOrNone(t.WorkDays),
		"supplies": t.Supplies, "access": t.Access, "weather": t.Weather, "clean_down": t.CleanDown, "newer_test": t.NewerTest,
		"plants": t.Plants, "estimate": t.EstimateRestsOn, "other": t.Other,
	}
}

// pricedOrNone is a price as it is typed, nothing for 0.
func pricedOrNone(f money.Factor) string {
	if f.Sign() == 0 {
		return ""
	}
	return f.Plain()
}

func factorOrNone(f money.Factor) string {
	if f.Sign() == 0 {
		return ""
	}
	return f.String()
}

func termsFrom(f *form) job.Terms {
	t := job.Terms{
		MinimumCharge: f.price("minimum", false), GuardLowPercent: f.maybe("guard_low", 0, 100, 0), GuardHighPercent: f.maybe("guard_high", 100, 1000, 0),
		StandbyFreeH: f.maybe("standby_free", 0, 100, 0), StandbyPerH: f.price("standby", false), ExtraPerH: f.price("extra", false),
		WorkDays: f.maybe("work_days", 0, 365, 0),
		Supplies: f.text("supplies"), Access: f.text("access"), Weather: f.text("weather"), CleanDown: f.text("clean_down"),
		NewerTest: f.text("newer_test"), Plants: f.text("plants"), EstimateRestsOn: f.text("estimate"), Other: f.text("other"),
	}
	if f.typed["deposit"] != "" {
		f.percentFactor("deposit")
		t.DepositPercent = f.price("deposit", true)
	}
	if t.GuardLowPercent > 0 && t.GuardHighPercent == 0 {
		f.refuse("guard_high", "The band has a lower end and no upper one: enter one from 100, or leave both empty.")
	}
	return t
}

func termsGroups(b job.Business) []group {
	ex := b.PricedSays()
	return []group{
		{Heading: "Figures", Fields: []Field{
			{Name: "minimum", Label: "Least charge of a job", Kind: "number", Unit: b.Currency + ex, Hint: "Lines that come to less are brought up to it, on the quote and on the invoice."},
			{Name: "deposit", Label: "Deposit with the yes", Kind: "number", Unit: "% of the total"},
			{Name: "guard_low", Label: "Prices stand from", Kind: "number", Unit: "% of a provisional quantity"},
			{Name: "guard_high", Label: "up to", Kind: "number", Unit: "%", Hint: "Outside the band either side may ask for a new price. Empty for no band."},
			{Name: "standby", Label: "Standby", Kind: "number", Unit: b.Currency + " an hour" + ex, Hint: "Empty where none is charged."},
			{Name: "standby_free", Label: "of it free", Kind: "number", Unit: "h of the job"},
			{Name: "extra", Label: "Other work, machine and operator", Kind: "number", Unit: b.Currency + " an hour" + ex, Hint: "Stumps, rocks, fences, mounding again."},
			{Name: "work_days", Label: "Time at work", Kind: "number", Unit: "days"},
		}},
		{Heading: "Wording", Fields: []Field{
			{Name: "supplies", Label: "Who supplies what", Kind: "textarea"},
			{Name: "access", Label: "What the farmer sees to", Kind: "textarea", Hint: "Gates, stock, weeds and old grass, buried services."},
			{Name: "weather", Label: "Start and weather", Kind: "textarea", Hint: "The job's window stands before it."},
			{Name: "clean_down", Label: "Clean-down", Kind: "textarea"},
			{Name: "newer_test", Label: "What a newer germination test does", Kind: "textarea"},
			{Name: "plants", Label: "What of plants is promised", Kind: "textarea", Hint: "Only what a line prices. Empty: the quote says that nothing is promised."},
			{Name: "estimate", Label: "What an estimate takes for granted", Kind: "textarea"},
			{Name: "other", Label: "Also", Kind: "textarea", Hint: "Prices that rise or fall, how payment is claimed, what your lawyer adds."},
		}},
	}
}
