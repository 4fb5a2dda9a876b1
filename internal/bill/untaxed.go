package bill

import (
	"slices"
	"strings"
	"unicode/utf8"

	"rowtally/internal/fault"
)

// mostReason bounds, in characters, the reason that a line is not taxed.
const mostReason = 200

// CheckTax refuses a line's tax category that is none ("tax_category"), and one that bears no
// tax without a reason for it of up to 200 characters ("tax_reason"): default is that all of
// this trade is taxed, so a line that is not says why.
func (r Rate) CheckTax() error {
	reason := strings.TrimSpace(r.TaxReason)
	switch err := (Taxed{TaxCategory: r.TaxCategory}).check(); {
	case err != nil:
		return err
	case r.TaxCategory == "S" && reason != "":
		return fault.Refuse("tax_reason", "the line is taxed, so it needs no reason why not: leave it empty, or choose how it is not taxed")
	case r.TaxCategory != "S" && reason == "":
		return fault.Refuse("tax_reason", "the line is not taxed: say why, such as the ruling and the day you read it; the paper states it")
	case utf8.RuneCountInString(reason) > mostReason:
		return fault.Refuse("tax_reason", "the reason is %d characters long, shorten it to %d", utf8.RuneCountInString(reason), mostReason)
	}
	return nil
}

// UntaxedAs tells in a word or two how a category bears no tax, by the name of the tax; "" for
// what is taxed.
func UntaxedAs(category, label string) string {
	switch category {
	case "Z":
		return label + "-free"
	case "E":
		return "input taxed, no " + label
	case "O":
		return "outside " + label
	case "G":
		return "export, no " + label
	}
	return ""
}

// Untaxed tells of a line how it bears no tax, with its reason where one is kept; "" for a
// line that is taxed, and on a paper whose issuer charges no tax at all.
func (p Paper) Untaxed(l PaperLine) string {
	as := UntaxedAs(l.TaxCategory, p.TaxLabel)
	switch {
	case as == "" || !p.Registered:
		return ""
	case l.TaxReason == "":
		return as
	}
	return as + ": " + l.TaxReason
}

// mixesOutside tells whether lines outside the tax stand beside others.
func (p Paper) mixesOutside() bool {
	lines := append(p.NowLines(), p.Lines...)
	outside := func(l PaperLine) bool { return l.TaxCategory == "O" }
	return slices.ContainsFunc(lines, outside) && slices.ContainsFunc(lines, func(l PaperLine) bool { return !outside(l) })
}

// both joins two reasons, each said once.
func both(first, second string) string {
	switch {
	case first == "" || second == "":
		return first + second
	case strings.Contains("; "+first+"; ", "; "+second+"; "):
		return first
	}
	return first + "; " + second
}
