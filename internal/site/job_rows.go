package site

import (
	"errors"
	"strconv"

	"rowtally/internal/job"
	"rowtally/internal/working"
)

type rowsPage struct {
	Frame
	Job  job.Job
	Kept bool // the job's own rows are laid already, so that other bearings can be tried
	Form formPage
	More bool // something of the second part of the form is filled
	laidPart
}

// laidPart is what the values typed would lay. A script asks for it alone while a slider is
// dragged.
type laidPart struct {
	Laid    *job.Laid        // nil while they do not
	Time    *job.MachineTime // nil while no rate is known
	Worked  working.Steps
	Sketch  *sketch // with the names of corners and no-go areas; of the ground alone while nothing is laid
	Refused string  // in the answer to a script: what keeps them from being laid
}

func laidPartOf(facts job.Facts, laid job.Laid) laidPart {
	part := laidPart{Laid: &laid, Worked: laid.Working(), Sketch: namedSketchOf(job.MapOfPlan(laid), laid.Ground.Names(), acrossPage)}
	if time := facts.TimeOver(laid); time.Cannot == "" {
		part.Time, part.Worked = &time, append(part.Worked, time.Working()...)
	}
	return part
}

// slides names the fields that a script gives a slider, each with its ends and its step.
const slides = "bearing_deg 0 360 1, alley_m 1 40 0.5, headland_m 0 60 0.5"

// Slides is what the page's script reads.
func (rowsPage) Slides() string { return slides }

// basicGroups is how many groups of the form are always open.
const basicGroups = 1

// jobRows lays a job's rows: "draw" shows what the values typed would lay, "keep" keeps
// them too.
func (s *site) jobRows(r *request) error {
	facts, one, err := s.jobOrAlternative(r)
	if err != nil {
		return err
	}
	id := facts.Job.ID
	layout := turned(facts.Layout, r.Query("bearing"))
	survey := surveyed(facts.Paddock)
	f := blank(layoutTyped(layout, survey))
	if r.isPost() {
		f = readForm(r)
		typed, err := layoutFrom(f, id, survey)
		if err != nil {
			return err
		}
		layout = &typed
	}
	page := rowsPage{Job: facts.Job, Kept: facts.Layout != nil && one.Letter == "", laidPart: groundPart(survey)}
	if layout != nil && f.ok() {
		laid, err := job.Lay(facts.Paddock, *layout)
		if err := f.take(err); err != nil {
			return err
		}
		if f.ok() {
			page.laidPart = laidPartOf(facts, laid)
		}
	}
	if r.isPost() && f.ok() && f.typed["act"] == "keep" {
		if err := s.keepLayout(r, one, *layout); err == nil {
			return r.see(keptAt(id, one, "rows"))
		} else if err := f.take(err); err != nil {
			return err
		}
	}
	page.Frame = r.frame("jobs", "Rows of "+facts.Job.Name+inAlternative(one))
	page.Form = formPage{Frame: page.Frame, Action: r.Path(), Back: backFrom(id, one),
		Groups: f.groups(layoutGroups()...)}
	page.Form.Head, page.More = f.head(), f.filled(page.Form.Groups[basicGroups:])
	if !f.ok() {
		r.Status(422)
	}
	return r.show("rows", page)
}

// rowsPreview answers a script with what the values typed so far would lay.
func (s *site) rowsPreview(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	paddock := facts.Paddock
	f := readQuery(r)
	survey := surveyed(paddock)
	layout, err := layoutFrom(f, facts.Job.ID, survey)
	if err != nil {
		return err
	}
	part := groundPart(survey)
	if f.ok() {
		laid, err := job.Lay(paddock, layout)
		if err := f.take(err); err != nil {
			return err
		}
		part = laidPartOf(facts, laid)
	}
	if !f.ok() {
		part.Refused = f.head()
	}
	return r.showPart("rows", "laid", part)
}

// groundPart draws the ground alone, so that its corners can be named before rows are laid.
func groundPart(survey job.Ground) laidPart {
	return laidPart{Sketch: namedSketchOf(job.MapOfGround(survey), survey.Names(), acrossPage)}
}

