package site

import (
	"net/url"
	"strings"
	"testing"
)

// pacedAt is the farmer's page with a count in its address.
func pacedAt(metres, counted string) string {
	return farmJob + "?" + url.Values{"paced_m": {metres}, "counted": {counted}}.Encode()
}

func TestAFarmerChecksTheSpacingByCounting(t *testing.T) {
	w := sownOver(t)
	w.nobody.get(farmJob).mustShow(t, 200, "Check it yourself", "One was to stand every 3.00 m.")
	const ten = "32,33,30,34,31,32,33,30,32,31"
	says := "31.8 to 100 m, 30.9 to 32.7; at 3.00 m 33.3 are expected: 4.6 % short, more than counting by chance explains."
	w.nobody.get(pacedAt("100", ten)).mustShow(t, 200, says, "Student")
	w.nobody.get(pacedAt("", "100: 32, 33, 30, 34, 31, 32, 33, 30, 32, 31")).mustShow(t, 200, says, `value="100"`)
	w.nobody.get(pacedAt("100", "30")).mustShow(t, 200, "20.2 to 42.8", "no more than counting by chance explains", "Garwood")
	w.sound(t)
}

func TestACountThatIsWrongSaysWhatToChange(t *testing.T) {
	w := sownOver(t)
	for _, c := range []struct{ metres, counted, at, says string }{
		{"a field", "32", "paced_m", "is not a number"},
		{"", "32", "paced_m", "Enter a number"},
		{"0", "32", "paced_m", "outside what is possible"},
		{"NaN", "32", "paced_m", "is not a number"},
		{"100", "", "counted", "Enter the placements counted"},
		{"100", "32, many", "counted", "“many” is not a whole number"},
		{"100", "-3", "counted", "a whole number from 0 to 5000"},
		{"100", "50: 16, 17", "counted", "enter one of them"},
		{"100", strings.Repeat("33,", 201), "counted", "enter 1 to 200"},
	} {
		p := w.nobody.get(pacedAt(c.metres, c.counted))
		p.mustRefuse(t, c.at, c.says)
		p.mustKeep(t, "paced_m", c.metres, "counted", c.counted)
	}
}

// Before a row is sown there is nothing to count.
func TestNothingIsCountedBeforeTheRowsAreSown(t *testing.T) {
	if p := agreed(t).nobody.get(pacedAt("100", "33")); p.status != 200 || strings.Contains(p.text, "Check it yourself") {
		t.Errorf("answered %d with a count", p.status)
	}
}
