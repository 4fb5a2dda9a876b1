package site

import (
	"fmt"
	"strconv"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// claimPage bills a part of a job: what is asked, and the invoice as it would be issued.
type claimPage struct {
	Frame
	Job    job.Job
	Says   string
	Head   string
	Cannot string
	Fields []Field
	Draft  *bill.Paper // nil while something is wrong
	Issue  string      // the button
}

// deposit bills a share of the agreed price before the work.
func (s *site) deposit(r *request) error {
	return s.claimOf(r, claimPage{Frame: r.frame("jobs", "A deposit"), Issue: "Issue the deposit invoice",
		Says: "A share of the agreed price, billed before the work. The later invoices take it off."},
		map[string]string{"percent": "20"},
		func(facts job.Facts) []Field {
			quote, _, _ := facts.Agreed()
			return []Field{{Name: "percent", Label: "Share of the agreed price", Kind: "number", Unit: "%", Required: true, Value: factorOrNone(quote.Conditions.DepositPercent)}}
		},
		func(f *form, facts job.Facts) (bill.Paper, error) {
			percent := f.price("percent", true)
			if !f.ok() {
				return bill.Paper{}, nil
			}
			return job.DepositDraft(facts, percent)
		})
}

// claim bills what is done so far.
func (s *site) claim(r *request) error {
	return s.claimOf(r, claimPage{Frame: r.frame("jobs", "A progress claim"), Issue: "Issue the progress claim",
		Says: "Row-km and other measured lines stand at what they come to up to now. Say of each other line, those of agreed variations among them, how much of it is done; what was billed before is taken off."},
		nil,
		func(facts job.Facts) []Field {
			var fields []Field
			for i, line := range facts.ClaimLines() {
				if !line.Basis.Provisional() {
					fields = append(fields, Field{Name: doneField(i), Label: "Done of “" + line.Description + "”", Kind: "number", Unit: line.Unit, Value: line.Quantity.String(), Required: true})
				}
			}
			return fields
		},
		func(f *form, facts job.Facts) (bill.Paper, error) {
			lines := facts.ClaimLines()
			done := make([]money.Factor, len(lines))
			for i, line := range lines {
				if !line.Basis.Provisional() {
					done[i] = f.doneOf(line, doneField(i))
				}
			}
			if !f.ok() {
				return bill.Paper{}, nil
			}
			paper, err := job.ClaimDraft(facts, done)
			if fault.KindOf(err) == fault.Refused {
				f.heed(err)
				err = nil
			}
			for i := range done {
				f.as(fmt.Sprintf("done[%d]", i), doneField(i))
			}
			return paper, err
		})
}

// doneOf reads how much of a line is done; of one that takes something back, below 0.
func (f *form) doneOf(line bill.PaperLine, name string) money.Factor {
	if line.Quantity.Sign() < 0 {
		return f.signed(name)
	}
	return f.price(name, true)
}

func doneField(line int) string { return "done_" + strconv.Itoa(line) }

// claimOf shows the form with the invoice that it makes; a post shows it anew, or issues it.
func (s *site) claimOf(r *request, page claimPage, begins map[string]string, ask func(job.Facts) []Field, draft func(*form, job.Facts) (bill.Paper, error)) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	page.Job = facts.Job
	if err := facts.Billable(); err != nil {
		return r.cannotClaim(page, err)
	}
	fields := ask(facts)
	f := blank(begins)
	for _, field := range fields {
		if field.Value != "" {
			f.typed[field.Name] = field.Value
		}
	}
	if r.isPost() {
		f = readForm(r)
	}
	paper, err := draft(f, facts)
	if fault.KindOf(err) == fault.Clash && !r.isPost() {
		return r.cannotClaim(page, err)
	}
	if err := f.take(err); err != nil {
		return err
	}
	if f.ok() && f.typed["act"] == "issue" {
		issued, err := s.issue(r, paper)
		if err == nil {
			return r.see(fmt.Sprintf("/papers/%d?done=issued", issued.ID))
		}
		if err := f.take(err); err != nil {
			return err
		}
	}
	if f.ok() {
		page.Draft = &paper
	} else if r.isPost() {
		r.Status(422)
	}
	page.Fields, page.Head = f.fields(fields...), f.head()
	return r.show("claim", page)
}

// cannotClaim says why no part of the job can be billed now.
func (r *request) cannotClaim(page claimPage, why error) error {
	page.Cannot = sentence(why.Error())
	r.Status(fiber.StatusConflict)
	return r.show("claim", page)
}
