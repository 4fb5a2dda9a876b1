package site

import (
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// variationAsked is a variation with the field for the name under its yes.
type variationAsked struct {
	job.VariationView
	Name Field
}

func nameField(paperID int64) string { return fmt.Sprintf("name_%d", paperID) }

// farmerYes keeps the farmer's yes to the quote shown, and holds the stock back; or the yes to
// a variation.
func (s *site) farmerYes(r *request) error {
	_, facts, err := s.farmerOf(r)
	if err != nil {
		return err
	}
	f := readForm(r)
	quote, quoted := facts.Quote()
	if !quoted {
		return noPage()
	}
	const wanted = "Type your name: it stands under the yes."
	if v, is := openVariation(facts, f.typed["quote"]); is {
		return s.keepYes(r, f, facts, bill.Acceptance{PaperID: v.ID, Name: f.must(nameField(v.ID), wanted)}, nil)
	}
	yes := bill.Acceptance{PaperID: quote.ID, Name: f.must("name", wanted)}
	yes.Alternative, yes.Options = chosenFrom(f, quote)
	if f.typed["quote"] != fmt.Sprint(quote.ID) {
		f.refuse("", "The quote has a newer revision, %s. It is shown below: read it before you say yes.", quote.Number)
	}
	claims, err := claimsOf(facts, quote, yes)
	if err != nil {
		return err
	}
	return s.keepYes(r, f, facts, yes, claims)
}

// keepYes keeps a yes with its time and the address that it came from, or shows the page
// again with what is wrong.
func (s *site) keepYes(r *request, f *form, facts job.Facts, yes bill.Acceptance, claims []job.Held) error {
	if f.ok() {
		act := r.farmerAct(facts.Farm, yes.Name)
		yes.AcceptedAt, yes.Address = r.now, r.IP()
		if err := s.Books.AcceptQuote(r.Context(), act, yes, claims); err == nil {
			return r.see(fmt.Sprintf("/farm/%s/jobs/%d?done=agreed", r.Params("token"), facts.Job.ID))
		} else if err := f.take(err); err != nil {
			return err
		}
	}
	return s.showFarmerJob(r, facts, f)
}

// openVariation finds the variation that a yes names.
func openVariation(facts job.Facts, id string) (bill.Paper, bool) {
	for _, v := range facts.Variations() {
		if fmt.Sprint(v.ID) == id {
			return v.Paper, true
		}
	}
	return bill.Paper{}, false
}

// claimsOf are what a yes holds back: what the job takes as the yes makes it. A mix that cannot
// be worked out holds nothing back: that is the contractor's to mend, not the farmer's.
func claimsOf(facts job.Facts, quote bill.Paper, yes bill.Acceptance) ([]job.Held, error) {
	taken, err := facts.Taking(quote, yes)
	if err != nil {
		return nil, err
	}
	claims, err := job.Claims(taken)
	if err != nil && fault.KindOf(err) == fault.Internal {
		return nil, err
	}
	return claims, nil
}

// whichField is where a yes names one of several alternatives; nil where there is one alone.
func whichField(f *form, view job.FarmerView) *Field {
	if view.Quote == nil || !view.CanSay || len(view.Quote.Alternatives) == 0 {
		return nil
	}
	field := f.field(Field{Name: "alternative", Kind: "radio", Label: "Which one you say yes to", Required: true, Options: whichOptions(*view.Quote, view.Seller)})
	return &field
}

// whichOptions are a quote's alternatives to choose from, each with its total.
func whichOptions(quote bill.Paper, seller job.Business) (options []Option) {
	for _, one := range quote.Apart() {
		including := ""
		if quote.Registered {
			including = " including " + quote.TaxLabel
		}
		options = append(options, Option{one.Letter, fmt.Sprintf("%s: %s%s", one.Titled(), seller.Money(one.Paper.Total), including)})
	}
	return options
}

// optionGroup are the optional lines of a quote that waits for its yes, or of one of its
// alternatives.
type optionGroup struct {
	Of     string // "B, wider alleys"; "" where there is one alone
	Fields []Field
}

func optionGroups(f *form, view job.FarmerView) (groups []optionGroup) {
	if view.Quote == nil || !view.CanSay {
		return nil
	}
	for _, p := range eachOf(*view.Quote) {
		group := optionGroup{Of: p.Alternative}
		for _, l := range p.Options() {
			group.Fields = append(group.Fields, f.field(Field{Name: optionField(p, l), Kind: "tick",
				Label: fmt.Sprintf("%s, %s more%s", l.Description, view.Seller.Money(l.Net), exTax(p))}))
		}
		if len(group.Fields) > 0 {
			groups = append(groups, group)
		}
	}
	return groups
}

// eachOf are a quote's alternatives as papers of their own; the quote itself where it offers
// one alone.
func eachOf(quote bill.Paper) []bill.Paper {
	if len(quote.Alternatives) == 0 {
		return []bill.Paper{quote}
	}
	var each []bill.Paper
	for _, one := range quote.Apart() {
		each = append(each, one.Paper)
	}
	return each
}

// optionField names the tick of an optional line: of an alternative with its letter.
func optionField(p bill.Paper, l bill.PaperLine) string {
	if p.Letter() == "" {
		return fmt.Sprintf("option_%d", l.Position)
	}
	return fmt.Sprintf("option_%s_%d", p.Letter(), l.Position)
}

// exTax stands behind the amount of a line.
func exTax(p bill.Paper) string {
	switch {
	case !p.Registered:
		return ""
	case p.Inclusive:
		return " incl. " + p.TaxLabel
	}
	return " ex " + p.TaxLabel
}

// chosenFrom is the alternative that a yes names, and the optional lines of it that are ticked.
// A yes that leaves one of several open is refused beside the choice.
func chosenFrom(f *form, quote bill.Paper) (letter string, options bill.Positions) {
	letter = f.typed["alternative"]
	p, err := quote.By(letter)
	if err != nil {
		f.heed(err)
		return letter, nil
	}
	for _, l := range p.Options() {
		if f.typed[optionField(p, l)] != "" {
			options = append(options, l.Position)
		}
	}
	return letter, options
}
