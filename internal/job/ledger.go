package job

import (
	"fmt"
	"strings"

	"rowtally/internal/bill"
	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// Ledger is a farm with what it was billed and what it paid.
type Ledger struct {
	Farm    Farm
	Account bill.Account
}

// Says answers in one line how a farm's account stands on a day.
func (l Ledger) Says(b Business, today unit.Date) string {
	ages, credit := l.Account.AgeingOf(today), l.Account.Credit()
	switch {
	case len(l.Account.Papers) == 0 && len(l.Account.Payments) == 0:
		return "Nothing is billed yet."
	case ages.Sum() == 0 && credit > 0:
		return fmt.Sprintf("Nothing is owed, and %s of credit stands for the next invoice.", b.Money(credit))
	case ages.Sum() == 0:
		return "Nothing is owed."
	}
	says := fmt.Sprintf("%s owed, ", b.Money(ages.Sum()))
	if past := ages.PastDue(); past > 0 {
		says += fmt.Sprintf("%s of it past due.", b.Money(past))
	} else {
		says += "none of it past due."
	}
	if credit > 0 {
		says += fmt.Sprintf(" %s of credit stands against no invoice yet.", b.Money(credit))
	}
	return says
}

// AccountsSay answers in one line what all farms owe on a day.
func AccountsSay(all []Ledger, b Business, today unit.Date) string {
	var ages bill.Ageing
	farms := 0
	for _, l := range all {
		one := l.Account.AgeingOf(today)
		ages = ages.Plus(one)
		if one.Sum() > 0 {
			farms++
		}
	}
	if farms == 0 {
		return "Nobody owes anything."
	}
	if past := ages.PastDue(); past > 0 {
		return fmt.Sprintf("%s owed by %s, %s of it past due.", b.Money(ages.Sum()), unit.Counted(farms, "farm"), b.Money(past))
	}
	return fmt.Sprintf("%s owed by %s, none of it past due.", b.Money(ages.Sum()), unit.Counted(farms, "farm"))
}

// Reminder is a letter that asks for what is past due, to be copied or printed. It refuses
// where nothing is.
func (l Ledger) Reminder(b Business, today unit.Date) (string, error) {
	var lines []string
	var payTo string
	past := l.Account.AgeingOf(today).PastDue()
	for _, open := range l.Account.Bills() {
		if days := open.DaysPast(today); open.Open > 0 && days > 0 {
			lines = append(lines, fmt.Sprintf("%s of %s, due %s, %s past due: %s. Reference %s",
				open.Invoice.Number, open.Invoice.IssuedOn, open.Invoice.UntilOn, unit.Counted(days, "day"), b.Money(open.Open), open.Invoice.PayReference()))
			payTo = open.Invoice.PayTo
		}
	}
	if len(lines) == 0 {
		return "", fault.Conflict("Nothing of %s is past due, so there is nothing to remind of.", l.Farm.Name)
	}
	greeting := "Good day,"
	if l.Farm.Contact != "" {
		greeting = "To " + l.Farm.Contact + ","
	}
	paragraphs := []string{
		b.Name + "\n" + b.Address,
		l.Farm.Name + "\n" + l.Farm.Address,
		today.String(), greeting,
		fmt.Sprintf("Our books show %s past due:", b.Money(past)),
		strings.Join(lines, "\n"),
		"Please pay to " + strings.ReplaceAll(payTo, "\n", ", ") + ", with the reference above. If it is paid already, or something about it is wrong, please tell us.",
		b.Name + "\n" + b.Phone,
	}
	if credit := l.Account.Credit(); credit > 0 {
		paragraphs[5] += fmt.Sprintf("\n%s of credit stands against no invoice yet and may be set against these.", b.Money(credit))
	}
	return strings.Join(paragraphs, "\n\n"), nil
}
