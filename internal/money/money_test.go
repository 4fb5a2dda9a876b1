package money

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestCentsAreWrittenForMachinesAndForPeople(t *testing.T) {
	for _, c := range []struct {
		cents       Cents
		plain, seen string
	}{
		{0, "0.00", "0.00"},
		{5, "0.05", "0.05"},
		{-5, "-0.05", "−0.05"},
		{486070, "4860.70", "4,860.70"},
		{-100000000, "-1000000.00", "−1,000,000.00"},
		{99999, "999.99", "999.99"},
		{100000, "1000.00", "1,000.00"},
	} {
		if c.cents.String() != c.plain || c.cents.Shown() != c.seen {
			t.Errorf("%d cents: %q and %q, want %q and %q", int64(c.cents), c.cents, c.cents.Shown(), c.plain, c.seen)
		}
	}
}

func TestParseFactorTakesPlainDecimalsOnly(t *testing.T) {
	for in, want := range map[string]string{
		"12.50": "12.5", "-0.0009": "-0.0009", " 7 ": "7", "+3": "3", ".5": "0.5", "0": "0",
		"9999999999999999999999999999999999999999": "9999999999999999999999999999999999999999",
	} {
		f, err := ParseFactor(in)
		if err != nil || f.String() != want {
			t.Errorf("ParseFactor(%q) = %s, %v, want %s", in, f, err, want)
		}
	}
	for _, in := range []string{"", " ", ".", "-", "+", "--1", "1-2", "+-1", ".-5", "1.2.3", "1e3", "NaN", "Infinity", "0x10", "1,000.00", "$5", "−5", "٣", strings.Repeat("9", 41), strings.Repeat("0", 90)} {
		if f, err := ParseFactor(in); err == nil {
			t.Errorf("ParseFactor(%q) = %s, want a refusal", in, f)
		}
	}
}

func TestHalvesRoundAwayFromZero(t *testing.T) {
	for in, want := range map[string]Cents{
		"387.465": 38747, "-387.465": -38747, "0.005": 1, "-0.005": -1, "0.0049999": 0, "2.675": 268, "1.005": 101, "-2.5": -250,
	} {
		if got := MustFactor(in).Cents(); got != want {
			t.Errorf("%s rounds to %s, want %s", in, got, want)
		}
	}
}

func TestAmountsBeyondTheLargestAreRefused(t *testing.T) {
	for _, in := range []string{"999999999999.99", "-999999999999.994"} {
		if _, err := MustFactor(in).Amount(); err != nil {
			t.Errorf("%s: %v", in, err)
		}
	}
	for _, in := range []string{"999999999999.995", "-1000000000000", "999999999999999999999999999999"} {
		if c, err := MustFactor(in).Amount(); err == nil {
			t.Errorf("%s is taken as %s", in, c)
		}
	}
}

func TestFactorsAreStringsInJSONAndNumbersAreRefused(t *testing.T) {
	var f Factor
	if err := json.Unmarshal([]byte(`"0.3968"`), &f); err != nil || f.String() != "0.3968" {
		t.Fatalf("%s, %v", f, err)
	}
	for _, raw := range []string{`0.3968`, `true`, `[]`, `{}`, `"1e3"`, `""`} {
		if err := json.Unmarshal([]byte(raw), &f); err == nil {
			t.Errorf("%s is taken as %s", raw, f)
		}
	}
	out, err := json.Marshal(map[string]any{"f": f, "c": Cents(38747)})
	if err != nil || string(out) != `{"c":"387.47","f":"0.3968"}` {
		t.Errorf("%s, %v", out, err)
	}
}

func TestExactTakesStringsAndNumbersDigitForDigit(t *testing.T) {
	for raw, want := range map[string]string{`"10"`: "10", `10`: "10", `0.1`: "0.1", `17.80053908355795`: "17.80053908355795", `-3.50`: "-3.5", `12345678901234567890.12`: "12345678901234567890.12"} {
		var e Exact
		if err := json.Unmarshal([]byte(raw), &e); err != nil || e.String() != want {
			t.Errorf("%s is read as %s, %v", raw, e, err)
		}
	}
	for _, raw := range []string{`1e3`, `true`, `"x"`, `[1]`, `{}`, `""`} {
		var e Exact
		if err := json.Unmarshal([]byte(raw), &e); err == nil {
			t.Errorf("%s is taken as %s", raw, e)
		}
	}
}

