// Command truck is the domain compiled to WebAssembly for the truck page: a few calls,
// JSON in and JSON out, each answered by package job, which answers the office's pages by
// the same functions. It works nothing out itself, and it refuses to know the page.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"rowtally/internal/fault"
	"rowtally/internal/job"
	"rowtally/internal/unit"
)

// asked is one call. Job is left out where the call before had the same one.
type asked struct {
	Call    string
	Job     *job.TruckJob
	Entries []job.TruckEntry
	Entry   *job.TruckEntry
	Trial   *job.CatchTrial
	Remains *job.Remains // at a clean-out
	Place   int          // of the plan of a count, from 1
	Here    job.Here     // where the phone is
	Label   job.TubLabel // what the bag should be
	Read    string       // what its label says
	Today   unit.Date
	Began   time.Time // of the day
}

// refusal is why there is no answer.
type refusal struct {
	Refused string
	Field   string `json:",omitempty"`
}

// labelled is what a bag's label comes to.
type labelled struct{ Mistaken string }

// calls is all that the page may ask.
var calls = map[string]func(asked) (any, error){
	"view":    func(a asked) (any, error) { return a.Job.View(a.Entries, a.Today, a.Began) },
	"catch":   func(a asked) (any, error) { return a.Job.With(a.Entries).TryCatch(*a.Trial) },
	"remains": func(a asked) (any, error) { return a.Job.With(a.Entries).TryRemains(*a.Remains) },
	"toward":  func(a asked) (any, error) { return a.Job.Toward(a.Place, a.Here) },
	"label":   func(a asked) (any, error) { return labelled{a.Label.Mistaken(a.Read)}, nil },
	"check":   func(a asked) (any, error) { return struct{}{}, a.Entry.Check(a.Today) },
}

// engine remembers the job asked about last, so that a large one is read once.
type engine struct{ job *job.TruckJob }

// answer takes one call and gives its answer, or a refusal; both are JSON.
func (e *engine) answer(in []byte) []byte {
	out, err := e.work(in)
	if err != nil {
		out = refusalOf(err)
	}
	text, err := json.Marshal(out)
	if err != nil {
		text, _ = json.Marshal(refusalOf(err))
	}
	return text
}

func (e *engine) work(in []byte) (out any, err error) {
	defer func() {
		if broken := recover(); broken != nil {
			err = fmt.Errorf("the engine failed: %v", broken)
		}
	}()
	var a asked
	if err := json.Unmarshal(in, &a); err != nil {
		return nil, err
	}
	if a.Job != nil {
		e.job = a.Job
	}
	a.Job = e.job
	call, known := calls[a.Call]
	if !known || a.Job == nil && a.Call != "check" && a.Call != "label" {
		return nil, fault.Refuse("Call", "there is no call %q, or it lacks its job", a.Call)
	}
	return call(a)
}

func refusalOf(err error) refusal {
	out := refusal{Refused: err.Error()}
	if told, ok := errors.AsType[*fault.Error](err); ok {
		out.Field = told.Field
	}
	return out
}
