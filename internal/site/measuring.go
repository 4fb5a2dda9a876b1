package site

import (
	"fmt"
	"strconv"

	"rowtally/internal/job"
)

// measuring sets how the rows of every job are measured that has no settings of its own.
func (s *site) measuring(r *request) error {
	kept, err := s.Books.Measuring(r.Context(), 0)
	if err != nil {
		return err
	}
	f := blank(measuringTyped(kept))
	if r.isPost() {
		f = readForm(r)
		m := measuringFrom(f, 0)
		if f.ok() {
			f.heed(m.Check())
		}
		if f.ok() {
			if err := s.Books.KeepMeasuring(r.Context(), r.act(), m); err != nil {
				return err
			}
			return r.see("/business?done=kept")
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("", "How rows are measured"), Button: "Keep the settings", Back: "/business",
		Lead:   "These hold for every job that has none of its own, from its next match on. Records that are made stay as they are until their logs are matched again.",
		Groups: measuringGroups(),
	})
}

// jobMeasuring gives a job settings of its own, and matches its logs with them. What
// cannot be matched is not kept.
func (s *site) jobMeasuring(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	f := blank(measuringTyped(facts.Measured()))
	if r.isPost() {
		f = readForm(r)
		facts.Measuring = measuringFrom(f, facts.Job.ID)
		if f.ok() {
			f.heed(facts.Measuring.Check())
		}
		if f.ok() {
			if err := s.measureBy(r, f, facts); err != nil {
				return err
			}
		}
		if f.ok() {
			return r.see(jobPath(facts.Job.ID) + "/sown?done=measured")
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("jobs", "How the rows of "+facts.Job.Name+" are measured"), Button: "Keep and match again", Back: jobPath(facts.Job.ID) + "/sown",
		Lead:   "For this job alone. Its logs are matched again as soon as these are kept.",
		Groups: measuringGroups(),
	})
}

// measureBy keeps a job's settings once its logs are matched with them.
func (s *site) measureBy(r *request, f *form, facts job.Facts) error {
	record, matched, err := s.matched(r, facts)
	if err := f.take(err); err != nil || !f.ok() {
		return err
	}
	if err := s.Books.KeepMeasuring(r.Context(), r.act(), facts.Measuring); err != nil || !matched {
		return err
	}
	return s.keepSown(r, record)
}

// measuringUsual lets a job be measured as every other again.
func (s *site) measuringUsual(r *request) error {
	facts, err := s.jobFacts(r)
	if err != nil {
		return err
	}
	if facts.Measuring, err = s.Books.Measuring(r.Context(), 0); err != nil {
		return err
	}
	record, matched, err := s.matched(r, facts)
	if err != nil {
		return err
	}
	if err := s.Books.DropMeasuring(r.Context(), r.act(), facts.Job.ID); err != nil {
		return err
	}
	if matched {
		if err := s.keepSown(r, record); err != nil {
			return err
		}
	}
	return r.see(jobPath(facts.Job.ID) + "/sown?done=measured")
}

// measure is one setting of how rows are measured, with the least and the most that it may
// be and its place in the noun.
type measure struct {
	Field
	low, high float64
	of        func(*job.Measuring) *float64
}

