// Package working holds a figure together with the steps that it came from, so that
// a page, a paper and calc can show the same working. It refuses to compute: the
// packages of the trade hand it values they have already worked out.
package working

import (
	"encoding/json"

	"rowtally/internal/unit"
)

// Step is one line of a working: what is worked out, how, the value, its unit and,
// where a rule or a table was used, the source.
type Step struct {
	Step    string `json:"step"`
	Formula string `json:"formula"`
	Value   Value  `json:"value"`
	Unit    string `json:"unit"`
	Source  string `json:"source,omitempty"`
}

// Steps is a whole working, in the order of the work.
type Steps []Step

// Add appends one step and returns the longer working.
func (s Steps) Add(step, formula string, value Value, unitName, source string) Steps {
	return append(s, Step{step, formula, value, unitName, source})
}

// Value is a number with the decimals to show, or a text (money, a verdict).
type Value struct {
	number   float64
	decimals int
	text     string
	isText   bool
}

// Number is a measured or computed value, shown with the given decimals.
func Number(v float64, decimals int) Value { return Value{number: v, decimals: decimals} }

// Text is a value that is not a binary number: money, a date, a verdict.
func Text(s string) Value { return Value{text: s, isText: true} }

// String shows the value for a person, thousands set apart.
func (v Value) String() string {
	if v.isText {
		return v.text
	}
	return unit.Grouped(v.number, v.decimals)
}

// MarshalJSON writes a number at full precision, a text as a string.
func (v Value) MarshalJSON() ([]byte, error) {
	if v.isText {
		return json.Marshal(v.text)
	}
	return json.Marshal(v.number)
}

// Shown is a result that can show its working.
type Shown interface{ Working() Steps }
