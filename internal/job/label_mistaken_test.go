package job

import (
	"strings"
	"testing"
)

func TestABagIsHeldAgainstTheTubItGoesInto(t *testing.T) {
	wants := TubLabel{Lot: "D26-01", Job: "J-03", Tub: 5}
	for read, want := range map[string]string{
		wants.Text():    "",
		"D26-01":        "",
		" d26 01 ":      "",
		"":              "Type what the label says",
		"D26-03":        "that is D26-03",
		"D26-03 J-03/5": "that is D26-03",
		"D26-01 J-03/4": "weighed for tub 4 of J-03",
		"D26-01 J-04/5": "weighed for tub 5 of J-04",
		"D26-01 J-03/x": "that is D26-01 J-03/x",
	} {
		if got := wants.Mistaken(read); got == "" != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%q: %q, want %q", read, got, want)
		}
	}
}
