// Package money holds amounts in whole cents and the decimal factors that make them
// (unit prices, quantities, percentages). No float touches either. It refuses to know
// invoices, taxes of a country, or who pays whom.
package money

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"
)

// Cents is an amount in whole cents of the business's currency; negative for credits.
type Cents int64

// String writes the amount as calc and exports do: "4860.70".
func (c Cents) String() string { return decimal.New(int64(c), -2).StringFixed(2) }

// Shown writes the amount for a person: "4,860.70", a minus sign before credits.
func (c Cents) Shown() string {
	s, sign := c.String(), ""
	if strings.HasPrefix(s, "-") {
		s, sign = s[1:], "−"
	}
	whole, cents, _ := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return sign + whole + "." + cents
}

// MarshalJSON writes a decimal string, as calc's contract has it.
func (c Cents) MarshalJSON() ([]byte, error) { return json.Marshal(c.String()) }

// UnmarshalJSON takes a decimal string of whole cents, as MarshalJSON writes it.
func (c *Cents) UnmarshalJSON(raw []byte) error {
	var f Factor
	if err := f.UnmarshalJSON(raw); err != nil {
		return err
	}
	if f.Decimals() > 2 {
		return fmt.Errorf("%s is finer than a cent, enter it as 12.50", f)
	}
	*c = f.Cents()
	return nil
}

// Factor is an exact decimal: a unit price, a quantity that money is multiplied by, a
// percentage. Its zero value is 0. In JSON it is a string ("0.3968"), never a number.
type Factor struct{ d decimal.Decimal }

// ParseFactor reads a plain decimal such as "-12.50": digits, one point, one sign.
func ParseFactor(s string) (Factor, error) {
	plain := strings.TrimSpace(s)
	if len(plain) > 2*mostDigits {
		return Factor{}, tooLong()
	}
	if plain == "" || strings.Trim(plain, "+-.0123456789") != "" {
		return Factor{}, fmt.Errorf("%q is not a decimal number, enter it as 12.50", plain)
	}
	d, err := decimal.NewFromString(plain)
	if err != nil {
		return Factor{}, fmt.Errorf("%q is not a decimal number, enter it as 12.50", plain)
	}
	if len(d.String()) > mostDigits {
		return Factor{}, tooLong()
	}
	return Factor{d}, nil
}

// mostDigits bounds the text of a factor: far beyond any price, short enough to work with.
const mostDigits = 40

func tooLong() error {
	return fmt.Errorf("the decimal number is too long, enter at most %d characters", mostDigits)
}

// MustFactor is ParseFactor for literals in the program text; it panics on a bad one.
func MustFactor(s string) Factor {
	f, err := ParseFactor(s)
	if err != nil {
		panic(err)
	}
	return f
}

// FactorOf is a measured value rounded half away from zero to a count of decimals: the
// one place where a float becomes a factor (row-km, kilograms, hours on a bill).
func FactorOf(v float64, decimals int) Factor {
	return Factor{decimal.NewFromFloat(v).Round(int32(decimals))}
}

// Whole is a whole-number factor.
func Whole(n int64) Factor { return Factor{decimal.NewFromInt(n)} }

// Factor turns an amount into a factor of the same currency unit: 12.50 for 1250 cents.
func (c Cents) Factor() Factor { return Factor{decimal.New(int64(c), -2)} }

func (f Factor) Plus(g Factor) Factor  { return Factor{f.d.Add(g.d)} }
func (f Factor) Minus(g Factor) Factor { return Factor{f.d.Sub(g.d)} }
func (f Factor) Times(g Factor) Factor { return Factor{f.d.Mul(g.d)} }

// Sign is -1, 0 or 1.
func (f Factor) Sign() int { return f.d.Sign() }

// Compare is -1, 0 or 1 as f is below, equal to or above g.
func (f Factor) Compare(g Factor) int { return f.d.Cmp(g.d) }

// Cents rounds the factor, an amount, to whole cents, halves away from zero. An amount
// beyond Largest is the caller's to refuse before (see Amount): it does not fit.
func (f Factor) Cents() Cents { return Cents(f.d.Shift(2).Round(0).IntPart()) }

// Over divides and rounds to a count of decimals, halves away from zero. The divisor
// must not be zero.
func (f Factor) Over(g Factor, decimals int) Factor {
	return Factor{f.d.DivRound(g.d, int32(decimals))}
}

// Float is the nearest binary number, for measures and pictures, never for money.
func (f Factor) Float() float64 { return f.d.InexactFloat64() }

// String writes the factor without an exponent and without trailing zeros it was not given.
func (f Factor) String() string { return f.d.String() }

// Fixed writes the factor with a fixed count of decimals.
func (f Factor) Fixed(decimals int) string { return f.d.StringFixed(int32(decimals)) }

// Decimals is how many decimals the factor was given.
func (f Factor) Decimals() int { return max(0, int(-f.d.Exponent())) }

// Plain writes a unit price as it is typed: two decimals, more where it has more.
func (f Factor) Plain() string { return f.Fixed(max(2, f.Decimals())) }

// Priced writes a unit price: two decimals, more where it has more.
func (f Factor) Priced() string {
	if f.Decimals() > 2 {
		return f.String()
	}
	return f.Cents().Shown()
}

// MarshalJSON writes a decimal string.
func (f Factor) MarshalJSON() ([]byte, error) { return json.Marshal(f.d.String()) }

// UnmarshalJSON takes a decimal string only: a JSON number may have lost digits on its
// way here. null leaves the factor as it is.
func (f *Factor) UnmarshalJSON(raw []byte) error {
	if string(raw) == "null" {
		return nil
	}
	var s string
	if err := json.Unmarshal(raw, &s); err != nil {
		return fmt.Errorf("money and its factors are decimal strings, enter it as \"12.50\"")
	}
	parsed, err := ParseFactor(s)
	if err != nil {
		return err
	}
	*f = parsed
	return nil
}

// Value keeps the factor in the store as decimal text.
func (f Factor) Value() (driver.Value, error) { return f.d.String(), nil }

// Scan reads the factor back from the store.
func (f *Factor) Scan(src any) error { return f.d.Scan(src) }

// GormDataType names the column type to the store.
func (Factor) GormDataType() string { return "text" }
