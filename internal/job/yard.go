package job

import (
	"fmt"
	"strings"

	"rowtally/internal/machine"
	"rowtally/internal/unit"
)

// Yard is the machines and what their hours are worked out from.
type Yard struct {
	Machines []machine.Machine
	Fuel     machine.FuelRates
	Sheets   []machine.DaySheet // of the last twelve months, of every job
	SowerOf  map[int64]int64    // by the job of a sheet, the machine that its recipe names
}

// Machine finds a machine by its number in the store.
func (y Yard) Machine(id int64) (machine.Machine, bool) {
	for _, m := range y.Machines {
		if m.ID == id {
			return m, true
		}
	}
	return machine.Machine{}, false
}

// Worked is the sheets of the last twelve months on which a machine worked: those that name
// it, and those of the machine that pulls it on jobs that it sowed.
func (y Yard) Worked(m machine.Machine) []machine.DaySheet { return y.on(m, y.Sheets) }

// on is those of some sheets on which a machine worked.
func (y Yard) on(m machine.Machine, sheets []machine.DaySheet) []machine.DaySheet {
	var worked []machine.DaySheet
	for _, s := range sheets {
		if s.MachineID == m.ID || m.PulledByID != 0 && s.MachineID == m.PulledByID && y.SowerOf[s.JobID] == m.ID {
			worked = append(worked, s)
		}
	}
	return worked
}

// HourCost is what one hour of a machine costs on a day, by machine.HourCost.
func (y Yard) HourCost(m machine.Machine, on unit.Date) (machine.Hour, error) {
	return machine.HourCost(m, y.Worked(m), y.Fuel, on)
}

// Team is the machines that work together when m does: the one that pulls it, then m.
func (y Yard) Team(m machine.Machine) []machine.Machine {
	if by, ok := y.Machine(m.PulledByID); ok && by.ID != m.ID {
		return []machine.Machine{by, m}
	}
	return []machine.Machine{m}
}

// How long before a service the list and the season page begin to speak of it: 50 h, about
// a sowing week, or 14 days. Our own rules.
const (
	serviceSoonMin  = 50 * 60
	serviceSoonDays = 14
)

// ServiceLeftMin is the machine time left until service, negative when it is overdue. ok
// is false where none is kept.
func ServiceLeftMin(m machine.Machine) (minutes int64, ok bool) {
	return m.ServiceDueMin - m.MeterMin, m.ServiceDueMin > 0
}

// ServiceState says how a machine stands to its next service on a day, by its hours and by
// its date; "" where neither is kept.
func ServiceState(m machine.Machine, today unit.Date) string {
	left, kept := ServiceLeftMin(m)
	switch {
	case kept && m.ServiceOn != "":
		return serviceByHours(left) + "; " + serviceByDate(m.ServiceOn, today)
	case kept:
		return serviceByHours(left)
	case m.ServiceOn != "":
		return "service " + serviceByDate(m.ServiceOn, today)
	}
	return ""
}

func serviceByHours(left int64) string {
	switch {
	case left < 0:
		return "service overdue by " + hours(-left)
	case left == 0:
		return "service due now"
	}
	return hours(left) + " left to service"
}

func serviceByDate(due, today unit.Date) string {
	switch days := today.DaysTo(due); {
	case days < 0:
		return fmt.Sprintf("overdue since %s", due)
	case days == 0:
		return "due today"
	default:
		return fmt.Sprintf("due on %s, in %s", due, unit.Counted(days, "day"))
	}
}

// ServiceSoon tells whether a service is due or overdue within serviceSoonMin of running,
// or within serviceSoonDays.
func ServiceSoon(m machine.Machine, today unit.Date) bool {
	left, kept := ServiceLeftMin(m)
	return kept && left <= serviceSoonMin || m.ServiceOn != "" && today.DaysTo(m.ServiceOn) <= serviceSoonDays
}

// ServicesSay are the machines whose service is due soon, a sentence each, for whoever stands
// beside them.
func ServicesSay(machines []machine.Machine, today unit.Date) (says []string) {
	for _, m := range machines {
		if ServiceSoon(m, today) {
			says = append(says, fmt.Sprintf("The %s: %s.", m.Name, ServiceState(m, today)))
		}
	}
	return says
}

// Serviced is the machine after a service on a day, at the meter as it stands: the next one
// falls due by the intervals, and by neither where none is told.
func Serviced(m machine.Machine, on unit.Date) machine.Machine {
	m.ServiceDueMin, m.ServiceOn = 0, ""
	if m.ServiceEveryMin > 0 {
		m.ServiceDueMin = m.MeterMin + m.ServiceEveryMin
	}
	if m.ServiceEveryMonths > 0 {
		m.ServiceOn = on.PlusMonths(m.ServiceEveryMonths)
	}
	return m
}

// YardSays answers what is due among the machines on a day.
func YardSays(machines []machine.Machine, today unit.Date) string {
	var due []string
	for _, m := range machines {
		if ServiceSoon(m, today) {
			due = append(due, capital(m.Name)+": "+ServiceState(m, today)+".")
		}
	}
	switch {
	case len(machines) == 0:
		return "No machine is kept yet."
	case len(due) == 0:
		return fmt.Sprintf("No service is due within %s of running or %d days.", hours(serviceSoonMin), serviceSoonDays)
	}
	return strings.Join(due, " ")
}

func hours(minutes int64) string {
	return fmt.Sprintf("%s h", unit.Grouped(float64(minutes)/60, 1))
}
