package bill

import (
	"slices"
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Statement is what an account did in a span of days: its balance before, every paper and
// payment in the order of their days, the balance after, and what of that is how old.
type Statement struct {
	From, To unit.Date
	Opening  money.Cents
	Lines    []StatementLine
	Closing  money.Cents
	Ages     Ageing
	Credit   money.Cents // stands against no invoice; not in Ages
}

// StatementLine is one paper or payment with the balance after it.
type StatementLine struct {
	On        unit.Date
	What      string // "tax invoice T2026-0001", "payment, transfer"
	Reference string // that the payer quotes, or wrote
	DueOn     unit.Date
	Amount    money.Cents // above 0 what is billed, below 0 what is paid or credited
	Balance   money.Cents
}

// StatementFor draws up a statement from one day to another, both in it. A span that ends
// before it begins is refused ("to").
func (a Account) StatementFor(from, to unit.Date) (Statement, error) {
	if from > to {
		return Statement{}, fault.Refuse("to", "the statement begins on %s, enter that day or a later one as its last", from)
	}
	then := a.Until(to)
	s := Statement{From: from, To: to, Opening: a.Until(from.Plus(-1)).Balance(), Closing: then.Balance(), Ages: then.AgeingOf(to), Credit: then.Credit()}
	for _, p := range then.Papers {
		if p.IssuedOn >= from {
			s.Lines = append(s.Lines, StatementLine{On: p.IssuedOn, What: strings.ToLower(p.Heading()) + " " + p.Number,
				Reference: p.PayReference(), DueOn: p.UntilOn, Amount: p.Total})
		}
	}
	for _, p := range then.Payments {
		if p.PaidOn >= from {
			s.Lines = append(s.Lines, StatementLine{On: p.PaidOn, What: string(p.Kind) + ", " + p.Way, Reference: p.Reference, Amount: -p.Amount})
		}
	}
	slices.SortStableFunc(s.Lines, func(x, y StatementLine) int { return strings.Compare(string(x.On), string(y.On)) })
	balance := s.Opening
	for i := range s.Lines {
		balance += s.Lines[i].Amount
		s.Lines[i].Balance = balance
	}
	return s, nil
}

// NotAnInvoice stands on every statement.
const NotAnInvoice = "This statement is not a tax invoice."
