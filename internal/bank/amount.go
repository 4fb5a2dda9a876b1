package bank

import (
	"regexp"
	"strings"

	"rowtally/internal/money"
)

// The ways in which an amount may be grouped. Three digits behind a single point or comma may
// be thousands or decimals: with a comma they are taken for thousands, as whole numbers are
// grouped in English; with a point they are refused.
var (
	plainAmount  = regexp.MustCompile(`^\d+([.,]\d{1,2}|\.\d{4,})?$`)
	commaGrouped = regexp.MustCompile(`^[1-9]\d{0,2}(,\d{3})+(\.\d{1,2})?$`)
	pointGrouped = regexp.MustCompile(`^[1-9]\d{0,2}((\.\d{3})+,\d{1,2}|(\.\d{3}){2,})$`)
	freeGrouped  = regexp.MustCompile(`^\d{1,3}([ '’\x{a0}\x{2009}\x{202f}]\d{3})+([.,]\d{1,2})?$`)
	currencyCode = regexp.MustCompile(`^[A-Z]{3}\s*|\s*[A-Z]{3}$`)
)

// amountOf reads an amount as banks write it: with a sign before or behind, brackets or DR for
// what went out, a currency's sign or letters, commas, points, spaces or apostrophes between
// thousands, a decimal point or comma. What could mean two amounts is none.
func amountOf(text string) (money.Cents, bool) {
	negative, text := signOf(strings.TrimSpace(text))
	switch {
	case plainAmount.MatchString(text):
		text = strings.ReplaceAll(text, ",", ".")
	case commaGrouped.MatchString(text):
		text = strings.ReplaceAll(text, ",", "")
	case pointGrouped.MatchString(text):
		text = strings.ReplaceAll(strings.ReplaceAll(text, ".", ""), ",", ".")
	case freeGrouped.MatchString(text):
		text = strings.ReplaceAll(strings.NewReplacer(" ", "", "'", "", "’", "", "\u00a0", "", "\u2009", "", "\u202f", "").Replace(text), ",", ".")
	default:
		return 0, false
	}
	f, err := money.ParseFactor(text)
	if err != nil || f.Compare(f.Cents().Factor()) != 0 {
		return 0, false
	}
	amount, err := f.Amount()
	if err != nil {
		return 0, false
	}
	if negative {
		amount = -amount
	}
	return amount, true
}

// signOf takes the sign, the words for the side and the currency off an amount.
func signOf(text string) (negative bool, bare string) {
	for _, mark := range []string{"(", "-", "−", "–", "DR", "Dr"} {
		if strings.Contains(text, mark) {
			negative, text = true, strings.ReplaceAll(text, mark, "")
		}
	}
	text = strings.NewReplacer(")", "", "A$", "", "$", "", "€", "", "£", "", "+", "", "CR", "", "Cr", "").Replace(text)
	return negative, strings.TrimSpace(currencyCode.ReplaceAllString(strings.TrimSpace(text), ""))
}
