package seed

import "testing"

func TestBluebushIsRetestedSooner(t *testing.T) {
	for species, months := range map[string]int{
		"Atriplex nummularia": 12, "Maireana brevifolia": 6, "maireana sedifolia": 6, "Maireanaria": 12, "": 12,
	} {
		if got := UsualRetest(species); got.Months != months || got.Says == "" {
			t.Errorf("%q: %+v, want %d months", species, got, months)
		}
	}
}