func TestFactorKeepsItsDigitsInTheStore(t *testing.T) {
	kept, err := MustFactor("0.9803").Value()
	if err != nil || kept != "0.9803" {
		t.Fatalf("kept as %v, %v", kept, err)
	}
	var back Factor
	if err := back.Scan(kept); err != nil || back.Compare(MustFactor("0.9803")) != 0 {
		t.Errorf("read back as %s, %v", back, err)
	}
	if (Factor{}).GormDataType() != "text" {
		t.Error("a factor is kept as text")
	}
}

func TestFactorOfRoundsAMeasure(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{{24.8004, 3, "24.8"}, {0.0005, 3, "0.001"}, {-2.5, 0, "-3"}, {1e9, 2, "1000000000"}} {
		if got := FactorOf(c.v, c.decimals).String(); got != c.want {
			t.Errorf("FactorOf(%v, %d) = %s, want %s", c.v, c.decimals, got, c.want)
		}
	}
}

func TestFactorArithmetic(t *testing.T) {
	a, b := MustFactor("10"), MustFactor("3")
	for got, want := range map[string]string{
		a.Plus(b).String(): "13", a.Minus(b).String(): "7", a.Times(b).String(): "30",
		a.Over(b, 4).String(): "3.3333", a.Fixed(2): "10.00", a.Percent(b).String(): "0.3",
		Whole(-7).String(): "-7", Cents(1250).Factor().String(): "12.5",
	} {
		if got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	if a.Compare(b) != 1 || b.Compare(a) != -1 || a.Compare(a) != 0 || b.Minus(a).Sign() != -1 {
		t.Error("factors compare wrongly")
	}
	if a.Float() != 10 || !a.Within(10) || a.Within(9) || Whole(-11).Within(10) {
		t.Error("bounds are wrong")
	}
}

// decimals draws a decimal text with up to nine digits before and six after the point.
func decimals() *rapid.Generator[Factor] {
	return rapid.Custom(func(t *rapid.T) Factor {
		text := rapid.StringMatching(`-?[0-9]{1,9}(\.[0-9]{1,6})?`).Draw(t, "decimal")
		return MustFactor(text)
	})
}

func TestPartsAddToTheShownTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(decimals(), 0, 12).Draw(t, "parts")
		var total Cents
		for i, cents := range Allot(parts) {
			total += cents
			off := cents.Factor().Minus(parts[i])
			if off.Compare(MustFactor("0.01")) >= 0 || off.Compare(MustFactor("-0.01")) <= 0 {
				t.Fatalf("part %s is shown as %s", parts[i], cents)
			}
			if parts[i].Cents().Factor().Compare(parts[i]) == 0 && cents.Factor().Compare(parts[i]) != 0 {
				t.Fatalf("whole cents %s became %s", parts[i], cents)
			}
		}
		if total != Sum(parts...).Cents() {
			t.Fatalf("parts add to %s, the total is %s", total, Sum(parts...).Cents())
		}
	})
}

func TestSharesAddToTheAmount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := Cents(rapid.Int64Range(-1e12, 1e12).Draw(t, "total"))
		weights := []Factor{Whole(1)}
		for _, w := range rapid.SliceOfN(rapid.Int64Range(0, 1e6), 0, 12).Draw(t, "weights") {
			weights = append(weights, Whole(w))
		}
		var added Cents
		for i, share := range Share(total, weights) {
			added += share
			if weights[i].Sign() == 0 && share != 0 {
				t.Fatalf("a weight of 0 gets %s", share)
			}
		}
		if added != total {
			t.Fatalf("shares add to %s of %s", added, total)
		}
	})
}

func TestTheOddCentsGoWhereMostWasLost(t *testing.T) {
	got := Share(10000, []Factor{Whole(1), Whole(1), Whole(1)})
	if got[0] != 3334 || got[1] != 3333 || got[2] != 3333 {
		t.Errorf("100.00 in three: %v", got)
	}
	parts := Allot([]Factor{MustFactor("1.004"), MustFactor("1.006"), MustFactor("1.000")})
	if parts[0] != 100 || parts[1] != 101 || parts[2] != 100 {
		t.Errorf("3.010 in its parts: %v", parts)
	}
}

// Amounts come back from JSON as they were written, and nothing finer than a cent.
func TestCentsComeBackFromJSON(t *testing.T) {
	for _, c := range []Cents{0, 1, -1, 486070, -12058} {
		text, err := json.Marshal(c)
		var back Cents
		if err = errors.Join(err, json.Unmarshal(text, &back)); err != nil || back != c {
			t.Errorf("%s came back as %s, %v", c, back, err)
		}
	}
	for _, wrong := range []string{`"1.005"`, `12.5`, `"x"`} {
		if err := json.Unmarshal([]byte(wrong), new(Cents)); err == nil {
			t.Errorf("%s is taken", wrong)
		}
	}
}
