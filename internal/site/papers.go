package site

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"github.com/gofiber/fiber/v2"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

// Press prints papers. The same paper gives the same bytes.
type Press interface {
	Quote(bill.Paper) ([]byte, error)
	Estimate(bill.Paper) ([]byte, error)
	Variation(bill.Paper) ([]byte, error)
	Invoice(bill.Paper) ([]byte, error)
	Adjustment(bill.Paper) ([]byte, error)
	Statement(job.StatementSheet) ([]byte, error)
	Mixing(job.MixingSheet) ([]byte, error)
	Labels(job.MixingSheet) ([]byte, error)
	RowMap(job.RowMap) ([]byte, error)
	CountSheet(job.CountSheet) ([]byte, error)
	Sown(job.SownSheet) ([]byte, error)
	Visit(job.VisitSheet) ([]byte, error)
}

// paperBooks is what the paper pages ask of the store.
type paperBooks interface {
	Paper(ctx context.Context, id int64) (bill.Paper, error)
	Papers(ctx context.Context, jobID int64) ([]bill.Paper, error)
	IssuePaper(ctx context.Context, act job.Act, paper bill.Paper) (bill.Paper, error)
	KeepPDF(ctx context.Context, paperID int64, pdf []byte, sha256 string) error
	PDF(ctx context.Context, paperID int64) (pdf []byte, sha256 string, err error)
}

func (s *site) paperRoutes() []route {
	return []route{
		office(get, "/jobs/:id/quote", s.quote),
		office(post, "/jobs/:id/quote", s.quote),
		office(get, "/jobs/:id/invoice", s.invoice),
		office(post, "/jobs/:id/invoice", s.invoice),
		office(get, "/jobs/:id/deposit", s.deposit),
		office(post, "/jobs/:id/deposit", s.deposit),
		office(get, "/jobs/:id/claim", s.claim),
		office(post, "/jobs/:id/claim", s.claim),
		office(get, "/jobs/:id/adjustment", s.adjustment),
		office(post, "/jobs/:id/adjustment", s.adjustment),
		office(get, "/papers/:id", s.paperShow),
		office(get, "/papers/:id/pdf", s.paperPDF),
		office(get, "/papers/:id/ubl.xml", s.ublFile),
		field(get, "/jobs/:id/mixing-sheet.pdf", s.mixingSheet),
		field(get, "/jobs/:id/labels.pdf", s.tubLabels),
		field(get, "/jobs/:id/visit.pdf", s.visitSheet),
	}
}

// paperPage shows a paper as a page: a draft before it is issued, or the paper as issued.
type paperPage struct {
	Frame
	Paper   bill.Paper
	Job     job.Job
	Heading string
	Sums    bill.Totals
	Says    string // what issuing it means
	Cannot  string // why it cannot be issued now
	Sketch  *sketch
	Record  bool     // it rests on a sown record, kept with it
	Marked  string   // what a quote's draft leaves over the planned cost, for the contractor alone
	UBL     string   // what the data file is called; "" where the paper has none
	Lacking []string // what a network would ask for beyond it
}

func (s *site) quote(r *request) error {
	return s.draftOrIssue(r, bill.Quote, job.QuoteDraft, "Issue the quote",
		"Issuing gives the quote its number and freezes it: rates, rows, lots and wording. A later change is a new revision.")
}

func (s *site) estimate(r *request) error {
	return s.draftOrIssue(r, bill.Estimate, job.EstimateDraft, "Issue the estimate",
		"An estimate has a number of its own series. It binds nobody and cannot be agreed to.")
}

func (s *site) invoice(r *request) error {
	return s.draftOrIssue(r, bill.Invoice, job.InvoiceDraft, "Issue the invoice",
		"Issuing gives the invoice its number and freezes it. It cannot be changed afterwards.")
}

// draftOrIssue shows the paper as it would be issued now, and on a post issues it.
// A second press, or a second person with the same draft, is led to the paper as issued.
func (s *site) draftOrIssue(r *request, kind bill.Kind, draft func(job.Facts) (bill.Paper, error), heading, says string) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	paper, err := draft(facts)
	if issued, is := facts.Issued(kind, paper); is && r.isPost() {
		return r.see(fmt.Sprintf("/papers/%d?done=issued", issued.ID))
	}
	page := paperPage{Frame: r.frame("jobs", heading), Paper: paper, Job: facts.Job, Heading: heading, Says: says}
	if err != nil {
		if fault.KindOf(err) == fault.Internal {
			return err
		}
		page.Cannot = sentence(err.Error())
		return r.Status(fiber.StatusConflict).Render("paper_draft", page)
	}
	if r.isPost() {
		issued, err := s.issueOnce(r, paper, facts)
		if err != nil {
			return err
		}
		if err := s.freezePlan(r, facts, issued); err != nil {
			return err
		}
		return r.see(fmt.Sprintf("/papers/%d?done=issued", issued.ID))
	}
	page.Sketch = sketchOfText(paper.Map, acrossPage)
	if kind.Offer() {
		page.Marked = markedSays(facts, kind)
	}
	return r.show("paper_draft", page)
}

