package bill

import (
	"strings"

	"rowtally/internal/fault"
)

// CheckABN reads a business number as typed, with or without spaces, and gives its eleven
// digits. One that fails the check is refused with why.
func CheckABN(typed string) (digits string, err error) {
	number, err := CheckNumber(NumberIn{Scheme: "abn", Number: typed})
	if err != nil {
		return "", err
	}
	if !number.Valid {
		return "", fault.Refuse("abn", "%s", number.Why)
	}
	return strings.ReplaceAll(number.Formatted, " ", ""), nil
}

// FormatABN prints eleven digits as NN NNN NNN NNN; anything else as it is.
func FormatABN(digits string) string {
	if len(digits) != 11 {
		return digits
	}
	return numberSchemes["abn"].grouped(digits)
}
