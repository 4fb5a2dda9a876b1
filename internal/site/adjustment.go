package site

import (
	"fmt"
	"strconv"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

// adjustmentPage shows the invoice's lines with what each should be, and the adjustment note
// as it would be issued.
type adjustmentPage struct {
	Frame
	Job     job.Job
	Invoice bill.Paper
	Head    string
	Cannot  string
	Rows    []adjustedRow
	Reason  Field
	Draft   *bill.Paper // nil while nothing differs, or while something is wrong
}

// adjustedRow is one line of the form.
type adjustedRow struct {
	Line            bill.PaperLine
	Quantity, Price Field
}

// adjustment shows the invoice as it stands, filled with what the log shows; a post shows
// the difference, or issues the note.
func (s *site) adjustment(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	page := adjustmentPage{Frame: r.frame("jobs", "Adjust an invoice"), Job: facts.Job}
	standing, billed := facts.Standing()
	if !billed {
		page.Cannot = "This job has no invoice yet, so there is nothing to adjust."
		r.Status(409)
		return r.show("adjustment", page)
	}
	page.Invoice = standing.Invoice
	f := blank(adjustmentTyped(facts))
	if r.isPost() {
		f = readForm(r)
	}
	note, err := adjustmentFrom(f, facts, standing)
	if err := f.take(err); err != nil {
		return err
	}
	f.asLines(len(standing.Lines))
	if f.ok() && f.typed["act"] == "issue" {
		issued, err := s.issue(r, note)
		if err == nil {
			return r.see(fmt.Sprintf("/papers/%d?done=issued", issued.ID))
		}
		if err := f.take(err); err != nil {
			return err
		}
	}
	if f.ok() {
		page.Draft = &note
	} else if r.isPost() {
		r.Status(422)
	} else {
		f.wrong = map[string]string{} // nothing was asked yet
	}
	return r.show("adjustment", drawAdjustment(f, page, standing))
}

// adjustmentTyped fills the form with the invoice's lines, those by the row-km as measured.
func adjustmentTyped(facts job.Facts) map[string]string {
	lines, reason := facts.MeasuredLines()
	typed := map[string]string{"reason": reason}
	for i, line := range lines {
		n := strconv.Itoa(i)
		typed["quantity_"+n], typed["price_"+n] = line.Quantity.String(), line.UnitPrice.Plain()
	}
	return typed
}

func adjustmentFrom(f *form, facts job.Facts, standing bill.Standing) (bill.Paper, error) {
	lines := append([]bill.PaperLine{}, standing.Lines...)
	for i := range lines {
		if lines[i].TakesOff() {
			continue
		}
		n := strconv.Itoa(i)
		lines[i].Quantity, lines[i].UnitPrice = f.price("quantity_"+n, true), f.price("price_"+n, true)
	}
	if !f.ok() {
		return bill.Paper{}, nil
	}
	return job.AdjustmentDraft(facts, f.text("reason"), lines)
}

// asLines puts refusals of the trade's lines beside the form's own fields.
func (f *form) asLines(count int) {
	for i := range count {
		f.as(fmt.Sprintf("lines[%d].quantity", i), fmt.Sprintf("quantity_%d", i))
		f.as(fmt.Sprintf("lines[%d].unit_price", i), fmt.Sprintf("price_%d", i))
	}
}

func drawAdjustment(f *form, page adjustmentPage, standing bill.Standing) adjustmentPage {
	for i, line := range standing.Lines {
		if line.TakesOff() {
			continue
		}
		n := strconv.Itoa(i)
		page.Rows = append(page.Rows, adjustedRow{line,
			f.field(Field{Name: "quantity_" + n, Label: "Quantity should be", Kind: "number"}),
			f.field(Field{Name: "price_" + n, Label: "Price should be", Kind: "number"})})
	}
	page.Reason = f.field(Field{Name: "reason", Label: "Why", Kind: "textarea", Required: true, Hint: "The note states it."})
	page.Head = f.head()
	return page
}