// measures are the settings but for the whole number of fixes, in the order of the form.
var measures = []measure{
	{Field{Name: "cross_track_m", Label: "Beside the row, at most", Unit: "m", Hint: "How far the middle line of a pass may lie beside its row. Never past half way to the next row by more than the log scatters."},
		0.01, 100, func(m *job.Measuring) *float64 { return &m.CrossTrackM }},
	{Field{Name: "heading_deg", Label: "Off the row's bearing, at most", Unit: "degrees", Hint: "From the way driven over 10 m and more, never from one fix to the next."},
		1, 45, func(m *job.Measuring) *float64 { return &m.HeadingDeg }},
	{Field{Name: "least_pass_m", Label: "Shortest pass that counts", Unit: "m"},
		0, 1000, func(m *job.Measuring) *float64 { return &m.LeastPassM }},
	{Field{Name: "bridge_m", Label: "Longest dropout that is bridged", Unit: "m", Hint: "Only where both sides lie on one line and the same rows. What is bridged is said apart."},
		0, 1000, func(m *job.Measuring) *float64 { return &m.BridgeM }},
	{Field{Name: "hold_m", Label: "Off the line before a pass ends", Unit: "m", Hint: "And for as many fixes as stand below, so that one stray fix ends nothing."},
		0, 100, func(m *job.Measuring) *float64 { return &m.HoldM }},
	{Field{Name: "speed_min_kmh", Label: "Slowest sowing", Unit: "km/h", Hint: "Speeds tell sowing only where the log does not say whether the machine was down."},
		0, 100, func(m *job.Measuring) *float64 { return &m.SpeedMinKmh }},
	{Field{Name: "speed_max_kmh", Label: "Fastest sowing", Unit: "km/h"},
		0.1, 200, func(m *job.Measuring) *float64 { return &m.SpeedMaxKmh }},
	{Field{Name: "flag_lag_s", Label: "Logged state trails the machine by", Unit: "s", Hint: "Below zero when it runs ahead. 0 where it is not known."},
		-60, 60, func(m *job.Measuring) *float64 { return &m.FlagLagS }},
	{Field{Name: "counter_err_percent", Label: "The placement counter may err by", Unit: "%"},
		0, 100, func(m *job.Measuring) *float64 { return &m.CounterErrPercent }},
	{Field{Name: "spacing_m", Label: "Spacing as measured in the row", Unit: "m", Hint: "0 where it was not measured: the spacing as laid is used."},
		0, 100, func(m *job.Measuring) *float64 { return &m.SpacingM }},
	{Field{Name: "spacing_err_percent", Label: "The spacing may err by", Unit: "%"},
		0, 100, func(m *job.Measuring) *float64 { return &m.SpacingErrPercent }},
	{Field{Name: "mix_err_percent", Label: "The litres of mix used may err by", Unit: "%"},
		0, 100, func(m *job.Measuring) *float64 { return &m.MixErrPercent }},
	{Field{Name: "rate_err_percent", Label: "The litres a row-km may err by", Unit: "%", Hint: "What the catch test leaves open."},
		0, 100, func(m *job.Measuring) *float64 { return &m.RateErrPercent }},
}

// judged is where the settings of the three ways begin among the measures.
const judged = 8

func measuringTyped(m job.Measuring) map[string]string {
	typed := map[string]string{"hold_fixes": strconv.Itoa(m.HoldFixes)}
	for _, one := range measures {
		typed[one.Name] = short(*one.of(&m))
	}
	return typed
}

func measuringFrom(f *form, jobID int64) job.Measuring {
	m := job.Measuring{JobID: jobID, HoldFixes: f.integer("hold_fixes", 1, 100)}
	for _, one := range measures {
		*one.of(&m) = f.number(one.Name, one.low, one.high)
	}
	return m
}

func measuringGroups() []group {
	usual := measuringTyped(job.UsualMeasuring)
	drawn := func(list []measure) (fields []Field) {
		for _, one := range list {
			fields = append(fields, usually(one.Field, usual[one.Name]))
		}
		return fields
	}
	match := drawn(measures[:judged])
	holdFixes := usually(Field{Name: "hold_fixes", Label: "Fixes off the line before a pass ends", Inputmode: "numeric"}, usual["hold_fixes"])
	return []group{
		{Heading: "When a log counts as sowing on a row", Lead: "The figures that stand here at first are our own choice for tractors on rows metres apart. None is published.", Fields: append(match[:5:5], append([]Field{holdFixes}, match[5:]...)...)},
		{Heading: "What each of the three ways may err by", Lead: "Your own judgement, about 95 in 100. Two ways agree when they lie within what both may err by together. What the log may err by follows from its own scatter.", Fields: drawn(measures[judged:])},
	}
}

// usually adds to a field's hint what it begins with.
func usually(d Field, value string) Field {
	d.Kind, d.Required = "number", true
	hint := fmt.Sprintf("At first %s.", value)
	if d.Hint != "" {
		hint = d.Hint + " " + hint
	}
	d.Hint = hint
	return d
}
