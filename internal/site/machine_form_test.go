package site

import (
	"context"
	"testing"
)

var machineForm = []string{
	"name", "blue tractor", "kind", "tractor", "service_h", "5050", "note", "second-hand", "rows", "", "row_gap_m", "", "hopper_l", "",
	"wheel_m", "", "meter_h", "4812.4", "meter_on", "2026-07-01",
}

// machined is a town with the machine of machineForm, number 1.
func machined(t *testing.T) town {
	t.Helper()
	w := newTown(t)
	w.contractor.post("/machines/new", machineForm...).mustLead(t, "/machines/1")
	return w
}

func TestAMachineAndItsMeter(t *testing.T) {
	w := machined(t)
	w.operator.get("/machines").mustShow(t, 200, "No service is due within 50.0 h of running or 14 days.", "blue tractor", "237.6 h left to service")
	w.contractor.post("/machines/1/reading", "meter_h", "5006.8", "meter_on", "2026-07-18").mustLead(t, "/machines/1?done=kept")
	m, err := w.store.Machine(context.Background(), 1)
	if err != nil || m.MeterMin != 300_408 || m.MeterOn != "2026-07-18" {
		t.Errorf("kept %+v, %v: want 5006.8 h = 300408 min", m, err)
	}
	w.operator.get("/machines").mustShow(t, 200, "Blue tractor: 43.2 h left to service.")
	w.operator.get("/machines/1").mustShow(t, 200, "blue tractor", "18 Jul 2026", "43.2 h left to service", "read the meter of blue tractor at 5\u2009006.8 h")
}

func TestAMeterNeverGoesBack(t *testing.T) {
	w := machined(t)
	for _, c := range []struct{ hours, on, says string }{
		{"4812.3", "2026-07-02", "a reading of 4\u2009812.3 h lies below it"},
		{"4900", "2026-06-30", "was last read on 1 Jul 2026"},
		{"4900", "2026-07-21", "21 Jul 2026 is after today"},
		{"-1", "2026-07-02", "-1 is outside what is possible"},
		{"", "2026-07-02", "Enter a number"},
	} {
		p := w.contractor.post("/machines/1/reading", "meter_h", c.hours, "meter_on", c.on)
		p.mustShow(t, 422, c.says, `value="`+c.hours+`"`, `aria-invalid="true"`, "blue tractor")
	}
	m, err := w.store.Machine(context.Background(), 1)
	if err != nil || m.MeterMin != 288_744 {
		t.Errorf("the meter stands at %d min after refused readings, want 288744; %v", m.MeterMin, err)
	}
}

func TestAMisreadMeterIsCorrectedWithItsReason(t *testing.T) {
	w := machined(t)
	w.contractor.get("/machines/1/correct").mustShow(t, 200, "4\u2009812.4 h")
	w.contractor.post("/machines/1/correct", "meter_h", "4182.4", "meter_on", "2026-07-02", "why", "").mustShow(t, 422, "Say what was wrong")
	w.contractor.post("/machines/1/correct", "meter_h", "4182.4", "meter_on", "2026-07-02", "why", "two digits swapped").mustLead(t, "/machines/1?done=kept")
	w.contractor.get("/journal").mustShow(t, 200, "two digits swapped")
	w.contractor.get("/machines/1").mustShow(t, 200, "4\u2009182.4")
}

func TestAMachineFormSaysWhatToChangeAndKeepsTheRest(t *testing.T) {
	w := newTown(t)
	for _, c := range []struct{ field, value, says string }{
		{"name", "", "Enter the machine"},
		{"kind", "balloon", "Choose one of the list."},
		{"meter_h", "-1", "-1 is outside what is possible"},
		{"meter_on", "2026-07-21", "is after today"},
		{"rows", "1.5", "“1.5” is not a whole number"},
		{"row_gap_m", "wide", "“wide” is not a number"},
		{"service_h", "-5", "-5 is outside what is possible"},
	} {
		w.contractor.post("/machines/new", with(machineForm, c.field, c.value)...).mustShow(t, 422, c.says, "second-hand")
	}
	w.contractor.post("/machines/new", machineForm...).mustLead(t, "/machines/1")
	w.contractor.post("/machines/new", machineForm...).mustShow(t, 422, "A machine is called blue tractor already")
}

func TestAChangedMachineKeepsItsMeter(t *testing.T) {
	w := machined(t)
	w.contractor.get("/machines/1/edit").mustShow(t, 200, `value="5050.0"`, `value="blue tractor"`)
	w.contractor.post("/machines/1/edit", with(with(machineForm, "rows", "2"), "row_gap_m", "2.0")...).mustLead(t, "/machines/1?done=kept")
	w.contractor.get("/machines/1").mustShow(t, 200, "2 rows at once, 2.00 m apart", "4\u2009812.4")
}
