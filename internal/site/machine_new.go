package site

import (
	"fmt"
	"math"
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
			f.as("pulled_by_id", "pulled_by")
		}
	}
	pullers, err := s.pullers(r, 0)
	if err != nil {
		return err
	}
	meter := group{Heading: "Its meter", Lead: "0 h for a machine without a meter of its own.", Fields: meterFields()}
	return r.draw(f, formPage{
		Frame: r.frame("machines", "A new machine"), Groups: append(machineGroups(pullers), meter), Button: "Keep the machine", Back: "/machines",
	})
}

func (s *site) machineEdit(r *request) error {
	m, err := named(r, s.Books.Machine)
	if err != nil {
		return err
	}
	pullers, err := s.pullers(r, m.ID)
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
			f.as("pulled_by_id", "pulled_by")
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("machines", "Change "+m.Name), Groups: machineGroups(pullers), Button: "Keep the changes", Back: back,
	})
}

// machineGroups asks for a machine; pullers are the machines that may pull it.
func machineGroups(pullers []Option) []group {
	return []group{
		{Heading: "The machine", Fields: []Field{
			{Name: "name", Label: "Name", Required: true},
			{Name: "kind", Label: "What it is", Kind: "select", Required: true, Options: machineKinds},
			{Name: "pulled_by", Label: "Pulled or carried by", Kind: "select", Options: pullers},
			{Name: "note", Label: "Note", Kind: "textarea"},
		}},
		{Heading: "Service", Lead: "By hours, by date, or by whichever comes first. Once a service is kept, the next one falls due by the intervals.", Fields: []Field{
			{Name: "service_h", Label: "Service due at", Kind: "number", Unit: "h on the meter"},
			{Name: "service_every_h", Label: "Hours from one to the next", Kind: "number", Unit: "h"},
			{Name: "service_on", Label: "Service due on", Kind: "date"},
			{Name: "service_every_months", Label: "Months from one to the next", Kind: "number", Inputmode: "numeric", Unit: "months"},
		}},
		{Heading: "What it sows", Lead: "Leave empty what it does not have.", Fields: []Field{
			{Name: "rows", Label: "Rows at once", Kind: "number", Inputmode: "numeric"},
			{Name: "row_gap_m", Label: "Between its rows", Kind: "number", Unit: "m"},
			{Name: "hopper_l", Label: "Hoppers hold, usable", Kind: "number", Unit: "L", Hint: "All of them together."},
			{Name: "hoppers", Label: "In so many hoppers", Kind: "number", Inputmode: "numeric", Hint: "Of equal size, filled at once."},
			{Name: "wheel_m", Label: "One turn of the driving wheel", Kind: "number", Unit: "m", Hint: "Loaded; measure ten turns."},
		}},
		{Heading: "How fast it sows", Lead: "Speed with turns and stops to fill, or speed with one efficiency that holds them all: never both, or the time lost counts twice. Your own measures; none is built in.", Fields: []Field{
			{Name: "speed_kmh", Label: "Speed while sowing", Kind: "number", Unit: "km/h"},
			{Name: "turn_s", Label: "A turn takes", Kind: "number", Unit: "s", Hint: "From the end of one pass into the next."},
			{Name: "fill_min", Label: "A stop to fill takes", Kind: "number", Unit: "min", Hint: "For one tub's mix; how many there are follows from each job's tubs."},
			{Name: "efficiency", Label: "Or efficiency in all", Kind: "number", Unit: "% of the time out"},
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
	m.ServiceDueMin, m.ServiceEveryMin = f.maybeMinutes("service_h"), f.maybeMinutes("service_every_h")
	m.ServiceOn = f.day("service_on", false)
	if f.typed["service_every_months"] != "" {
		m.ServiceEveryMonths = f.integer("service_every_months", 1, 120)
	}
	if f.typed["pulled_by"] != "" {
		m.PulledByID = int64(f.integer("pulled_by", 1, math.MaxInt32))
	}
	m.Pace = machine.Pace{SpeedKmh: f.maybe("speed_kmh", 0.01, 100, 0), TurnS: f.perhaps("turn_s", 0, 3600), FillMin: f.perhaps("fill_min", 0, 600), EfficiencyPercent: f.perhaps("efficiency", 1, 100)}
	f.heed(m.Pace.Check())
	f.as("efficiency_percent", "efficiency")
	return m
}

// maybeMinutes is hours on a meter that may be left empty, which counts as none.
func (f *form) maybeMinutes(name string) int64 {
	if f.typed[name] == "" {
		return 0
	}
	return f.minutes(name, mostMeterH)
}

// pullers are the machines that may pull the one named, after none.
func (s *site) pullers(r *request, except int64) ([]Option, error) {
	machines, err := s.Books.Machines(r.Context())
	options := []Option{{"", "none: it goes by itself"}}
	for _, m := range machines {
		if m.ID != except && m.PulledByID == 0 {
			options = append(options, Option{strconv.FormatInt(m.ID, 10), m.Name})
		}
	}
	return options, err
}

// typedMachine is a machine as its form begins with it.
func typedMachine(m machine.Machine) map[string]string {
	typed := map[string]string{
		"name": m.Name, "kind": m.Kind, "note": m.Note, "service_h": meterHours(m.ServiceDueMin),
		"rows": numberOrNone(float64(m.Rows)), "row_gap_m": numberOrNone(m.RowGapM),
		"hoppers": numberOrNone(float64(m.Hoppers)), "hopper_l": numberOrNone(m.HopperUsableL), "wheel_m": numberOrNone(m.WheelM),
		"service_every_h": meterHours(m.ServiceEveryMin), "service_on": string(m.ServiceOn), "service_every_months": numberOrNone(float64(m.ServiceEveryMonths)),
		"pulled_by": numberOrNone(float64(m.PulledByID)), "speed_kmh": numberOrNone(m.SpeedKmh),
	}
	for name, v := range map[string]*float64{"turn_s": m.TurnS, "fill_min": m.FillMin, "efficiency": m.EfficiencyPercent} {
		if v != nil {
			typed[name] = number(*v)
		}
	}
	return typed
}

// meterHours writes meter minutes as hours for a form; empty for none.
func meterHours(minutes int64) string {
	if minutes == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(minutes)/60, 'f', 1, 64)
}
