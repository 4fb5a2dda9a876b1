package bill

import (
	"slices"

	"rowtally/internal/money"
)

// Varied is what an invoice calls a line of the variation p.
func (p Paper) Varied(l PaperLine) string { return p.Number + ": " + l.Description }

// Within tells whether a quantity is between nothing and the line's own, which takes
// something back where it is below 0.
func (l PaperLine) Within(quantity money.Factor) bool {
	if l.Quantity.Sign() < 0 {
		return quantity.Sign() <= 0 && quantity.Compare(l.Quantity) >= 0
	}
	return quantity.Sign() >= 0 && quantity.Compare(l.Quantity) <= 0
}

// Overbilled are the numbers of the variations of which an invoice bills a line twice, more
// of it than the variation says, or at another price. variations are those of its job.
func (p Paper) Overbilled(variations []Paper) (numbers []string) {
	for _, v := range variations {
		if !v.holds(p) {
			numbers = append(numbers, v.Number)
		}
	}
	return numbers
}

// holds tells whether what an invoice bills of the variation is within it.
func (p Paper) holds(invoice Paper) bool {
	left := map[string][]PaperLine{}
	for _, l := range p.Lines {
		left[p.Varied(l)] = append(left[p.Varied(l)], l)
	}
	for _, billed := range invoice.Lines {
		lines, of := left[billed.Description]
		if !of {
			continue
		}
		at := slices.IndexFunc(lines, func(l PaperLine) bool {
			return l.Within(billed.Quantity) && l.UnitPrice.Compare(billed.UnitPrice) == 0
		})
		if at < 0 {
			return false
		}
		left[billed.Description] = slices.Delete(slices.Clone(lines), at, at+1)
	}
	return true
}
