package job

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
)

// Alternative is one of several in which a job is offered before a yes. A is the job as it
// stands: it has a name and nothing else. What another does not hold is as in A.
type Alternative struct {
	JobID  int64
	Letter string // one of bill.Letters
	Name   string // as the farmer reads it, "wider alleys"
	Layout *Layout
	Recipe *Recipe
	Rates  []bill.Rate
}

// Own tells whether it is the job's own alternative.
func (w Alternative) Own() bool { return w.Letter == bill.Letters[0] }

// Titled is its letter and name, "B, wider alleys".
func (w Alternative) Titled() string { return w.Letter + ", " + w.Name }

// AlternativeOf finds one of the alternatives in which the job is offered.
func (f Facts) AlternativeOf(letter string) (Alternative, bool) {
	i := slices.IndexFunc(f.Alternatives, func(w Alternative) bool { return w.Letter == letter })
	if i < 0 {
		return Alternative{}, false
	}
	return f.Alternatives[i], true
}

// By are the facts of the job as if one of its alternatives were done and no other offered: its
// layout, mix and rates in the place of the job's own. Everything that follows is worked out
// from them as for any job.
func (f Facts) By(w Alternative) Facts {
	f.Alternatives = nil
	if w.Layout != nil {
		f.Layout = w.Layout
	}
	if w.Rates != nil {
		f.Rates = w.Rates
	}
	if w.Recipe != nil {
		f.Recipe, f.Sower = w.Recipe, nil
		if sower, named := f.Yard.Machine(w.Recipe.SowerID); named {
			f.Sower = &sower
		}
	}
	return f
}

// settled is an alternative with all that it rests on, whether its own or as in A.
func (f Facts) settled(w Alternative) Alternative {
	by := f.By(w)
	w.Layout, w.Recipe, w.Rates = by.Layout, by.Recipe, by.Rates
	return w
}

// ReadSettings reads the settings of a quote's alternative: what the yes to it makes the job's own.
func ReadSettings(w bill.Alternative) (out Alternative, err error) {
	if err = json.Unmarshal([]byte(w.Settings), &out); err != nil {
		err = fmt.Errorf("read the settings of alternative %s: %w", w.Letter, err)
	}
	return out, err
}

// Taking are the facts as a yes to a quote makes them: in the alternative that it names, as quoted. A
// yes to the job's own alternative, or to a quote that offers one alone, leaves them as they are.
func (f Facts) Taking(quote bill.Paper, yes bill.Acceptance) (Facts, error) {
	for _, w := range quote.Alternatives {
		if w.Letter != yes.Alternative || w.Own() {
			continue
		}
		settings, err := ReadSettings(w)
		return f.By(settings), err
	}
	return f, nil
}

// addAlternatives puts the alternatives in which the job is offered on its quote. It refuses
// one that cannot be offered by itself, and one that nobody could tell from another.
func (f Facts) addAlternatives(p *bill.Paper) error {
	for _, w := range f.Alternatives {
		one := f.described(w)
		if !w.Own() {
			if err := f.freezeAlternative(&one, w); err != nil {
				return err
			}
		}
		p.Alternatives = append(p.Alternatives, one)
	}
	p.Particulars = append([]bill.Particular{{Heading: "Alternatives", Text: alternativesSay(*p)}}, p.Particulars...)
	return f.refuseTwins(*p)
}

// freezeAlternative puts the offer of an alternative on a quote, with what it rests on and what
// it is planned to cost.
func (f Facts) freezeAlternative(one *bill.Alternative, w Alternative) error {
	draft, err := f.By(w).offer(bill.Quote)
	if fault.KindOf(err) != fault.Internal {
		err = fault.Conflict("%s: %s", w.Titled(), err)
	}
	if err != nil {
		return err
	}
	one.Offered = bill.OfferOf(draft)
	settings, err := json.Marshal(f.settled(w))
	if err != nil {
		return err
	}
	one.Settings = string(settings)
	cost, err := CostOf(f.By(w))
	if err != nil {
		return unlessTold(err) // an alternative without a cost yet has none to keep
	}
	text, err := json.Marshal(cost)
	one.Cost = string(text)
	return err
}

// unlessTold is an error that nobody can mend at a form; nil for a refusal.
func unlessTold(err error) error {
	if fault.KindOf(err) == fault.Internal {
		return err
	}
	return nil
}

// described is an alternative with the figures by which they are compared, and how it differs
// from A.
func (f Facts) described(w Alternative) bill.Alternative {
	one := bill.Alternative{Letter: w.Letter, Name: w.Name, GrossHa: f.GrossM2() / 1e4}
	rows, by := "", f.By(w)
	if laid, err := by.Rows(); err == nil {
		one.Placements, one.AlleyHa, rows = int64(laid.Placements), laid.AlleyHa, laid.Says()
	}
	if !w.Own() && w.Layout == nil {
		rows = "Rows as in A."
	}
	for _, says := range []string{by.seedOf(w), w.pricesSay()} {
		rows = strings.TrimSpace(joinSentences(rows, says))
	}
	one.Says = rows
	return one
}

// AlternativeView is an alternative of a job as it would be offered now, or why it cannot be.
type AlternativeView struct {
	Alternative
	Offer  bill.AlternativePaper // its paper is empty where it cannot be offered
	Cannot string
}

