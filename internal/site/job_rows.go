package site

import (
	"strconv"

	"rowtally/internal/job"
)

type rowsPage struct {
	Frame
	Job  job.Job
	Kept bool // rows are laid already, so that other bearings can be tried
	Form formPage
	laidPart
}

// laidPart is what the values typed would lay. A script asks for it alone while a slider is
// dragged.
type laidPart struct {
	Laid    *job.Laid // nil while they do not
	Sketch  *sketch
	Refused string // in the answer to a script: what keeps them from being laid
}

func laidPartOf(laid job.Laid) laidPart {
	return laidPart{Laid: &laid, Sketch: sketchOf(job.MapOfPlan(laid), acrossPage)}
}

// slides names the fields that a script gives a slider, each with its ends and its step.
const slides = "bearing_deg 0 360 1, alley_m 1 40 0.5, headland_m 0 60 0.5"

// Slides is what the page's script reads.
func (rowsPage) Slides() string { return slides }

// jobRows lays a job's rows: "draw" shows what the values typed would lay, "keep" keeps
// them too.
func (s *site) jobRows(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	id := facts.Job.ID
	layout := turned(facts.Layout, r.Query("bearing"))
	f := blank(layoutTyped(layout))
	if r.isPost() {
		f = readForm(r)
		typed := layoutFrom(f, id)
		layout = &typed
	}
	page := rowsPage{Job: facts.Job, Kept: facts.Layout != nil}
	if layout != nil && f.ok() {
		laid, err := job.Lay(facts.Paddock, *layout)
		if err := f.take(err); err != nil {
			return err
		}
		if f.ok() {
			page.laidPart = laidPartOf(laid)
		}
	}
	if r.isPost() && f.ok() && f.typed["act"] == "keep" {
		if err := s.Books.KeepLayout(r.Context(), r.act(), *layout); err == nil {
			return r.see(jobPath(id) + "?done=kept#rows")
		} else if err := f.take(err); err != nil {
			return err
		}
	}
	page.Frame = r.frame("jobs", "Rows of "+facts.Job.Name)
	page.Form = formPage{Frame: page.Frame, Action: r.Path(), Back: jobPath(id),
		Groups: []group{{Fields: f.fields(layoutFields()...)}}}
	page.Form.Head = f.head()
	if !f.ok() {
		r.Status(422)
	}
	return r.show("rows", page)
}

// rowsPreview answers a script with what the values typed so far would lay. It reads the
// job's paddock alone, so that a picture follows a dragged slider.
func (s *site) rowsPreview(r *request) error {
	j, err := named(r, s.Books.Job)
	if err != nil {
		return err
	}
	paddock, err := s.Books.Paddock(r.Context(), j.PaddockID)
	if err != nil {
		return err
	}
	f := readQuery(r)
	layout := layoutFrom(f, j.ID)
	part := laidPart{}
	if f.ok() {
		laid, err := job.Lay(paddock, layout)
		if err := f.take(err); err != nil {
			return err
		}
		part = laidPartOf(laid)
	}
	if !f.ok() {
		part = laidPart{Refused: f.head()}
	}
	return r.showPart("rows", "laid", part)
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

func layoutFrom(f *form, jobID int64) job.Layout {
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
	return l
}

func layoutTyped(l *job.Layout) map[string]string {
	if l == nil {
		return nil
	}
	return map[string]string{
		"bearing_deg": short(l.BearingDeg), "rows_per_belt": strconv.Itoa(l.RowsPerBelt), "row_gap_m": short(l.RowGapM),
		"alley_m": short(l.AlleyM), "headland_m": short(l.HeadlandM), "no_go_margin_m": short(l.NoGoMarginM),
		"spacing_m": short(l.SpacingM), "least_row_m": short(l.LeastRowM),
	}
}

func layoutFields() []Field {
	return []Field{
		{Name: "bearing_deg", Label: "Bearing of the rows", Unit: "° true", Kind: "number", Required: true, Hint: "Mounds make small drains: rows should carry water off the site."},
		{Name: "rows_per_belt", Label: "Rows to a belt", Kind: "number", Required: true},
		{Name: "row_gap_m", Label: "Gap between rows of a belt", Unit: "m", Kind: "number", Hint: "Not needed for single rows."},
		{Name: "alley_m", Label: "Alley", Unit: "m", Kind: "number", Required: true, Hint: "Between the outer rows of neighbouring belts."},
		{Name: "headland_m", Label: "Headland", Unit: "m", Kind: "number", Required: true},
		{Name: "no_go_margin_m", Label: "Kept clear of holes and no-go areas", Unit: "m", Kind: "number", Hint: "The headland when left empty."},
		{Name: "spacing_m", Label: "Placements every", Unit: "m", Kind: "number", Required: true},
		{Name: "least_row_m", Label: "Leave out rows shorter than", Unit: "m", Kind: "number"},
	}
}

// short writes a stored measure as it was typed.
func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
