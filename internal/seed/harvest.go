package seed

import (
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// Harvest is the month in which a lot was collected, "2025-11"; "" when not known.
type Harvest string

const harvestLayout = "2006-01"

// ParseHarvest reads "2025-11"; "" is a harvest not known.
func ParseHarvest(s string) (Harvest, error) {
	if s == "" {
		return "", nil
	}
	if _, err := time.Parse(harvestLayout, s); err != nil {
		return "", fault.Refuse("harvest", "“%s” is not a month, enter it as 2025-11", s)
	}
	return Harvest(s), nil
}

// Begins is the first day of the month; "" when not known.
func (h Harvest) Begins() unit.Date {
	if h == "" {
		return ""
	}
	return unit.Date(string(h) + "-01")
}

// String is the month as screens and papers print it: "Nov 2025"; "" when not known.
func (h Harvest) String() string {
	if h == "" {
		return ""
	}
	return h.Begins().Time().Format("Jan 2006")
}
