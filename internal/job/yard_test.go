package job

import (
	"testing"

	"rowtally/internal/machine"
)

func TestServiceIsReadOffTheMeter(t *testing.T) {
	const due = 5050 * 60
	for _, c := range []struct {
		meterMin, dueMin int64
		state            string
		soon             bool
	}{
		{due - 43*60 - 12, due, "43.2 h left to service", true},
		{due - 50*60, due, "50.0 h left to service", true},
		{due - 50*60 - 1, due, "50.0 h left to service", false},
		{due, due, "service due now", true},
		{due + 90, due, "service overdue by 1.5 h", true},
		{due, 0, "", false},
	} {
		m := machine.Machine{Name: "tractor", MeterMin: c.meterMin, ServiceDueMin: c.dueMin}
		if got := ServiceState(m); got != c.state || ServiceSoon(m) != c.soon {
			t.Errorf("%d of %d min: %q, soon %v; want %q, %v", c.meterMin, c.dueMin, got, ServiceSoon(m), c.state, c.soon)
		}
	}
}

func TestTheYardSaysWhatIsDue(t *testing.T) {
	tractor := machine.Machine{Name: "tractor", MeterMin: 300_408, ServiceDueMin: 303_000}
	drill := machine.Machine{Name: "drill"}
	for want, machines := range map[string][]machine.Machine{
		"No machine is kept yet.":                     nil,
		"No service is due within 50.0 h of running.": {drill},
		"Tractor: 43.2 h left to service.":            {drill, tractor},
	} {
		if got := YardSays(machines); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
