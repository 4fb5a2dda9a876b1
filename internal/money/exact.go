package money

import "encoding/json"

// Exact is a Factor that JSON may write either way: as a string or as a plain number,
// which is taken digit for digit and never as a float. It serves quantities and
// percentages; prices and amounts are Factors, strings alone.
type Exact struct{ Factor }

// UnmarshalJSON takes "12.5" and 12.5 alike; an exponent is refused. null leaves the
// value as it is.
func (e *Exact) UnmarshalJSON(raw []byte) error {
	var n json.Number
	if len(raw) == 0 || raw[0] == '"' || json.Unmarshal(raw, &n) != nil || n == "" {
		return e.Factor.UnmarshalJSON(raw)
	}
	parsed, err := ParseFactor(n.String())
	if err != nil {
		return err
	}
	e.Factor = parsed
	return nil
}
