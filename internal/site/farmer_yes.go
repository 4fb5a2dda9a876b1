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
	yes := bill.Acceptance{PaperID: quote.ID, Name: f.must("name", wanted), Options: optionsFrom(f, quote)}
	if f.typed["quote"] != fmt.Sprint(quote.ID) {
		f.refuse("", "The quote has a newer revision, %s. It is shown below: read it before you say yes.", quote.Number)
	}
	claims, err := job.Claims(facts)
	if err != nil && fault.KindOf(err) == fault.Internal {
		return err
	} // a mix that cannot be worked out holds nothing back: that is the contractor's to mend, not the farmer's
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

// optionFields are the optional lines of a quote that waits for its yes.
func optionFields(f *form, view job.FarmerView) (fields []Field) {
	if view.Quote == nil || !view.CanSay {
		return nil
	}
	for _, l := range view.Quote.Options() {
		fields = append(fields, f.field(Field{Name: optionField(l), Kind: "tick",
			Label: fmt.Sprintf("%s, %s more%s", l.Description, view.Seller.Money(l.Net), exTax(*view.Quote))}))
	}
	return fields
}

func optionField(l bill.PaperLine) string { return fmt.Sprintf("option_%d", l.Position) }

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

// optionsFrom are the optional lines that are ticked.
func optionsFrom(f *form, quote bill.Paper) (options bill.Positions) {
	for _, l := range quote.Options() {
		if f.typed[optionField(l)] != "" {
			options = append(options, l.Position)
		}
	}
	return options
}
