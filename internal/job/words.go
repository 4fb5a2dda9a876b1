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
	if c < 0 {
		return "−" + b.sign() + (-c).Shown()
	}
	return b.sign() + c.Shown()
}

// Price writes a price of the business's currency with so many decimals.
func (b Business) Price(f money.Factor, decimals int) string { return b.sign() + f.Fixed(decimals) }

// sign stands before an amount of the business's currency.
func (b Business) sign() string {
	switch b.Currency {
	case "", "AUD", "NZD", "USD", "CAD":
		return "$"
	}
	return b.Currency + " "
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
