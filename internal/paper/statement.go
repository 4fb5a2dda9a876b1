package paper

import (
	"fmt"

	"rowtally/internal/bill"
	"rowtally/internal/job"
	"rowtally/internal/money"
)

// The columns of a statement's lines.
const (
	entryXMM     = leftMM + 24
	entryWMM     = 69.0
	referenceXMM = leftMM + 94
	referenceWMM = 25.0
	amountEndMM  = leftMM + 142
)

// Statement prints the statement of a farm's account. It is no tax invoice and says so.
func (pr *Press) Statement(s job.StatementSheet) ([]byte, error) {
	h := letterhead{name: s.Issuer.Name, address: issuerLines(s.Issuer), title: "Statement",
		number: fmt.Sprintf("%s to %s", s.From, s.To), marks: []string{bill.NotAnInvoice}}
	d := document{press: pr, title: "Statement for " + s.Farm.Name, author: s.Issuer.Name, made: s.To.Time(),
		top: pr.topOf(h), running: pr.runningOf(h), foot: joined(" · ", s.Issuer.Name, "statement for "+s.Farm.Name)}
	d.add(pr.addressee(s.Farm), gap(5), pr.section("The account", false))
	d.add(pr.statementLines(s)...)
	d.add(gap(4), pr.ageStrip(s), gap(3))
	d.add(pr.told("To know", statementNotes(s))...)
	return d.print()
}

// addressee is whom a paper without a job is for.
func (pr *Press) addressee(farm bill.Party) piece {
	var c column
	c.put(pr.strong, farm.Name, entryWMM, 0)
	c.put(pr.text, farm.Address, entryWMM, 0)
	heading := pr.section("For", false)
	return piece{mm: sectionMM + c.mm(), draw: func(p *pen, y float64) {
		heading.draw(p, y)
		c.draw(p, leftMM, y+sectionMM)
	}}
}

func statementNotes(s job.StatementSheet) []bill.Particular {
	notes := []bill.Particular{{Heading: "Age", Text: "Counted in calendar days from each invoice's due day to " + s.To.String() + ". What is owed less the credit is the closing balance."}}
	if s.Credit > 0 {
		notes = append(notes, bill.Particular{Heading: "Credit", Text: s.Credit.Shown() + " was paid and stands against no invoice yet."})
	}
	if s.Closing > 0 && s.PayTo != "" {
		notes = append(notes, bill.Particular{Heading: "To pay", Text: s.PayTo + ". Quote each invoice's reference."})
	}
	return append(notes, bill.Particular{Heading: "Not an invoice", Text: bill.NotAnInvoice})
}

func (pr *Press) statementLines(s job.StatementSheet) []piece {
	heads := piece{mm: 8, glued: true, draw: func(p *pen, y float64) {
		p.write(pr.soft, leftMM, y+4, "day")
		p.write(pr.soft, entryXMM, y+4, "what")
		p.write(pr.soft, referenceXMM, y+4, "reference")
		p.right(pr.soft, amountEndMM, y+4, "amount "+s.Currency)
		p.right(pr.soft, rightMM, y+4, "balance "+s.Currency)
		p.ruled(ink, 0.3)
		p.line(leftMM, y+6, rightMM, y+6)
	}}
	out := []piece{heads, pr.balanceRow(s.From.String(), "opening balance", s.Opening, false)}
	for _, line := range s.Lines {
		row := pr.statementLine(line)
		row.heads = &heads
		out = append(out, row)
	}
	out[len(out)-1].glued = true
	return append(out, pr.balanceRow(s.To.String(), "closing balance", s.Closing, true))
}

func (pr *Press) statementLine(line bill.StatementLine) piece {
	words := line.What
	if line.DueOn != "" {
		words += ", due " + line.DueOn.String()
	}
	what, reference := pr.text.clipped(words, entryWMM, 3), pr.text.clipped(line.Reference, referenceWMM, 3)
	mm := float64(max(len(what), len(reference), 1))*pr.text.leadMM() + 1.6
	return piece{mm: mm, draw: func(p *pen, y float64) {
		p.write(pr.text, leftMM, y+4, line.On.String())
		p.lines(pr.text, entryXMM, y+4, what)
		p.lines(pr.text, referenceXMM, y+4, reference)
		p.right(pr.text.fit(line.Amount.Shown(), figureWMM), amountEndMM, y+4, line.Amount.Shown())
		p.right(pr.text.fit(line.Balance.Shown(), figureWMM), rightMM, y+4, line.Balance.Shown())
		p.ruled(faint, 0.15)
		p.line(leftMM, y+mm, rightMM, y+mm)
	}}
}

func (pr *Press) balanceRow(day, words string, balance money.Cents, closing bool) piece {
	style := pr.text
	if closing {
		style = pr.strong
	}
	return piece{mm: pr.text.leadMM() + 1.6, draw: func(p *pen, y float64) {
		p.write(style, leftMM, y+4, day)
		p.write(style, entryXMM, y+4, words)
		p.right(style.fit(balance.Shown(), figureWMM+8), rightMM, y+4, balance.Shown())
	}}
}

// ageStrip sets what is owed by its age side by side, and the credit apart.
func (pr *Press) ageStrip(s job.StatementSheet) piece {
	const each = (rightMM - leftMM) / 6
	heading := pr.section("Owed on "+s.To.String(), false)
	return piece{mm: sectionMM + 13, draw: func(p *pen, y float64) {
		heading.draw(p, y)
		for i, name := range bill.Ages {
			if i > 0 {
				name += " days past"
			}
			pr.ageCell(p, leftMM+float64(i)*each, y+sectionMM, each, name, s.Ages[i])
		}
		pr.ageCell(p, leftMM+5*each, y+sectionMM, each, "credit", s.Credit)
	}}
}

func (pr *Press) ageCell(p *pen, x, y, wide float64, name string, amount money.Cents) {
	p.ruled(ink, 0.25)
	p.box(x, y, wide, 11)
	p.middle(pr.soft.fit(name, wide-2), x+wide/2, y+4.2, name)
	p.middle(pr.strong.fit(amount.Shown(), wide-2), x+wide/2, y+8.8, amount.Shown())
}
