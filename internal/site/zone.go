package site

import (
	"time"
	_ "time/tzdata" // the days of a business must not hang on the machine having zones installed
)

// zones are offered on the business form; any other name that the zone database knows is
// kept as it stands.
var zones = []Option{
	{"Australia/Adelaide", "South Australia (Adelaide)"},
	{"Australia/Melbourne", "Victoria (Melbourne)"},
	{"Australia/Perth", "Western Australia (Perth)"},
	{"Australia/Sydney", "New South Wales (Sydney)"},
	{"Australia/Broken_Hill", "Broken Hill"},
	{"Australia/Brisbane", "Queensland (Brisbane)"},
	{"Australia/Hobart", "Tasmania (Hobart)"},
	{"Australia/Darwin", "Northern Territory (Darwin)"},
	{"Australia/Eucla", "Eucla"},
	{"Pacific/Auckland", "New Zealand (Auckland)"},
	{"UTC", "UTC"},
}

// zonesWith is the zones offered, with the one kept among them.
func zonesWith(kept string) []Option {
	for _, z := range zones {
		if z.Value == kept {
			return zones
		}
	}
	if !knownZone(kept) {
		return zones
	}
	return append([]Option{{kept, kept}}, zones...)
}

func knownZone(name string) bool {
	_, err := time.LoadLocation(name)
	return err == nil && name != "" && name != "Local"
}

// zone reads a time zone by its name in the zone database.
func (f *form) zone(name string) string {
	chosen := f.text(name)
	if !knownZone(chosen) {
		f.refuse(name, "“%s” is not a time zone: choose one of the list.", chosen)
	}
	return chosen
}
