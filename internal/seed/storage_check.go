package seed

import (
	"rowtally/internal/fault"
	"rowtally/internal/unit"
)

func (s Storage) check() error {
	for _, c := range []struct {
		field string
		value float64
	}{{"ke", s.KE}, {"cw", s.CW}, {"ch", s.CH}, {"cq", s.CQ}} {
		if err := finite(c.field, c.value); err != nil {
			return err
		}
	}
	switch {
	case !(s.MoisturePercent > 0 && s.MoisturePercent < 100):
		return fault.Refuse("moisture_percent", "moisture is %s %% of the wet weight, enter a figure above 0 and below 100", unit.Plain(s.MoisturePercent))
	case !(s.TemperatureC >= -200 && s.TemperatureC <= 100):
		return fault.Refuse("temperature_c", "temperature is %s °C, enter a figure from -200 to 100", unit.Plain(s.TemperatureC))
	case s.SeedsTested != nil && (*s.SeedsTested < 1 || *s.SeedsTested > mostTrials):
		return fault.Refuse("seeds_tested", "seeds tested is %d, enter a whole number from 1 to %d", *s.SeedsTested, mostTrials)
	case s.Days != nil && !(*s.Days >= 0 && *s.Days <= mostDays):
		return fault.Refuse("days", "days is %s, enter a figure from 0 to %d", unit.Plain(*s.Days), mostDays)
	}
	return s.checkViability()
}

const mostDays = 100_000_000

// checkViability refuses percentages that have no normal equivalent deviate, and a final
// viability that lies above the initial one.
func (s Storage) checkViability() error {
	if s.FinalPercent != nil && !(*s.FinalPercent > 0 && *s.FinalPercent < 100) {
		return fault.Refuse("final_percent", "final viability is %s %%, enter a figure above 0 and below 100", unit.Plain(*s.FinalPercent))
	}
	if s.InitialPercent == nil {
		return nil
	}
	if err := percentage("initial_percent", "initial viability", *s.InitialPercent); err != nil {
		return err
	}
	start := testedPercent(*s.InitialPercent, s.SeedsTested)
	if start == 0 || start == 100 {
		return fault.Refuse("initial_percent", "initial viability is %s %%, which no length of life goes with: give seeds_tested too", unit.Plain(start))
	}
	if s.FinalPercent != nil && *s.FinalPercent > start {
		return fault.Refuse("final_percent", "final viability %s %% is above the initial %s %%, enter a lower one", unit.Plain(*s.FinalPercent), unit.Plain(start))
	}
	return nil
}
