package site

import (
	"rowtally/internal/bill"
	"rowtally/internal/job"
)

type statementPage struct {
	Frame
	FarmID int64
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
	l, f, sheet, err := s.statementAsked(r)
	if err != nil {
		return err
	}
	page := statementPage{Frame: r.frame("accounts", "Statement for "+l.Farm.Name), FarmID: l.Farm.ID, StatementSheet: sheet, Kinds: bill.Ages,
		First: f.field(Field{Name: "from", Label: "From", Kind: "date", Required: true}), Last: f.field(Field{Name: "to", Label: "To", Kind: "date", Required: true}),
		Shown: f.ok(), Head: f.head(), Disclaim: bill.NotAnInvoice}
	if !f.ok() {
		r.Status(422)
	}
	return r.show("statement", page)
}

// statementPDF prints the same statement.
func (s *site) statementPDF(r *request) error {
	l, f, sheet, err := s.statementAsked(r)
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

// statementAsked reads which farm and which days are asked for, and draws the statement up.
func (s *site) statementAsked(r *request) (job.Ledger, *form, job.StatementSheet, error) {
	l, err := s.ledger(r)
	if err != nil {
		return l, nil, job.StatementSheet{}, err
	}
	f := blank(map[string]string{"from": r.Query("from", string(r.today().PlusMonths(-12))), "to": r.Query("to", string(r.today()))})
	from, to := f.day("from", true), f.day("to", true)
	if to > r.today() {
		f.refuse("to", "%s is still to come: a statement ends today or before.", to)
	}
	if !f.ok() {
		return l, f, job.StatementSheet{}, nil
	}
	sheet, err := job.StatementOf(l, r.business, from, to, r.today())
	return l, f, sheet, f.take(err)
}
