package seed

import (
	"strings"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

// StorageCondition is where a lot lies and how, from a day on until the next one begins.
type StorageCondition struct {
	ID              int64
	LotID           int64
	Since           unit.Date
	Place           string   // "cool room", "shed, in bags"
	MoisturePercent *float64 // of the seed's wet weight, above 0 and below 100; nil when not measured
	TemperatureC    *float64 // of the store over the year, -40 to 60; nil when not measured
	Note            string
}

// What a shed, a cool room or a deep freeze can have, in °C.
const coldestC, hottestC = -40, 60

// Measured tells whether the viability equation can be worked out from the condition.
func (c StorageCondition) Measured() bool { return c.MoisturePercent != nil && c.TemperatureC != nil }

// Check refuses a condition that cannot be, or that begins after today.
func (c StorageCondition) Check(today unit.Date) error {
	switch {
	case strings.TrimSpace(c.Place) == "":
		return fault.Refuse("place", "the place is empty, enter where the lot lies")
	case c.Since == "" || c.Since > today:
		return fault.Refuse("since", "it lies there since %s, enter a day up to today, %s", c.Since, today)
	case c.MoisturePercent != nil && !(*c.MoisturePercent > 0 && *c.MoisturePercent < 100):
		return fault.Refuse("moisture_percent", "moisture is %s %%, enter a figure above 0 and below 100, of the wet weight", unit.Plain(*c.MoisturePercent))
	case c.TemperatureC != nil && !(*c.TemperatureC >= coldestC && *c.TemperatureC <= hottestC):
		return fault.Refuse("temperature_c", "temperature is %s °C, enter a figure from %d to %d", unit.Plain(*c.TemperatureC), coldestC, hottestC)
	}
	return nil
}
