package bill

import (
	"fmt"
	"strings"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/published"
)

func check(t testing.TB, scheme, number string) Number {
	t.Helper()
	got, err := CheckNumber(NumberIn{scheme, number})
	if err != nil {
		t.Fatal(err)
	}
	if got.Valid == (got.Why != "") {
		t.Fatalf("%s %s: valid %v and why %q", scheme, number, got.Valid, got.Why)
	}
	return got
}

func TestPublishedBusinessNumbers(t *testing.T) {
	seen := 0
	for _, r := range published.Rows(t, "business_numbers.csv") {
		kind, number := r.Text("kind"), r.Text("number")
		if kind != "ABN" && kind != "ACN" {
			continue
		}
		seen++
		got := check(t, strings.ToLower(kind), number)
		if got.Valid != (r.Text("expected") == "valid") {
			t.Errorf("%s, %s: %v, %s", r.Name, number, got.Valid, got.Why)
		}
		if plain := strings.ReplaceAll(got.Formatted, " ", ""); plain != strings.ReplaceAll(number, " ", "") {
			t.Errorf("%s: %s is printed as %s", r.Name, number, got.Formatted)
		}
		if kind == "ABN" && !got.Valid && r.Text("remainder_or_check_digit") != "0" && !strings.Contains(got.Why, "weighted sum is "+r.Text("weighted_sum")+",") {
			t.Errorf("%s: the sum is %s, told: %s", r.Name, r.Text("weighted_sum"), got.Why)
		}
	}
	if seen != 38 {
		t.Errorf("%d numbers were checked, want 38", seen)
	}
}

func TestBusinessNumbersArePrintedInGroups(t *testing.T) {
	for typed, want := range map[string]string{"51824753556": "51 824 753 556", " 51 824 753 556 ": "51 824 753 556", "5182 4753 556": "51 824 753 556"} {
		if got := check(t, "abn", typed); !got.Valid || got.Formatted != want {
			t.Errorf("%q: %+v", typed, got)
		}
	}
	if got := check(t, "acn", "004085616"); !got.Valid || got.Formatted != "004 085 616" {
		t.Errorf("%+v", got)
	}
}

func TestWrongBusinessNumbersSayWhy(t *testing.T) {
	for _, c := range []struct{ scheme, number, why string }{
		{"abn", "", "11 digits and this number has 0"},
		{"abn", "5182475355", "this number has 10"},
		{"abn", "51824753556001", "GST branch number"},
		{"abn", "51-824-753-556", "digits alone"},
		{"abn", "５１ 824 753 556", "digits alone"},
		{"abn", "51 824 753 565", "weighted sum"},
		{"abn", "00 000 000 000", "begins with 11 to 99"},
		{"acn", "004 085 617", "check digit is 7 where 6"},
		{"acn", "51824753556", "9 digits and this number has 11"},
	} {
		if got := check(t, c.scheme, c.number); got.Valid || !strings.Contains(got.Why, c.why) {
			t.Errorf("%s %q: %+v, want %q", c.scheme, c.number, got, c.why)
		}
	}
	if _, err := CheckNumber(NumberIn{"tfn", "1"}); fault.Fields(err)["scheme"] == "" {
		t.Error("an unknown scheme is taken")
	}
}

// By the sum alone a leading 10 passes where 99 is right, for the two weigh the same.
func TestALeadingTenDoesNotPassForNinetyNine(t *testing.T) {
	found := 0
	for tail := 0; tail < 2000; tail++ {
		rest := fmt.Sprintf("%09d", 123450000+tail)
		if check(t, "abn", "99"+rest).Valid {
			found++
			if check(t, "abn", "10"+rest).Valid {
				t.Errorf("10%s passes", rest)
			}
		}
	}
	if found < 10 {
		t.Fatalf("only %d numbers with 99 were found", found)
	}
}

// An ABN's sum finds every single wrong digit and every swap of two neighbours.
func TestOneSlipInAnABNIsFound(t *testing.T) {
	const right = "51824753556"
	for i := range right {
		for slip := byte(1); slip < 10; slip++ {
			digits := []byte(right)
			digits[i] = '0' + (digits[i]-'0'+slip)%10
			if check(t, "abn", string(digits)).Valid {
				t.Errorf("%s passes for %s", digits, right)
			}
		}
		if i > 0 && right[i] != right[i-1] {
			digits := []byte(right)
			digits[i], digits[i-1] = digits[i-1], digits[i]
			if check(t, "abn", string(digits)).Valid {
				t.Errorf("%s passes for %s", digits, right)
			}
		}
	}
}