// AlternativeViews are the job's alternatives as they would be offered now.
func (f Facts) AlternativeViews() (views []AlternativeView, err error) {
	for _, w := range f.Alternatives {
		view := AlternativeView{Alternative: w, Offer: bill.AlternativePaper{Alternative: f.described(w)}}
		view.Offer.Paper, err = f.By(w).offer(bill.Quote)
		if unlessTold(err) != nil {
			return nil, err
		}
		if err != nil {
			view.Cannot, view.Offer.Paper = err.Error(), bill.Paper{Currency: f.Business.Currency, Registered: f.Business.TaxedOn(f.Today), TaxLabel: f.Business.TaxLabel}
		}
		views = append(views, view)
	}
	return views, nil
}

// seedOf names the species of an alternative's mix.
func (f Facts) seedOf(w Alternative) string {
	if f.Recipe == nil {
		return ""
	}
	if !w.Own() && w.Recipe == nil {
		return "Seed as in A."
	}
	var names []string
	for _, lot := range f.RecipeLots() {
		if !slices.Contains(names, lot.CommonName) {
			names = append(names, lot.CommonName)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Seed of " + listed(names) + "."
}

func (w Alternative) pricesSay() string {
	switch {
	case w.Own():
		return ""
	case w.Rates == nil:
		return "Prices as in A."
	}
	return "Prices of its own."
}

// alternativesSay states on a quote what a yes to one of several alternatives means.
func alternativesSay(quote bill.Paper) string {
	titles := quote.Titles()
	return fmt.Sprintf("This quote offers %s alternatives: %s. One of them is done, the one that your yes names, at its own total; the totals do not add up. What is stated here is stated of A, and of the others where they do not say otherwise.",
		[]string{"no", "one", "two", "three"}[len(titles)], strings.Join(titles, "; "))
}

// refuseTwins refuses a quote with an alternative that changes nothing, and two of one name.
func (f Facts) refuseTwins(p bill.Paper) error {
	for i, w := range f.Alternatives {
		if !w.Own() && w.Layout == nil && w.Recipe == nil && w.Rates == nil {
			return fault.Conflict("%s has no rows, mix or prices of its own yet, so it is the same as A. Change one of them, or take the alternative off.", w.Titled())
		}
		for _, earlier := range f.Alternatives[:i] {
			if strings.EqualFold(earlier.Name, w.Name) {
				return fault.Conflict("%s and %s have the same name: give one of them another, so that the farmer can tell them apart.", earlier.Letter, w.Letter)
			}
		}
	}
	return nil
}

// Alterable tells why no alternatives of the job may be offered any more: its work has begun.
// It is nil while they may.
func (f Facts) Alterable() error {
	switch {
	case f.Job.DeclinedOn != "":
		return fault.Conflict("This job was declined, so no alternatives of it are offered.")
	case len(f.Tubs) > 0 || f.Sown != nil || len(f.DrillLoads) > 0 || len(f.DaySheets) > 0:
		return fault.Conflict("Work on this job has begun as agreed, so no alternatives are offered any more. Make a variation instead.")
	case f.Billable() == nil && len(f.Invoices()) > 0:
		return fault.Conflict("A part of this job is billed as agreed, so no alternatives are offered any more. Make a variation instead.")
	}
	return nil
}

// inAlternative names the alternative of an agreed quote, for the middle of a sentence; "" where it offered one.
func inAlternative(agreed bill.Paper) string {
	if agreed.Alternative == "" {
		return ""
	}
	return " (alternative " + agreed.Alternative + ")"
}

// offersSay states the totals of a quote's alternatives; "" where it offers none.
func offersSay(quote bill.Paper, b Business) string {
	var totals []string
	for _, one := range quote.Apart() {
		totals = append(totals, one.Titled()+" at "+b.Money(one.Paper.Total))
	}
	if len(totals) == 0 {
		return ""
	}
	return "It offers " + strings.Join(totals, "; ") + "."
}

// alternativeDoubts says what of the alternatives of a quote that waits for its yes no longer holds.
func (f Facts) alternativeDoubts(quote bill.Paper) (doubts []string) {
	if !sameAlternatives(quote.Alternatives, f.Alternatives) {
		return []string{"The alternatives of the job have changed since this quote was issued."}
	}
	for _, one := range quote.Apart() {
		w, _ := f.AlternativeOf(one.Letter)
		for _, says := range f.By(w).Doubts(one.Paper) {
			doubts = append(doubts, one.Letter+": "+says)
		}
	}
	return doubts
}

// sameAlternatives tells whether a quote offers the alternatives in which the job is offered now, by name.
func sameAlternatives(quoted []bill.Alternative, now []Alternative) bool {
	return slices.EqualFunc(quoted, now, func(q bill.Alternative, w Alternative) bool { return q.Letter == w.Letter && q.Name == w.Name })
}

// plannedCost is what an agreed alternative was planned to cost; ok is false for the job's own, whose
// plan is kept with its quote, and where no cost was known.
func (f Facts) plannedCost(yes bill.Acceptance) (plan Cost, ok bool) {
	for _, p := range f.Papers {
		if p.ID != yes.PaperID {
			continue
		}
		for _, w := range p.Alternatives {
			if w.Letter == yes.Alternative && w.Cost != "" {
				return plan, json.Unmarshal([]byte(w.Cost), &plan) == nil
			}
		}
	}
	return plan, false
}

// asAgreed is a paper in the alternative that the yes to it names; as it stands where none does.
func (f Facts) asAgreed(p bill.Paper) bill.Paper {
	for _, yes := range f.Acceptances {
		if in, err := p.By(yes.Alternative); yes.PaperID == p.ID && err == nil {
			return in
		}
	}
	return p
}
