package job

import (
	"testing"

	"pgregory.net/rapid"
)

func TestLawALabelIsReadAsItWasWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := TubLabel{
			Lot: rapid.StringMatching(`[A-Z][A-Za-z0-9/-]{0,10}( [0-9A-Z]{1,3})?`).Draw(t, "lot"),
			Job: rapid.StringMatching(`J-[0-9]{2,4}`).Draw(t, "job"), Tub: rapid.IntRange(1, 9999).Draw(t, "tub"),
		}
		if got, ok := ReadTubLabel(want.Text()); !ok || got != want {
			t.Fatalf("%q is read as %+v, want %+v", want.Text(), got, want)
		}
	})
}

func TestALotsNumberAloneIsALabel(t *testing.T) {
	if l, ok := ReadTubLabel("D26-01"); !ok || l != (TubLabel{Lot: "D26-01"}) {
		t.Errorf("%+v, %v", l, ok)
	}
	if _, ok := ReadTubLabel(""); ok {
		t.Error("nothing is read as a label")
	}
}