// surveyed is the paddock's ground; the zero Ground while no boundary is read.
func surveyed(p job.Paddock) job.Ground {
	g, err := job.Survey(p)
	if err != nil {
		return job.Ground{}
	}
	return g
}

// groups draws groups of fields.
func (f *form) groups(all ...group) []group {
	for i := range all {
		all[i].Fields = f.fields(all[i].Fields...)
	}
	return all
}

// filled tells whether any field of some groups holds a value, or a sentence of what to change.
func (f *form) filled(groups []group) bool {
	for _, g := range groups {
		for _, field := range g.Fields {
			if field.Value != "" || field.Error != "" {
				return true
			}
		}
	}
	return false
}

// turned is the layout along another bearing, as a link asks for it; without one, or with
// one that is no bearing, it is the layout as kept.
func turned(kept *job.Layout, bearing string) *job.Layout {
	deg, err := strconv.ParseFloat(bearing, 64)
	if kept == nil || err != nil || !(deg >= 0 && deg <= 360) {
		return kept
	}
	l := *kept
	l.BearingDeg = deg
	return &l
}

func layoutFrom(f *form, jobID int64, ground job.Ground) (job.Layout, error) {
	l := job.Layout{
		JobID:       jobID,
		BearingDeg:  f.number("bearing_deg", 0, 360),
		RowsPerBelt: f.integer("rows_per_belt", 1, 50),
		AlleyM:      f.number("alley_m", 0.5, 500),
		HeadlandM:   f.number("headland_m", 0, 500),
		SpacingM:    f.number("spacing_m", 0.1, 100),
		LeastRowM:   f.maybe("least_row_m", 0, 10_000, 0),
	}
	l.NoGoMarginM = f.maybe("no_go_margin_m", 0, 500, l.HeadlandM)
	if l.RowsPerBelt > 1 {
		l.RowGapM = f.number("row_gap_m", 0.1, 100)
	}
	var wrongEdges, wrongMargins error
	l.Edges, wrongEdges = ground.ReadEdges(f.text("edges"))
	l.NoGoMargins, wrongMargins = ground.ReadMargins(f.text("no_go_margins"))
	if err := errors.Join(f.take(wrongEdges), f.take(wrongMargins)); err != nil {
		return l, err
	}
	f.drivenFrom(&l)
	return l, nil
}

// drivenFrom reads where driving begins, the passes round the headland, and the rate.
func (f *form) drivenFrom(l *job.Layout) {
	switch l.Phase = job.Phase(f.typed["phase"]); l.Phase {
	case job.PhaseAtHeadland, job.PhaseBest:
	case job.PhaseTyped:
		l.PhaseM = f.number("phase_m", 0, 10_000)
	default:
		f.refuse("phase", "Choose where the first row stands from the list.")
	}
	l.FromRight = f.typed["from_side"] == "right"
	if f.typed["headland_passes"] != "" {
		l.HeadlandPasses = f.integer("headland_passes", 0, 20)
	}
	l.CountHeadlands = f.typed["count_headlands"] == "on"
	l.SpeedKmh = f.maybe("speed_kmh", 0.1, 30, 0)
	l.TurnS = f.maybe("turn_s", 0, 3600, 0)
	l.OtherEfficiencyPercent = f.maybe("other_efficiency_percent", 1, 100, 0)
	if l.SpeedKmh == 0 && (l.TurnS > 0 || l.OtherEfficiencyPercent > 0) {
		f.refuse("speed_kmh", "Enter the speed too: without it there is no rate.")
	}
}

