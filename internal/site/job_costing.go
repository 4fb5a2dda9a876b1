package site

import (
	"strconv"

	"rowtally/internal/job"
	"rowtally/internal/money"
)

// otherRows is how many lines of others' work the form offers.
const otherRows = 4

type costingPage struct {
	Frame
	Job      job.Job
	Head     string
	Machines []Field
	Time     job.MachineTime // how long the rows take their sower
	Hands    []Field
	Way      []Field
	Others   []otherRow
	Resow    []Field
}

// otherRow is one line of others' work.
type otherRow struct{ What, Quantity, Unit, Price, Billed Field }

// jobCosting enters what a job costs beyond what its other pages hold.
func (s *site) jobCosting(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	f := blank(costingTyped(facts))
	if r.isPost() {
		f = readForm(r)
		costing := costingFrom(f, facts)
		if f.ok() {
			f.heed(costing.Check())
		}
		if err := f.tryCost(facts, costing); err != nil {
			return err
		}
		if f.ok() {
			if err := s.Books.KeepCosting(r.Context(), r.act(), costing); err == nil {
				return r.see(jobPath(facts.Job.ID) + "/cost?done=kept")
			} else if err := f.take(err); err != nil {
				return err
			}
		}
		r.Status(422)
	}
	return r.show("job_costing", drawCosting(r, f, facts))
}

// tryCost reckons the job with what was typed, so that what no money holds is refused before
// it is kept. What other pages still lack is no fault of this form.
func (f *form) tryCost(facts job.Facts, costing job.Costing) error {
	if !f.ok() {
		return nil
	}
	facts.Costs.Costing = &costing
	if _, err := facts.Rows(); err != nil && !facts.Rowless() {
		return nil
	}
	_, err := job.CostOf(facts)
	return f.take(err)
}

func drawCosting(r *request, f *form, facts job.Facts) costingPage {
	page := costingPage{Frame: r.frame("jobs", "What "+facts.Job.Name+" takes beside its seed"), Job: facts.Job, Time: facts.MachineTime()}
	for _, m := range facts.Yard.Machines {
		page.Machines = append(page.Machines, f.field(Field{Name: "hours_" + strconv.FormatInt(m.ID, 10), Label: m.Name, Kind: "number", Unit: "h"}))
	}
	page.Hands = f.fields(
		Field{Name: "hand_h", Label: "Hours of hands, planned", Kind: "number", Unit: "h", Hint: "Beside the machine hours: mixing, calibrating, walking the rows."},
		Field{Name: "hand_done_h", Label: "Hours of hands, as worked", Kind: "number", Unit: "h", Hint: "Empty while nobody has added them up."})
	page.Way = f.fields(
		Field{Name: "float_km", Label: "Driven out and back", Kind: "number", Unit: "km"},
		Field{Name: "float_share_percent", Label: "Borne by this job", Kind: "number", Unit: "%", Hint: "100 unless the trip serves a neighbour too."},
		Field{Name: "float_share_why", Label: "How it is shared", Hint: "Which jobs bear the rest."},
		Field{Name: "float_done_km", Label: "Driven, as it was", Kind: "number", Unit: "km", Hint: "Of the whole trip; empty until it is read."})
	for i := range otherRows {
		page.Others = append(page.Others, drawOther(f, strconv.Itoa(i)))
	}
	page.Resow = f.fields(
		Field{Name: "resow_percent", Label: "Set aside to sow again", Kind: "number", Unit: "%", Hint: "Of seed, medium, machines and labour."},
		Field{Name: "resow_why", Label: "Why it may be needed"})
	page.Head = f.head()
	return page
}

func drawOther(f *form, n string) otherRow {
	return otherRow{
		What:     f.field(Field{Name: "what_" + n, Label: "Work of others"}),
		Quantity: f.field(Field{Name: "quantity_" + n, Label: "Quantity", Kind: "number"}),
		Unit:     f.field(Field{Name: "unit_" + n, Label: "Unit", Kind: "select", Options: rateUnits}),
		Price:    f.field(Field{Name: "price_" + n, Label: "Price a unit", Kind: "number"}),
		Billed:   f.field(Field{Name: "billed_" + n, Label: "Billed by them", Kind: "number"}),
	}
}

// costingFrom reads the form. A machine without hours is not planned; a line of others' work
// is left out only when it is empty.
func costingFrom(f *form, facts job.Facts) job.Costing {
	c := job.Costing{JobID: facts.Job.ID, HandH: f.price("hand_h", false), HandDoneH: f.told("hand_done_h"),
		FloatKm: f.price("float_km", false), FloatDoneKm: f.told("float_done_km"), FloatSharePercent: f.price("float_share_percent", false),
		FloatShareWhy: f.text("float_share_why"), ResowPercent: f.price("resow_percent", false), ResowWhy: f.text("resow_why")}
	for _, m := range facts.Yard.Machines {
		if hours := f.price("hours_"+strconv.FormatInt(m.ID, 10), false); hours.Sign() > 0 {
			c.Machines = append(c.Machines, job.MachineHours{MachineID: m.ID, Hours: hours})
		}
	}
	for i := range otherRows {
		n := strconv.Itoa(i)
		if f.typed["what_"+n] == "" && f.typed["quantity_"+n] == "" && f.typed["price_"+n] == "" && f.typed["billed_"+n] == "" {
			continue
		}
		other := job.OthersWork{What: f.must("what_"+n, "Say what others do."), Quantity: f.price("quantity_"+n, true), Unit: f.oneOf("unit_"+n, rateUnits),
			UnitPrice: f.price("price_"+n, true), Billed: f.told("billed_" + n)}
		if other.Quantity.Sign() == 0 {
			f.refuse("quantity_"+n, "Enter how much of it, above 0.")
		}
		c.Others = append(c.Others, other)
	}
	return c
}

// told is a figure that may not be known yet; nil while the field is empty.
func (f *form) told(name string) *money.Factor {
	if f.typed[name] == "" {
		return nil
	}
	return new(f.price(name, true))
}

// costingTyped begins the form: with what is kept, else with the whole way borne.
func costingTyped(facts job.Facts) map[string]string {
	typed := map[string]string{"float_share_percent": "100"}
	c := facts.Costs.Costing
	if c == nil {
		return typed
	}
	for name, figure := range map[string]money.Factor{"hand_h": c.HandH, "float_km": c.FloatKm, "float_share_percent": c.FloatSharePercent, "resow_percent": c.ResowPercent} {
		if figure.Sign() != 0 {
			typed[name] = figure.String()
		}
	}
	for name, figure := range map[string]*money.Factor{"hand_done_h": c.HandDoneH, "float_done_km": c.FloatDoneKm} {
		if figure != nil {
			typed[name] = figure.String()
		}
	}
	typed["float_share_why"], typed["resow_why"] = c.FloatShareWhy, c.ResowWhy
	for _, m := range c.Machines {
		typed["hours_"+strconv.FormatInt(m.MachineID, 10)] = m.Hours.String()
	}
	for i, o := range c.Others {
		n := strconv.Itoa(i)
		typed["what_"+n], typed["quantity_"+n], typed["unit_"+n], typed["price_"+n] = o.What, o.Quantity.String(), o.Unit, o.UnitPrice.Plain()
		if o.Billed != nil {
			typed["billed_"+n] = o.Billed.Plain()
		}
	}
	return typed
}
