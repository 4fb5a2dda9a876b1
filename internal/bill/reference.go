package bill

import (
	"cmp"
	"strings"
)

// referenceLetters are the characters that a check character is reckoned over and stands
// for, by their values.
const referenceLetters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// PaymentReference is what a payer quotes: an invoice's number and a check character,
// "T2026-0001-…". It is made of A to Z, 0 to 9 and hyphens, and has at most 18 of them, the
// room that a direct-entry file has.
func PaymentReference(number string) string {
	return number + "-" + string(checkCharacter(number))
}

// PayReference is the reference under which a paper is paid, the same wherever it stands:
// its own, or its number where it was issued without one.
func (p Paper) PayReference() string { return cmp.Or(p.Reference, p.Number) }

// ReferenceHolds tells whether the last character of a reference is the check of those
// before it, however it was spaced.
func ReferenceHolds(reference string) bool {
	bare := bareReference(reference)
	return len(bare) > 1 && checkCharacter(bare[:len(bare)-1]) == bare[len(bare)-1]
}

// bareReference leaves the letters and digits of a reference.
func bareReference(text string) string {
	return strings.Map(func(c rune) rune {
		if strings.ContainsRune(referenceLetters, c) {
			return c
		}
		return -1
	}, strings.ToUpper(text))
}

// checkCharacter is the check of ISO 7064, MOD 37,36: it finds every single wrong
// character and nearly every swap of two neighbours. What is no letter or digit is passed
// over.
func checkCharacter(text string) byte {
	const m = len(referenceLetters)
	p := m
	for _, c := range bareReference(text) {
		s := (p + strings.IndexRune(referenceLetters, c)) % m
		if s == 0 {
			s = m
		}
		p = s * 2 % (m + 1)
	}
	return referenceLetters[(m+1-p)%m]
}
