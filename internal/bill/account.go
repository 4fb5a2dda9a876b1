package bill

import (
	"cmp"
	"slices"
	"strings"

	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Account is what one farm was billed and what it paid: invoices with their adjustment
// notes in the order of issue, payments in the order in which they were entered.
type Account struct {
	Papers   []Paper
	Payments []Payment
}

// OpenBill is an invoice as it stands, with what was paid on it.
type OpenBill struct {
	Standing
	Paid money.Cents
	Open money.Cents // still owed; below 0 where more was paid than it now asks for
}

// DaysPast counts the days since the bill fell due: 0 on its due day, below 0 before it.
func (b OpenBill) DaysPast(on unit.Date) int {
	return cmp.Or(b.Invoice.UntilOn, b.Invoice.IssuedOn).DaysTo(on)
}

// Settled tells whether nothing is owed on it any more.
func (b OpenBill) Settled() bool { return b.Open <= 0 }

// Bills are the invoices, the one that fell due first at the head.
func (a Account) Bills() []OpenBill {
	paid := map[int64]money.Cents{}
	for _, p := range a.Payments {
		for _, one := range p.Placings {
			paid[one.PaperID] += one.Amount
		}
	}
	var bills []OpenBill
	for _, p := range a.Papers {
		if p.Kind == Invoice {
			standing := StandingOf(p, a.Papers)
			bills = append(bills, OpenBill{standing, paid[p.ID], standing.Total - paid[p.ID]})
		}
	}
	slices.SortStableFunc(bills, func(x, y OpenBill) int {
		return strings.Compare(string(x.Invoice.UntilOn), string(y.Invoice.UntilOn))
	})
	return bills
}

// Until is the account as its papers and payments had made it at the end of a day. What was
// paid before its invoice came is credit until then.
func (a Account) Until(day unit.Date) Account {
	var out Account
	known := map[int64]bool{}
	for _, p := range a.Papers {
		if p.IssuedOn <= day {
			out.Papers = append(out.Papers, p)
			known[p.ID] = true
		}
	}
	for _, p := range a.Payments {
		if p.PaidOn > day {
			continue
		}
		p.Placings = slices.DeleteFunc(slices.Clone(p.Placings), func(one Placing) bool { return !known[one.PaperID] })
		out.Payments = append(out.Payments, p)
	}
	return out
}

// Balance is what the farm owes: everything billed and adjusted less everything paid. It is
// below 0 while the farm is in credit.
func (a Account) Balance() money.Cents {
	var sum money.Cents
	for _, p := range a.Papers {
		sum += p.Total
	}
	for _, p := range a.Payments {
		sum -= p.Amount
	}
	return sum
}

// Owed is what the open bills ask for, without any credit.
func (a Account) Owed() money.Cents {
	var sum money.Cents
	for _, b := range a.Bills() {
		sum += max(b.Open, 0)
	}
	return sum
}

// Credit is what was paid and stands against nothing: what was never placed, and what was
// paid on an invoice beyond what it asks for since an adjustment.
func (a Account) Credit() money.Cents {
	var sum money.Cents
	for _, p := range a.Payments {
		sum += p.Amount - p.Placed()
	}
	for _, b := range a.Bills() {
		sum += max(-b.Open, 0)
	}
	return sum
}

// Payment finds one by its number in the store.
func (a Account) Payment(id int64) (Payment, bool) {
	i := slices.IndexFunc(a.Payments, func(p Payment) bool { return p.ID == id })
	if i < 0 {
		return Payment{}, false
	}
	return a.Payments[i], true
}

// ReversedBy finds the row that took a payment back.
func (a Account) ReversedBy(id int64) (Payment, bool) {
	i := slices.IndexFunc(a.Payments, func(p Payment) bool { return p.Kind == Reversed && p.ReversesID == id })
	if i < 0 {
		return Payment{}, false
	}
	return a.Payments[i], true
}
