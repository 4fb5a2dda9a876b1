package seed

import "strings"

// RetestRule is after how many months a test of a species no longer counts, and on whose
// word.
type RetestRule struct {
	Months int
	Says   string // where the figure comes from
}

// UsualRetest is the rule for a species that the contractor has set none for. Bluebush
// (Maireana) loses much of its life within a year in the shed and most within two, so half
// a year is our own caution for it (Swainsona Seed Services Report 041, 2020: M. pyramidata
// and M. sedifolia at about 20 °C).
func UsualRetest(species string) RetestRule {
	genus, _, _ := strings.Cut(strings.TrimSpace(species), " ")
	if strings.EqualFold(genus, "Maireana") {
		return RetestRule{6, "bluebush loses much of its life within a year of storage: our own caution"}
	}
	return RetestRule{12, "common practice, no source"}
}
