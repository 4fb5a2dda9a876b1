package site

import (
	"strconv"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/machine"
)

type bearingPage struct {
	Frame
	Job      job.Job
	Groups   []group
	Head     string
	Bearings *job.Bearings // nil while the wish is refused
	Picture  *bearingPicture
}

// bearing tries the job's layout along every bearing: one picture, and the best few by the
// rule that the contractor weighs. All that is weighed stands in the address.
func (s *site) bearing(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if facts.Layout == nil {
		return fault.Conflict("The rows of %s are not laid yet. Lay them along any bearing first: belts, alley and headland are taken from there.", facts.Job.Name)
	}
	machines, err := s.Books.Machines(r.Context())
	if err != nil {
		return err
	}
	drill := alleyDrill(machines)
	f := wishTyped(r, drill)
	page := bearingPage{Job: facts.Job}
	if wish := f.wish(); f.ok() {
		tried, err := job.TryBearings(facts.Paddock, *facts.Layout, wish)
		if err := f.take(err); err != nil {
			return err
		}
		if f.ok() {
			page.Bearings, page.Picture = &tried, bearingPictureOf(tried)
		}
	}
	page.Frame = r.frame("jobs", "Bearings of "+facts.Job.Name)
	page.Groups = f.groups(wishGroups(drill)...)
	page.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("bearing", page)
}

// alleyDrill is the shed's first drill whose width is known; the zero machine without one.
func alleyDrill(machines []machine.Machine) machine.Machine {
	for _, m := range machines {
		if m.Kind == "drill" && m.SownM() > 0 {
			return m
		}
	}
	return machine.Machine{}
}

// wishTyped is what the address asks for. What it does not name is what a sweep begins with,
// and the width is the drill's; a field left empty stays empty.
func wishTyped(r *request, drill machine.Machine) *form {
	f, begin := readQuery(r), job.BeginWish()
	for name, value := range map[string]string{
		"least_fall": short(begin.LeastFallPercent), "most_fall": short(begin.MostFallPercent), "width_m": unlessZero(drill.SownM()),
		"water": strconv.Itoa(int(begin.Water)), "turns": strconv.Itoa(int(begin.Turns)), "alleys": strconv.Itoa(int(begin.Alleys)),
	} {
		if _, asked := f.typed[name]; !asked {
			f.typed[name] = value
		}
	}
	return f
}

func (f *form) wish() job.Wish {
	weight := func(name string) job.Weight { return job.Weight(f.integer(name, 0, int(job.MostWeight))) }
	return job.Wish{
		LeastFallPercent: f.maybe("least_fall", 0, 100, 0), MostFallPercent: f.maybe("most_fall", 0, 100, 100), MachineM: f.maybe("width_m", 0.5, 200, 0),
		Water: weight("water"), Turns: weight("turns"), Alleys: weight("alleys"),
	}
}

func wishGroups(drill machine.Machine) []group {
	hint := "Of the drill, boom or spreader, with the room it keeps from the rows. Empty: none."
	if drill.SownM() > 0 {
		hint = "Of the drill, boom or spreader, with the room it keeps from the rows; the " + drill.Name + " is " + short(drill.SownM()) + " m. Empty: none."
	}
	var weights []Option
	for w := job.Weight(0); w <= job.MostWeight; w++ {
		weights = append(weights, Option{strconv.Itoa(int(w)), strconv.Itoa(int(w)) + ", " + w.String()})
	}
	return []group{
		{Heading: "What must hold", Fields: []Field{
			{Name: "least_fall", Label: "Rows fall at least", Unit: "%", Kind: "number", Hint: "Less does not carry the water off."},
			{Name: "most_fall", Label: "and at most", Unit: "%", Kind: "number", Hint: "More washes the mounds out."},
		}},
		{Heading: "What matters, and how much", Fields: []Field{
			{Name: "water", Label: "The rows carry water off", Kind: "select", Required: true, Options: weights},
			{Name: "turns", Label: "Few turns", Kind: "select", Required: true, Options: weights},
			{Name: "alleys", Label: "Alleys fit the machine", Kind: "select", Required: true, Options: weights},
			{Name: "width_m", Label: "Working width in the alleys", Unit: "m", Kind: "number", Hint: hint},
		}},
	}
}