func layoutTyped(l *job.Layout, ground job.Ground) map[string]string {
	if l == nil {
		return nil
	}
	typed := map[string]string{
		"bearing_deg": short(l.BearingDeg), "rows_per_belt": strconv.Itoa(l.RowsPerBelt), "row_gap_m": short(l.RowGapM),
		"alley_m": short(l.AlleyM), "headland_m": short(l.HeadlandM), "no_go_margin_m": short(l.NoGoMarginM),
		"spacing_m": short(l.SpacingM), "least_row_m": short(l.LeastRowM),
		"phase": string(l.Phase), "edges": ground.EdgesTyped(*l), "no_go_margins": ground.MarginsTyped(*l),
		"speed_kmh": unlessZero(l.SpeedKmh), "other_efficiency_percent": unlessZero(l.OtherEfficiencyPercent),
		"headland_passes": unlessZero(float64(l.HeadlandPasses)),
	}
	if l.Phase == job.PhaseTyped {
		typed["phase_m"] = short(l.PhaseM)
	}
	if l.SpeedKmh > 0 {
		typed["turn_s"] = short(l.TurnS)
	}
	if l.FromRight {
		typed["from_side"] = "right"
	}
	if l.CountHeadlands {
		typed["count_headlands"] = "on"
	}
	return typed
}

// unlessZero is a measure as it was typed, and nothing where none was.
func unlessZero(v float64) string {
	if v == 0 {
		return ""
	}
	return short(v)
}

func layoutGroups() []group {
	return []group{{Fields: layoutFields()},
		{Heading: "Clear of single edges and no-go areas", Lead: "Corners have letters; no-go areas, lines and points have numbers on the picture.", Fields: []Field{
			{Name: "edges", Label: "Headlands of their own", Kind: "textarea", Hint: "A line each, in the order of the letters: C to E: 12 m, drain. Where two speak of one edge the wider holds."},
			{Name: "no_go_margins", Label: "No-go margins of their own", Kind: "textarea", Hint: "A line each: 2: 30 m, bore. A line or a point needs more than 0 m."},
		}},
		{Heading: "First row and driving", Fields: []Field{
			{Name: "phase", Label: "First row", Kind: "select", Required: true, Options: []Option{{"", "at the headland"}, {string(job.PhaseTyped), "at a distance of my own"}, {string(job.PhaseBest), "where most row-km fit"}}},
			{Name: "phase_m", Label: "Distance of my own", Unit: "m", Kind: "number", Hint: "From the paddock's left-most point, seen along the bearing."},
			{Name: "from_side", Label: "Driven from", Kind: "select", Required: true, Options: []Option{{"", "the left"}, {"right", "the right"}}, Hint: "Seen along the bearing. Rows are numbered as they are driven."},
		}},
		{Heading: "Round the headland", Fields: []Field{
			{Name: "headland_passes", Label: "Passes round the headland", Kind: "number", Inputmode: "numeric", Hint: "Belts along the edge of what may be sown; the rows move in by as much."},
			{Name: "count_headlands", Label: "Count them in the row-km", Kind: "tick"},
		}},
		{Heading: "At what rate", Fields: []Field{
			{Name: "speed_kmh", Label: "Speed", Unit: "km/h", Kind: "number"},
			{Name: "turn_s", Label: "A turn takes", Unit: "s", Kind: "number"},
			{Name: "other_efficiency_percent", Label: "Of the time at work, besides turns", Unit: "%", Kind: "number", Hint: "Filling, checking, waiting; 100 when left empty."},
		}},
	}
}

func layoutFields() []Field {
	return []Field{
		{Name: "bearing_deg", Label: "Bearing of the rows", Unit: "° true", Kind: "number", Required: true, Hint: "Mounds make small drains: rows should carry water off the site."},
		{Name: "rows_per_belt", Label: "Rows to a belt", Kind: "number", Required: true},
		{Name: "row_gap_m", Label: "Gap between rows of a belt", Unit: "m", Kind: "number", Hint: "Not needed for single rows."},
		{Name: "alley_m", Label: "Alley", Unit: "m", Kind: "number", Required: true, Hint: "Between the outer rows of neighbouring belts."},
		{Name: "headland_m", Label: "Headland", Unit: "m", Kind: "number", Required: true},
		{Name: "no_go_margin_m", Label: "Kept clear of holes and no-go areas", Unit: "m", Kind: "number", Hint: "The headland when left empty. A no-go line or point has no width: at 0 m it would keep no row off, and needs a margin here or of its own."},
		{Name: "spacing_m", Label: "Placements every", Unit: "m", Kind: "number", Required: true},
		{Name: "least_row_m", Label: "Leave out rows shorter than", Unit: "m", Kind: "number"},
	}
}

// short writes a stored measure as it was typed.
func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
