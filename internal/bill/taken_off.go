package bill

import (
	"fmt"
	"slices"

	"rowtally/internal/money"
)

// TakenOff are the lines that take off, from a bill of everything done so far, what the
// earlier invoices of the job have billed, each as its adjustment notes leave it: a line for
// each invoice and rate of tax, so that nothing is billed twice and every paper taxes what it
// adds. papers are the job's, in the order of issue.
func TakenOff(papers []Paper) []PaperLine {
	var lines []PaperLine
	for _, p := range papers {
		if p.Kind == Invoice {
			lines = append(lines, StandingOf(p, papers).takenOff()...)
		}
	}
	return lines
}

// takenOff takes an invoice off as it stands.
func (s Standing) takenOff() []PaperLine {
	lines := s.ByRate()
	for i := range lines {
		l := &lines[i]
		l.Description = fmt.Sprintf("Less billed on %s of %s", s.Invoice.Number, s.Invoice.IssuedOn)
		l.Quantity, l.UnitPrice, l.Net, l.LessID = money.Whole(-1), l.Net.Factor(), -l.Net, s.Invoice.ID
	}
	return lines
}

// ByRate sums an invoice as it stands: a line for each category and rate of tax with its
// amount, without those that come to nothing.
func (s Standing) ByRate() []PaperLine {
	var lines []PaperLine
	for _, l := range s.Lines {
		at := slices.IndexFunc(lines, func(x PaperLine) bool {
			return x.TaxCategory == l.TaxCategory && x.TaxPercent.Compare(l.TaxPercent) == 0
		})
		if at < 0 {
			at, lines = len(lines), append(lines, PaperLine{Unit: "each", Basis: Fixed, TaxCategory: l.TaxCategory, TaxPercent: l.TaxPercent})
		}
		lines[at].TaxReason = both(lines[at].TaxReason, l.TaxReason)
		lines[at].Net += l.Net
	}
	return slices.DeleteFunc(lines, func(l PaperLine) bool { return l.Net == 0 })
}

// Takes tells whether the lines take off exactly what the earlier papers of the job have
// billed.
func (p Paper) Takes(earlier []Paper) bool {
	own := slices.DeleteFunc(slices.Clone(p.Lines), func(l PaperLine) bool { return l.LessID == 0 })
	return slices.EqualFunc(own, TakenOff(earlier), func(a, b PaperLine) bool {
		return a.LessID == b.LessID && a.Net == b.Net && a.TaxCategory == b.TaxCategory && a.TaxPercent.Compare(b.TaxPercent) == 0
	})
}

// TakesOff tells whether the line takes off what an earlier invoice billed.
func (l PaperLine) TakesOff() bool { return l.Quantity.Sign() < 0 }
