package site

import (
	"fmt"
	"strconv"

	"rowtally/internal/machine"
)

var machineKinds = []Option{
	{"tractor", "tractor"}, {"mounder-seeder", "mounder-seeder"}, {"drill", "drill"}, {"truck", "truck"}, {"other", "other"},
}

func (s *site) machineNew(r *request) error {
	f := blank(map[string]string{"kind": "tractor", "meter_on": string(r.today())})
	if r.isPost() {
		f = readForm(r)
		m := machineFrom(f)
		m.MeterMin, m.MeterOn = f.minutes("meter_h", mostMeterH), f.past("meter_on", true, r.today())
		if f.ok() {
			id, err := s.Books.AddMachine(r.Context(), r.act(), m)
			if err == nil {
				return r.see(fmt.Sprintf("/machines/%d", id))
			}
			if err := f.take(err); err != nil {
				return err
			}
		}
	}
	meter := group{Heading: "Its meter", Lead: "0 h for a machine without a meter of its own.", Fields: meterFields()}
	return r.draw(f, formPage{
		Frame: r.frame("machines", "A new machine"), Groups: append(machineGroups(), meter), Button: "Keep the machine", Back: "/machines",
	})
}

func (s *site) machineEdit(r *request) error {
	m, err := named(r, s.Books.Machine)
	if err != nil {
		return err
	}
	f := blank(typedMachine(m))
	back := fmt.Sprintf("/machines/%d", m.ID)
	if r.isPost() {
		f = readForm(r)
		changed := machineFrom(f)
		changed.ID, changed.MeterMin, changed.MeterOn = m.ID, m.MeterMin, m.MeterOn
		if f.ok() {
			if err := s.Books.ChangeMachine(r.Context(), r.act(), changed); err == nil {
				return r.see(back + "?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("machines", "Change "+m.Name), Groups: machineGroups(), Button: "Keep the changes", Back: back,
	})
}

func machineGroups() []group {
	return []group{
		{Heading: "The machine", Fields: []Field{
			{Name: "name", Label: "Name", Required: true},
			{Name: "kind", Label: "What it is", Kind: "select", Required: true, Options: machineKinds},
			{Name: "service_h", Label: "Service due at", Kind: "number", Unit: "h on the meter", Hint: "Empty when none is kept."},
			{Name: "note", Label: "Note", Kind: "textarea"},
		}},
		{Heading: "What it sows", Lead: "Leave empty what it does not have.", Fields: []Field{
			{Name: "rows", Label: "Rows at once", Kind: "number", Inputmode: "numeric"},
			{Name: "row_gap_m", Label: "Between its rows", Kind: "number", Unit: "m"},
			{Name: "hopper_l", Label: "Hoppers hold, usable", Kind: "number", Unit: "L", Hint: "All of them together."},
			{Name: "hoppers", Label: "In so many hoppers", Kind: "number", Inputmode: "numeric", Hint: "Of equal size, filled at once."},
			{Name: "wheel_m", Label: "One turn of the driving wheel", Kind: "number", Unit: "m", Hint: "Loaded; measure ten turns."},
		}},
	}
}

// machineFrom reads a machine off its form, all but its meter.
func machineFrom(f *form) machine.Machine {
	const mostRows, mostGapM, mostHopperL, mostWheelM = 100, 50, 20_000, 20
	m := machine.Machine{
		Name: f.must("name", "Enter the machine's name."), Kind: f.oneOf("kind", machineKinds), Note: f.text("note"),
		RowGapM:       f.maybe("row_gap_m", 0, mostGapM, 0),
		HopperUsableL: f.maybe("hopper_l", 0, mostHopperL, 0),
		WheelM:        f.maybe("wheel_m", 0, mostWheelM, 0),
	}
	if f.typed["rows"] != "" {
		m.Rows = f.integer("rows", 0, mostRows)
	}
	if f.typed["hoppers"] != "" {
		m.Hoppers = f.integer("hoppers", 0, mostRows)
	}
	if f.typed["service_h"] != "" {
		m.ServiceDueMin = f.minutes("service_h", mostMeterH)
	}
	return m
}

// typedMachine is a machine as its form begins with it.
func typedMachine(m machine.Machine) map[string]string {
	return map[string]string{
		"name": m.Name, "kind": m.Kind, "note": m.Note, "service_h": meterHours(m.ServiceDueMin),
		"rows": numberOrNone(float64(m.Rows)), "row_gap_m": numberOrNone(m.RowGapM),
		"hoppers": numberOrNone(float64(m.Hoppers)), "hopper_l": numberOrNone(m.HopperUsableL), "wheel_m": numberOrNone(m.WheelM),
	}
}

// meterHours writes meter minutes as hours for a form; empty for none.
func meterHours(minutes int64) string {
	if minutes == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(minutes)/60, 'f', 1, 64)
}