// issueOnce issues a paper that somebody else may be issuing at this moment: who has read the
// same books and says the same is given the same paper.
func (s *site) issueOnce(r *request, paper bill.Paper, facts job.Facts) (bill.Paper, error) {
	after := int64(0)
	if n := len(facts.Papers); n > 0 {
		after = facts.Papers[n-1].ID
	}
	act := r.act()
	said := sha256.Sum256([]byte(paper.Says()))
	act.Key = fmt.Sprintf("%s after %d %x", r.Path(), after, said)
	return s.issueAs(r, act, paper)
}

// issue numbers and freezes the paper in one transaction, then prints it and keeps the
// bytes. Should the printing be cut off, the frozen paper prints the same bytes later.
func (s *site) issue(r *request, paper bill.Paper) (bill.Paper, error) {
	return s.issueAs(r, r.act(), paper)
}

func (s *site) issueAs(r *request, act job.Act, paper bill.Paper) (bill.Paper, error) {
	issued, err := s.freeze(r.Context(), act, paper)
	if err != nil {
		return issued, err
	}
	_, err = s.print(r.Context(), issued)
	return issued, err
}

// freeze gives the paper its number, its moment and who issued it, in one transaction.
func (s *site) freeze(ctx context.Context, act job.Act, paper bill.Paper) (bill.Paper, error) {
	paper.IssuedAt, paper.PersonID, paper.PersonName = act.Now, act.PersonID, act.Who
	return s.Books.IssuePaper(ctx, act, paper)
}

// print gives a paper's bytes as issued, printing and keeping them the first time.
func (s *site) print(ctx context.Context, paper bill.Paper) ([]byte, error) {
	if paper.SHA256 != "" {
		pdf, _, err := s.Books.PDF(ctx, paper.ID)
		return pdf, err
	}
	printer, err := s.printer(paper.Kind)
	if err != nil {
		return nil, err
	}
	pdf, err := printer(paper)
	if err != nil {
		return nil, fmt.Errorf("print %s: %w", paper.Number, err)
	}
	sum := sha256.Sum256(pdf)
	return pdf, s.Books.KeepPDF(ctx, paper.ID, pdf, hex.EncodeToString(sum[:]))
}

// printer is the press's way of printing a kind of paper.
func (s *site) printer(kind bill.Kind) (func(bill.Paper) ([]byte, error), error) {
	switch kind {
	case bill.Quote:
		return s.Press.Quote, nil
	case bill.Estimate:
		return s.Press.Estimate, nil
	case bill.Variation:
		return s.Press.Variation, nil
	case bill.Invoice:
		return s.Press.Invoice, nil
	case bill.Adjustment:
		return s.Press.Adjustment, nil
	}
	return nil, fault.Miss("there is no paper of this kind")
}

func (s *site) paperShow(r *request) error {
	paper, err := s.paperOf(r)
	if err != nil {
		return err
	}
	page := paperPage{Frame: r.frame("accounts", paperTitle(paper)), Paper: paper, Sketch: sketchOfText(paper.Map, acrossPage)}
	if page.Job, err = s.Books.Job(r.Context(), paper.JobID); err != nil {
		return err
	}
	if page.Record, err = s.restsOnRecord(r, paper.ID); err != nil {
		return err
	}
	if !paper.Kind.Offer() {
		page.UBL, page.Lacking = bill.UBLLabel, bill.UBLMissing(paper)
	}
	return r.show("paper", page)
}

func (s *site) paperPDF(r *request) error {
	paper, err := s.paperOf(r)
	if err != nil {
		return err
	}
	return s.sendPaper(r, paper)
}

func (s *site) paperOf(r *request) (bill.Paper, error) {
	id, err := r.id("id")
	if err != nil {
		return bill.Paper{}, err
	}
	return s.Books.Paper(r.Context(), id)
}

func (s *site) sendPaper(r *request, paper bill.Paper) error {
	pdf, err := s.print(r.Context(), paper)
	if err != nil {
		return err
	}
	return r.sendPDF(paper.Number+".pdf", pdf)
}

func (r *request) sendPDF(name string, pdf []byte) error {
	r.Set(fiber.HeaderContentType, "application/pdf")
	r.Set(fiber.HeaderContentDisposition, fmt.Sprintf("inline; filename=%q", name))
	return r.Send(pdf)
}

func paperTitle(p bill.Paper) string { return p.Called() + " " + p.Number }

// mixingSheet prints the operator's paper of a job as it stands now.
func (s *site) mixingSheet(r *request) error { return s.sendSheet(r, "mixing sheet", s.Press.Mixing) }

// tubLabels prints a label for each tub still to be mixed.
func (s *site) tubLabels(r *request) error { return s.sendSheet(r, "tub labels", s.Press.Labels) }

// sendSheet prints a job's mixing sheet as it stands now, as one paper or another.
func (s *site) sendSheet(r *request, name string, print func(job.MixingSheet) ([]byte, error)) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	sheet, err := job.MixingSheetOf(facts)
	if err != nil {
		return err
	}
	pdf, err := print(sheet)
	if err != nil {
		return err
	}
	return r.sendPDF(facts.Job.Code+" "+name+".pdf", pdf)
}
