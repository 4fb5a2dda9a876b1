package site

import (
	"fmt"
	"html/template"
	"strconv"

	"rowtally/internal/count"
	"rowtally/internal/fault"
	"rowtally/internal/job"
)

type countNewPage struct {
	Frame
	Job      job.Job
	Farm     job.Farm
	Lead     string
	Head     string
	Fields   []Field
	Places   []countPlace
	More     []Field
	How      []string
	Cautions []string
}

// countPlace is one stretch to be filled in.
type countPlace struct {
	Number               int
	Says                 string       // "row 3, 117 m from its first end"
	Way                  template.URL // opens the phone's own map at the place
	Place                string       // latitude and longitude
	Occupied, Placements Field
}

// countNew takes a count at the places of the plan.
func (s *site) countNew(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	plan, planned := facts.CountPlan()
	if !planned {
		return fault.Conflict("No places of %s are drawn yet. Draw them first.", facts.Job.Name)
	}
	f := blank(countTyped(r, facts, plan))
	if r.isPost() {
		f = readForm(r)
		if err := s.keepCount(r, f, facts, plan); err != nil {
			return err
		}
		if f.ok() {
			return r.see(jobPath(facts.Job.ID) + "/counts?done=counted")
		}
		r.Status(422)
	}
	page := countNewPage{Frame: r.frame("truck", "Count"), Job: facts.Job, Farm: facts.Farm, How: job.HowToCount(plan), Cautions: job.CountCautions(),
		Lead: fmt.Sprintf("%s of %d placements. Leave a place empty that was not counted.", count.StretchesSay(len(plan.Places)), plan.PerStretch)}
	page.Fields, page.More = f.fields(countFields()...), f.fields(seenFields(facts)...)
	page.Places = countPlaces(f, plan)
	page.Head = f.head()
	return r.show("count_new", page)
}

func countTyped(r *request, facts job.Facts, plan count.Plan) map[string]string {
	kind, due := facts.DueCount()
	if !due {
		kind = count.Autumn
	}
	typed := map[string]string{"kind": string(kind), "counted_on": string(r.today()), "counted_by": r.person.Name}
	for i := range plan.Places {
		typed["placements_"+strconv.Itoa(i+1)] = strconv.Itoa(plan.PerStretch)
	}
	return typed
}

func countFields() []Field {
	return []Field{
		{Name: "kind", Label: "Which count", Kind: "select", Required: true, Options: []Option{
			{string(count.First), "first, 6 to 8 weeks after sowing"}, {string(count.Autumn), "autumn, the next year"}}},
		{Name: "counted_on", Label: "Counted on", Kind: "date", Required: true},
		{Name: "counted_by", Label: "Counted by", Required: true},
	}
}

// seenFields ask for the species told apart, and for what was left out.
func seenFields(facts job.Facts) (fields []Field) {
	for i, sown := range facts.SownInPlacements() {
		fields = append(fields, Field{Name: "seen_" + strconv.Itoa(i), Label: "Placements with " + facts.CommonName(sown.Species), Kind: "number", Inputmode: "numeric",
			Hint: "Over all places, where species were told apart. Then fill in every species."})
	}
	return append(fields,
		Field{Name: "volunteers", Label: "What came by itself, left out", Hint: "Barley grass, samphire."},
		Field{Name: "note", Label: "Note", Kind: "textarea"})
}

func countPlaces(f *form, plan count.Plan) (places []countPlace) {
	for i, at := range plan.Places {
		n := strconv.Itoa(i + 1)
		where := fmt.Sprintf("%.6f, %.6f", at.At.Lat, at.At.Lon)
		places = append(places, countPlace{
			Number: i + 1, Says: at.Says(), Place: where, Way: template.URL(fmt.Sprintf("geo:%.6f,%.6f", at.At.Lat, at.At.Lon)),
			Occupied:   f.field(Field{Name: "occupied_" + n, Label: "occupied at place " + n, Kind: "number", Inputmode: "numeric"}),
			Placements: f.field(Field{Name: "placements_" + n, Label: "placements looked at, place " + n, Kind: "number", Inputmode: "numeric"}),
		})
	}
	return places
}

// keepCount reads the places that were counted and keeps them.
func (s *site) keepCount(r *request, f *form, facts job.Facts, plan count.Plan) error {
	c := count.Count{JobID: facts.Job.ID, PlanID: plan.ID, Kind: count.Kind(f.typed["kind"]), CountedOn: f.day("counted_on", true),
		CountedBy: f.must("counted_by", "Enter who counted."), Volunteers: f.text("volunteers"), Note: f.text("note")}
	for i := range plan.Places {
		n := strconv.Itoa(i + 1)
		if f.typed["occupied_"+n] == "" {
			continue
		}
		c.Stretches = append(c.Stretches, count.Stretch{Place: i + 1, Placements: f.integer("placements_"+n, 1, 200), Occupied: f.integer("occupied_"+n, 0, 200)})
	}
	c.Seen = f.seen(facts)
	if !f.ok() {
		return nil
	}
	_, err := s.Books.AddCount(r.Context(), r.act(), c)
	if err := f.take(err); err != nil {
		return err
	}
	for i := range plan.Places {
		n := strconv.Itoa(i + 1)
		f.as("stretches."+n+".occupied", "occupied_"+n)
		f.as("stretches."+n+".placements", "placements_"+n)
	}
	return nil
}

// seen reads the species told apart: all of them, or none.
func (f *form) seen(facts job.Facts) (seen []count.Seen) {
	sown := facts.SownInPlacements()
	any := false
	for i := range sown {
		any = any || f.typed["seen_"+strconv.Itoa(i)] != ""
	}
	for i, one := range sown {
		if any {
			seen = append(seen, count.Seen{Species: one.Species, Placements: f.integer("seen_"+strconv.Itoa(i), 0, 100_000)})
		}
	}
	return seen
}
