package bill

import (
	"fmt"
	"strings"

	"rowtally/internal/fault"
)

// NumberIn is a business number as somebody typed it.
type NumberIn struct {
	Scheme string `json:"scheme"` // "abn" or "acn"
	Number string `json:"number"` // digits, spaces between them allowed
}

// Number tells whether a business number can be right. A number that is right by its
// digits need not be registered: that is looked up in the register.
type Number struct {
	Valid     bool   `json:"valid"`
	Formatted string `json:"formatted"` // "51 824 753 556"; as typed when the digits do not make a number
	Why       string `json:"why,omitempty"`
}

// numberScheme is how the digits of a kind of number are grouped and checked.
type numberScheme struct {
	name   string
	groups []int // digits per group as printed
	wrong  func(digits string) string
}

var numberSchemes = map[string]numberScheme{
	"abn": {"an ABN", []int{2, 3, 3, 3}, wrongABN},
	"acn": {"an ACN", []int{3, 3, 3}, wrongACN},
}

// CheckNumber checks an ABN or ACN by its digits. Only an unknown scheme is refused; a
// wrong number is answered, with the reason.
func CheckNumber(in NumberIn) (Number, error) {
	scheme, known := numberSchemes[in.Scheme]
	if !known {
		return Number{}, fault.Refuse("scheme", "scheme is %q, enter \"abn\" or \"acn\"", in.Scheme)
	}
	digits, ok := digitsOf(in.Number)
	if why := scheme.wrongLength(digits, ok); why != "" {
		return Number{Formatted: strings.TrimSpace(in.Number), Why: why}, nil
	}
	why := scheme.wrong(digits)
	return Number{why == "", scheme.grouped(digits), why}, nil
}

// digitsOf drops the spaces; ok is false when anything but digits remains.
func digitsOf(typed string) (digits string, ok bool) {
	digits = strings.Join(strings.Fields(typed), "")
	return digits, strings.Trim(digits, "0123456789") == ""
}

func (s numberScheme) wrongLength(digits string, ok bool) string {
	long := 0
	for _, n := range s.groups {
		long += n
	}
	switch {
	case !ok:
		return fmt.Sprintf("%s holds digits alone, enter its %d digits", s.name, long)
	case len(digits) == 14 && long == 11:
		return "an ABN has 11 digits and this number has 14: the last three look like a GST branch number, enter the ABN without it"
	case len(digits) != long:
		return fmt.Sprintf("%s has %d digits and this number has %d, enter all of them", s.name, long, len(digits))
	}
	return ""
}

func (s numberScheme) grouped(digits string) string {
	var groups []string
	for _, n := range s.groups {
		groups, digits = append(groups, digits[:n]), digits[n:]
	}
	return strings.Join(groups, " ")
}

// wrongABN gives the reason why eleven digits are no ABN, or "". After the Australian
// Business Register's "Format of the ABN": 1 is taken from the first digit, the digits
// are weighted, and the sum is a multiple of 89. The first two digits are check digits
// from 11 to 99: a leading 10 would pass for 99 by the sum alone.
func wrongABN(digits string) string {
	if digits[:2] < "11" {
		return fmt.Sprintf("an ABN begins with 11 to 99 and this number with %s, look for a mistyped digit", digits[:2])
	}
	sum := weighted(digits, 10, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19) - 10
	if sum%89 != 0 {
		return fmt.Sprintf("the check digits do not agree: the weighted sum is %d, which is no multiple of 89, look for a mistyped or swapped digit", sum)
	}
	return ""
}

// wrongACN gives the reason why nine digits are no ACN, or "": the ninth is the check
// digit, (10 − sum mod 10) mod 10 of the first eight weighted 8 down to 1.
func wrongACN(digits string) string {
	check := (10 - weighted(digits[:8], 8, 7, 6, 5, 4, 3, 2, 1)%10) % 10
	if int(digits[8]-'0') != check {
		return fmt.Sprintf("the check digit is %c where %d would agree with the other eight, look for a mistyped or swapped digit", digits[8], check)
	}
	return ""
}

func weighted(digits string, weights ...int) int {
	sum := 0
	for i, weight := range weights {
		sum += int(digits[i]-'0') * weight
	}
	return sum
}
