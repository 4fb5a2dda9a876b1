package bill

import (
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Ages are the steps of an ageing, in calendar days past the due day.
var Ages = [5]string{"not yet due", "1–30", "31–60", "61–90", "over 90"}

// AgeOf is the step of Ages that so many days past due fall in. The due day itself is not
// past it.
func AgeOf(daysPast int) int {
	switch {
	case daysPast <= 0:
		return 0
	case daysPast <= 30:
		return 1
	case daysPast <= 60:
		return 2
	case daysPast <= 90:
		return 3
	}
	return 4
}

// Ageing parts what is owed on a day by how long it is past due. Its sum less the account's
// credit is the account's balance.
type Ageing [5]money.Cents

// AgeingOf ages the open bills of an account on a day.
func (a Account) AgeingOf(on unit.Date) Ageing {
	var ages Ageing
	for _, b := range a.Bills() {
		ages[AgeOf(b.DaysPast(on))] += max(b.Open, 0)
	}
	return ages
}

// Sum is everything owed.
func (g Ageing) Sum() money.Cents {
	var sum money.Cents
	for _, c := range g {
		sum += c
	}
	return sum
}

// PastDue is what is owed beyond its due day.
func (g Ageing) PastDue() money.Cents { return g.Sum() - g[0] }

// Plus adds two ageings step by step.
func (g Ageing) Plus(h Ageing) Ageing {
	for i := range g {
		g[i] += h[i]
	}
	return g
}
