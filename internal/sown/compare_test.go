package sown

import (
	"math"
	"strings"
	"testing"

	"rowtally/internal/fault"
)

func reckoned(t *testing.T, r Reckoning, err error) Reckoning {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestReckonings(t *testing.T) {
	r, err := Counter{Placements: 8000, PlacementsUncertainty: 40, SpacingM: 3.1, SpacingUncertaintyM: 0.05}.Reckoning()
	counter := reckoned(t, r, err)
	near(t, "counter", counter.RowM, 24_800, 1e-9)
	near(t, "counter's uncertainty", counter.UncertaintyM, math.Sqrt(124*124+400*400), 1e-9)

	r, err = MixUsed{UsedL: 360, UsedUncertaintyL: 6, LPerRowKm: 15, LPerRowKmUncertainty: 0.5}.Reckoning()
	mix := reckoned(t, r, err)
	near(t, "mix", mix.RowM, 24_000, 1e-9)
	near(t, "mix's uncertainty", mix.UncertaintyM, math.Sqrt(400*400+800*800), 1e-9)
}

func TestReckoningsRefuseWhatCannotBe(t *testing.T) {
	_, noSpacing := Counter{Placements: 8000}.Reckoning()
	_, negative := Counter{Placements: -1, SpacingM: 3}.Reckoning()
	_, noRate := MixUsed{UsedL: 360}.Reckoning()
	_, notANumber := MixUsed{UsedL: math.NaN(), LPerRowKm: 15}.Reckoning()
	for field, err := range map[string]error{"spacing_m": noSpacing, "placements": negative, "l_per_row_km": noRate, "used_l": notANumber} {
		if _, refused := fault.Fields(err)[field]; !refused {
			t.Errorf("%s: %v", field, err)
		}
	}
}

func TestVerdicts(t *testing.T) {
	log := Record{SownM: 24_000, UncertaintyM: 40}.Reckoning()
	for name, c := range map[string]struct {
		others []Reckoning
		agree  bool
		says   string
	}{
		"all agree":           {[]Reckoning{{"counter", 24_300, 420}, {"mix", 23_500, 900}}, true, "agree within"},
		"the mix stands out":  {[]Reckoning{{"counter", 24_300, 420}, {"mix", 31_000, 900}}, false, "mix stands alone"},
		"the log stands out":  {[]Reckoning{{"counter", 26_000, 420}, {"mix", 26_500, 900}}, false, "log stands alone"},
		"none stands out":     {[]Reckoning{{"counter", 24_900, 600}, {"mix", 24_500, 600}}, false, "none stands alone"},
		"two that differ":     {[]Reckoning{{"counter", 25_000, 420}}, false, "differ by 1.00 row-km, and may by 0.42"},
		"the log by itself":   {nil, false, "Only the log"},
		"a gap but wide bars": {[]Reckoning{{"counter", 24_960, 1000}}, true, "agree within"},
	} {
		got := Compare(append([]Reckoning{log}, c.others...)...)
		if got.Agree != c.agree || !strings.Contains(got.Verdict, c.says) {
			t.Errorf("%s: agree %v: %s", name, got.Agree, got.Verdict)
		}
	}
	if got := Compare(); got.Agree || !strings.HasPrefix(got.Verdict, "Nothing") {
		t.Errorf("no reckoning: %+v", got)
	}
}
