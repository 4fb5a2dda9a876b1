package site

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// variationRows is how many lines the form of a variation offers.
const variationRows = 4

type variationPage struct {
	Frame
	Job    job.Job
	Agreed bill.Paper
	Cannot string
	Head   string
	Reason Field
	Rows   []rateRow
	Draft  *bill.Paper // as it would be issued; nil until the form makes one
}

// variation draws up a change to an agreed job; a post shows it, or issues it.
func (s *site) variation(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	page := variationPage{Frame: r.frame("jobs", "A variation of "+facts.Job.Name), Job: facts.Job}
	page.Agreed, _, _ = facts.Agreed()
	f := blank(nil)
	if r.isPost() {
		f = readForm(r)
	}
	rates := variationFrom(f, facts)
	draft, err := job.VariationDraft(facts, f.typed["reason"], rates)
	if fault.KindOf(err) == fault.Clash {
		page.Cannot = sentence(err.Error())
		return r.Status(fiber.StatusConflict).Render("variation", page)
	}
	if !r.isPost() {
		return s.showVariation(r, blank(nil), page)
	}
	if err := f.take(err); err != nil {
		return err
	}
	if !f.ok() {
		return s.showVariation(r, f, page)
	}
	if f.typed["act"] == "issue" {
		return s.issueVariation(r, facts, draft)
	}
	page.Draft = &draft
	return s.showVariation(r, f, page)
}

func (s *site) issueVariation(r *request, facts job.Facts, draft bill.Paper) error {
	issued, is := facts.Issued(bill.Variation, draft)
	if !is {
		var err error
		if issued, err = s.issueOnce(r, draft, facts); err != nil {
			return err
		}
	}
	return r.see(fmt.Sprintf("/papers/%d?done=issued", issued.ID))
}

func (s *site) showVariation(r *request, f *form, page variationPage) error {
	page.Reason = f.field(Field{Name: "reason", Label: "What changes, and why", Kind: "textarea", Required: true, Hint: "It stands on the variation."})
	for i := range variationRows {
		page.Rows = append(page.Rows, drawRate(f, i, r.business))
	}
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("variation", page)
}

// variationFrom reads the lines that say anything. A quantity may be below 0.
func variationFrom(f *form, facts job.Facts) (rates []bill.Rate) {
	for i := range variationRows {
		n := strconv.Itoa(i)
		if f.typed["what_"+n] == "" && f.typed["price_"+n] == "" && f.typed["quantity_"+n] == "" {
			continue
		}
		rate := bill.Rate{
			Position: len(rates) + 1, Description: f.must("what_"+n, "Say what is charged."), Unit: f.oneOf("unit_"+n, rateUnits),
			Basis: bill.Fixed, Quantity: f.signed("quantity_" + n), UnitPrice: f.unitPrice("price_" + n),
		}
		f.taxLine(&rate, n, facts.Business.TaxingOn(facts.Today), facts.Business.TaxLabel)
		rates = append(rates, rate)
	}
	return rates
}

// signed reads a quantity that may take something back.
func (f *form) signed(name string) money.Factor {
	typed := f.typed[name]
	bare := strings.TrimLeft(strings.TrimSpace(typed), "-−")
	f.typed[name] = bare
	quantity := f.price(name, true)
	f.typed[name] = typed
	if bare != typed {
		return money.Factor{}.Minus(quantity)
	}
	return quantity
}
