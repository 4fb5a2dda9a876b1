package job

import (
	"fmt"
	"strings"

	"rowtally/internal/machine"
	"rowtally/internal/unit"
)

// serviceSoonMin is how much machine time before a service the list begins to speak of
// it: 50 h, about a sowing week. Our own rule.
const serviceSoonMin = 50 * 60

// ServiceLeftMin is the machine time left until service, negative when it is overdue. ok
// is false where none is kept.
func ServiceLeftMin(m machine.Machine) (minutes int64, ok bool) {
	return m.ServiceDueMin - m.MeterMin, m.ServiceDueMin > 0
}

// ServiceState says how a machine stands to its next service; "" where none is kept.
func ServiceState(m machine.Machine) string {
	left, kept := ServiceLeftMin(m)
	switch {
	case !kept:
		return ""
	case left < 0:
		return "service overdue by " + hours(-left)
	case left == 0:
		return "service due now"
	}
	return hours(left) + " left to service"
}

// ServiceSoon tells whether a service is due or overdue within serviceSoonMin.
func ServiceSoon(m machine.Machine) bool {
	left, kept := ServiceLeftMin(m)
	return kept && left <= serviceSoonMin
}

// YardSays answers what is due among the machines.
func YardSays(machines []machine.Machine) string {
	var due []string
	for _, m := range machines {
		if ServiceSoon(m) {
			due = append(due, m.Name+": "+ServiceState(m))
		}
	}
	switch {
	case len(machines) == 0:
		return "No machine is kept yet."
	case len(due) == 0:
		return "No service is due within " + hours(serviceSoonMin) + " of running."
	}
	return capital(strings.Join(due, "; ")) + "."
}

func hours(minutes int64) string {
	return fmt.Sprintf("%s h", unit.Grouped(float64(minutes)/60, 1))
}
