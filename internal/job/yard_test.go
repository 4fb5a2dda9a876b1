package job

import (
	"testing"

	"rowtally/internal/machine"
	"rowtally/internal/unit"
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
		if got := ServiceState(m, "2026-07-20"); got != c.state || ServiceSoon(m, "2026-07-20") != c.soon {
			t.Errorf("%d of %d min: %q, soon %v; want %q, %v", c.meterMin, c.dueMin, got, ServiceSoon(m, "2026-07-20"), c.state, c.soon)
		}
	}
}

func TestTheYardSaysWhatIsDue(t *testing.T) {
	tractor := machine.Machine{Name: "tractor", MeterMin: 300_408, ServiceDueMin: 303_000}
	drill := machine.Machine{Name: "drill"}
	for want, machines := range map[string][]machine.Machine{
		"No machine is kept yet.":                                nil,
		"No service is due within 50.0 h of running or 14 days.": {drill},
		"Tractor: 43.2 h left to service.":                       {drill, tractor},
	} {
		if got := YardSays(machines, "2026-07-20"); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestServiceIsReadOffTheDate(t *testing.T) {
	for _, c := range []struct {
		on    unit.Date
		state string
		soon  bool
	}{
		{"2026-08-03", "service due on 3 Aug 2026, in 14 days", true},
		{"2026-08-04", "service due on 4 Aug 2026, in 15 days", false},
		{"2026-07-21", "service due on 21 Jul 2026, in 1 day", true},
		{"2026-07-20", "service due today", true},
		{"2026-07-19", "service overdue since 19 Jul 2026", true},
	} {
		m := machine.Machine{ServiceOn: c.on}
		if got := ServiceState(m, "2026-07-20"); got != c.state || ServiceSoon(m, "2026-07-20") != c.soon {
			t.Errorf("due on %s: %q, want %q, soon %v", string(c.on), got, c.state, c.soon)
		}
	}
	both := machine.Machine{ServiceOn: "2026-08-04", ServiceDueMin: 300 * 60, MeterMin: 200 * 60}
	if got := ServiceState(both, "2026-07-20"); got != "100.0 h left to service; due on 4 Aug 2026, in 15 days" {
		t.Errorf("by hours and by date: %q", got)
	}
}

func TestAServiceSetsTheNextOneByItsIntervals(t *testing.T) {
	m := Serviced(machine.Machine{MeterMin: 5051 * 60, ServiceDueMin: 5050 * 60, ServiceEveryMin: 250 * 60, ServiceEveryMonths: 6, ServiceOn: "2026-07-01"}, "2026-08-31")
	if m.ServiceDueMin != 5301*60 || m.ServiceOn != "2027-02-28" {
		t.Errorf("next at %d min and on %s, want 5,301 h and 28 Feb 2027", m.ServiceDueMin, m.ServiceOn)
	}
	if m := Serviced(machine.Machine{MeterMin: 60, ServiceDueMin: 50, ServiceOn: "2026-07-01"}, "2026-08-31"); m.ServiceDueMin != 0 || m.ServiceOn != "" {
		t.Errorf("without intervals the next is at %d min and on %q, want none", m.ServiceDueMin, string(m.ServiceOn))
	}
}
