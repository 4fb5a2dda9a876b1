package site

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"rowtally/internal/job"
	"rowtally/internal/machine"
)

// daySheet keeps what one machine did in one day on the job.
func (s *site) daySheet(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	machines, err := s.Books.Machines(r.Context())
	if err != nil {
		return err
	}
	f := blank(dayBegins(r, facts, machines))
	if r.isPost() {
		f = readForm(r)
		sheet := dayFrom(f, facts.Job.ID)
		sheet.EnteredAt, sheet.PersonID = r.now, r.person.ID
		if sheet.Day > r.today() {
			f.refuse("day", "%s is still to come: enter the day that was worked.", sheet.Day)
		}
		if sheet.Day != "" && sheet.Day < facts.Job.AskedOn {
			f.refuse("day", "%s is before the farmer asked for this job on %s: correct the day, or the day of the job.", sheet.Day, facts.Job.AskedOn)
		}
		if f.ok() {
			if _, err := s.Books.AddDaySheet(r.Context(), r.act(), sheet); err == nil {
				return r.see(truckPath(facts.Job.ID) + "?done=day")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
		r.Status(422)
	}
	page := truckForm{
		Frame: r.frame("truck", "Day sheet, "+facts.Job.Name), Job: facts.Job, Action: r.Path(), Button: "Keep the day",
		Lead: "One sheet a day for each machine that drives. What it pulls goes with it, without a sheet of its own.", Fields: f.fields(dayFields(machines)...),
	}
	page.Head = f.head()
	return r.show("truck_form", page)
}

// dayBegins starts the sheet with the machine of the job's last one, else with the machine
// that has run most, at its last reading.
func dayBegins(r *request, facts job.Facts, machines []machine.Machine) map[string]string {
	typed := map[string]string{"day": string(r.today())}
	if len(machines) == 0 {
		return typed
	}
	likely := slices.MaxFunc(machines, func(a, b machine.Machine) int { return cmp.Compare(a.MeterMin, b.MeterMin) })
	if n := len(facts.DaySheets); n > 0 {
		for _, m := range machines {
			if m.ID == facts.DaySheets[n-1].MachineID {
				likely = m
			}
		}
	}
	typed["machine"], typed["meter_from"] = strconv.FormatInt(likely.ID, 10), short(math.Round(float64(likely.MeterMin)/6)/10)
	return typed
}

func dayFrom(f *form, jobID int64) machine.DaySheet {
	const mostHours = 1_000_000
	sheet := machine.DaySheet{
		JobID: jobID, Day: f.day("day", true),
		MeterFromMin: job.Minutes(f.number("meter_from", 0, mostHours)), MeterToMin: job.Minutes(f.number("meter_to", 0, mostHours)),
		RowM: 1000 * f.number("row_km", 0, 500), FuelML: int64(math.Round(1000 * f.maybe("fuel_l", 0, 5000, 0))),
		StandbyMin: int64(f.maybe("standby_min", 0, 24*60, 0)), Placements: f.placements(), Note: f.text("note"),
	}
	id, err := strconv.ParseInt(f.typed["machine"], 10, 64)
	if err != nil {
		f.refuse("machine", "Choose the machine.")
	}
	sheet.MachineID = id
	if f.ok() && sheet.MeterToMin < sheet.MeterFromMin {
		f.refuse("meter_to", "The meter went from %s h back to %s h: one of the two readings is wrong.", f.typed["meter_from"], f.typed["meter_to"])
	}
	if f.ok() && sheet.RunMin() > 24*60 {
		f.refuse("meter_to", "The meter ran %s h in one day: one of the two readings is wrong.", short(float64(sheet.RunMin())/60))
	}
	return sheet
}

// placements is the day's count of the placement counter; 0 where it was not read.
func (f *form) placements() int64 {
	if f.typed["placements"] == "" {
		return 0
	}
	return int64(f.integer("placements", 0, job.MostPlacements))
}

func dayFields(machines []machine.Machine) []Field {
	var options []Option
	for _, m := range machines {
		options = append(options, Option{strconv.FormatInt(m.ID, 10), m.Name})
	}
	return []Field{
		{Name: "machine", Label: "Machine", Kind: "select", Options: options, Required: true},
		{Name: "day", Label: "Day", Kind: "date", Required: true},
		{Name: "meter_from", Label: "Meter at the start", Unit: "h", Kind: "number", Required: true},
		{Name: "meter_to", Label: "Meter at the end", Unit: "h", Kind: "number", Required: true},
		{Name: "row_km", Label: "Sown", Unit: "row-km", Kind: "number", Required: true, Hint: "Each row counted: a twin machine sows 2 row-km in 1 driven km."},
		{Name: "placements", Label: "Placement counter, today's count", Kind: "number", Inputmode: "numeric", Hint: "All rows together; leave it empty where it was not read."},
		{Name: "fuel_l", Label: "Fuel put in", Unit: "L", Kind: "number"},
		{Name: "standby_min", Label: "Stood waiting", Unit: "min", Kind: "number"},
		{Name: "note", Label: "Note", Kind: "textarea"},
	}
}
