package site

import (
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/job"
)

type statementPage struct {
	Frame
	Up  string // page of the account that it states; the farmer's own for a farmer
	PDF string
	job.StatementSheet
	Head     string
	First    Field
	Last     Field
	Kinds    [5]string
	Shown    bool
	Disclaim string
}

// statement shows a farm's statement over the days asked for: a year back where none are.
func (s *site) statement(r *request) error {
	l, err := s.ledger(r)
	if err != nil {
		return err
	}
	return r.showStatement(l, statementPage{Frame: r.frame("accounts", "Statement for "+l.Farm.Name), Up: accountPath(l.Farm.ID),
		PDF: fmt.Sprintf("/farms/%d/statement.pdf", l.Farm.ID)})
}

// farmerStatement is the same statement by the farm's link.
func (s *site) farmerStatement(r *request) error {
	l, err := s.farmerLedger(r)
	if err != nil {
		return err
	}
	up := "/farm/" + r.Params("token")
	return r.showStatement(l, statementPage{Frame: r.farmerFrame("Account of " + l.Farm.Name), Up: up, PDF: up + "/account.pdf"})
}

// farmerLedger reads the account of the farm whose link is asked.
func (s *site) farmerLedger(r *request) (job.Ledger, error) {
	farm, err := s.Books.FarmByToken(r.Context(), r.Params("token"))
	if err != nil {
		return job.Ledger{}, err
	}
	return s.ledgerOf(r, farm.ID)
}

func (r *request) showStatement(l job.Ledger, page statementPage) error {
	f, sheet, err := r.statementOf(l)
	if err != nil {
		return err
	}
	page.StatementSheet, page.Kinds = sheet, bill.Ages
	page.First, page.Last, page.Shown, page.Head, page.Disclaim =
		f.field(Field{Name: "from", Label: "From", Kind: "date", Required: true}), f.field(Field{Name: "to", Label: "To", Kind: "date", Required: true}),
		f.ok(), f.head(), bill.NotAnInvoice
	if !f.ok() {
		r.Status(422)
	}
	return r.show("statement", page)
}

// statementPDF prints the same statement.
func (s *site) statementPDF(r *request) error {
	l, err := s.ledger(r)
	if err != nil {
		return err
	}
	return s.sendStatement(r, l)
}

// farmerStatementPDF prints it for the farmer.
func (s *site) farmerStatementPDF(r *request) error {
	l, err := s.farmerLedger(r)
	if err != nil {
		return err
	}
	return s.sendStatement(r, l)
}

func (s *site) sendStatement(r *request, l job.Ledger) error {
	f, sheet, err := r.statementOf(l)
	if err != nil {
		return err
	}
	if !f.ok() {
		return noPage()
	}
	pdf, err := s.Press.Statement(sheet)
	if err != nil {
		return err
	}
	return r.sendPDF("statement "+l.Farm.Name+" "+string(sheet.To)+".pdf", pdf)
}

// statementOf reads which days are asked for, and draws the statement up.
func (r *request) statementOf(l job.Ledger) (*form, job.StatementSheet, error) {
	f := blank(map[string]string{"from": r.Query("from", string(r.today().PlusMonths(-12))), "to": r.Query("to", string(r.today()))})
	from, to := f.day("from", true), f.day("to", true)
	if to > r.today() {
		f.refuse("to", "%s is still to come: a statement ends today or before.", to)
	}
	if !f.ok() {
		return f, job.StatementSheet{}, nil
	}
	sheet, err := job.StatementOf(l, r.business, from, to, r.today())
	return f, sheet, f.take(err)
}
