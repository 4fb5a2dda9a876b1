package job

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"rowtally/internal/fault"
	"rowtally/internal/mix"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// errNotYet stands for a figure that earlier links do not give yet.
var errNotYet = fault.Conflict("An earlier link comes first.")

// Money writes an amount of the business's currency for a person.
func (b Business) Money(c money.Cents) string {
	switch b.Currency {
	case "", "AUD", "NZD", "USD", "CAD":
		if c < 0 {
			return "−$" + (-c).Shown()
		}
		return "$" + c.Shown()
	}
	return b.Currency + " " + c.Shown()
}

// litres writes whole millilitres as litres.
func litres(ml int64) string { return unit.Grouped(float64(ml)/1000, 1) }

// tubsSay writes full tubs and the part tub: "3 + 1".
func tubsSay(batches []mix.Batch, tubL float64) string {
	full := 0
	for _, b := range batches {
		if b.MixL >= tubL*(1-1e-9) {
			full++
		}
	}
	if full == len(batches) {
		return unit.Grouped(float64(full), 0)
	}
	return unit.Grouped(float64(full), 0) + " + 1"
}

// sentenceCase begins a phrase with a capital.
func sentenceCase(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// listed joins words as a sentence does: "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
