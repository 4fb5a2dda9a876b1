// Package calc is `rowtally calc`: every calculation that a page or a paper uses, run on
// its own, JSON in and JSON out. It reads strictly, calls one function of the trade's
// packages, and writes what that function answers; it works nothing out itself.
package calc

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"sort"

	"rowtally/internal/fault"
	"rowtally/internal/working"
)

// calculation is one entry of the list: what it is called, what it says of itself, and
// how one JSON object is answered.
type calculation struct {
	name, about string
	answer      func(raw []byte) (any, error)
}

// of makes a calculation out of a function of the trade's packages. In is decoded
// strictly (see decode): a json tag without omitempty is required.
func of[In, Out any](name, about string, work func(In) (Out, error)) calculation {
	return calculation{name, about, func(raw []byte) (any, error) {
		var in In
		if err := decode(raw, &in); err != nil {
			return nil, err
		}
		return work(in)
	}}
}

// all gathers the parts of the list, by name.
func all() []calculation {
	var list []calculation
	for _, part := range parts {
		list = append(list, part()...)
	}
	sort.Slice(list, func(i, k int) bool { return list[i].name < list[k].name })
	return list
}

// parts is the list of lists: one function a field of the trade, each in its own file.
var parts = []func() []calculation{
	seedCalculations,
	mixCalculations,
	groundCalculations,
	machineCalculations,
	billCalculations,
}

// ErrRefused is returned when an input was refused and its answer, already written,
// holds the error: the command ends with status 2 and prints nothing more.
var ErrRefused = errors.New("the input was refused")

// Names lists the calculations, a name and a short description each.
func Names() [][2]string {
	var names [][2]string
	for _, c := range all() {
		names = append(names, [2]string{c.name, c.about})
	}
	return names
}

// Run answers one calculation. With lines, in holds JSON Lines and every line gets one
// line back, in order; else in holds one object. showWorking adds the working.
func Run(name string, lines, showWorking bool, in io.Reader, out io.Writer) error {
	for _, c := range all() {
		if c.name == name {
			if lines {
				return c.runLines(showWorking, in, out)
			}
			return c.runOne(showWorking, in, out)
		}
	}
	return write(out, refusal(fault.Refuse("", "there is no calculation called %q, `rowtally calc` lists them", name)), ErrRefused)
}

func (c calculation) runOne(showWorking bool, in io.Reader, out io.Writer) error {
	raw, err := io.ReadAll(in)
	if err != nil {
		return err
	}
	answer, err := c.Answer(raw, showWorking)
	return write(out, answer, err)
}

func (c calculation) runLines(showWorking bool, in io.Reader, out io.Writer) error {
	reader, buffered := bufio.NewReader(in), bufio.NewWriter(out)
	var refused error
	for {
		line, readErr := reader.ReadBytes('\n')
		if len(bytes.TrimSpace(line)) > 0 {
			answer, err := c.Answer(line, showWorking)
			if err := write(buffered, answer, err); errors.Is(err, ErrRefused) {
				refused = err
			} else if err != nil {
				return err
			}
		}
		if readErr == io.EOF {
			return errors.Join(refused, buffered.Flush())
		}
		if readErr != nil {
			return readErr
		}
	}
}

// Answer answers one JSON object. A refused input gives the error object and ErrRefused.
func (c calculation) Answer(raw []byte, showWorking bool) ([]byte, error) {
	result, err := c.answer(raw)
	if err != nil {
		if fault.KindOf(err) == fault.Internal {
			return nil, err
		}
		return refusal(err), ErrRefused
	}
	answer, err := json.Marshal(result)
	if err != nil {
		return nil, err
	}
	shown, can := result.(working.Shown)
	if !showWorking || !can {
		return answer, nil
	}
	steps, err := json.Marshal(shown.Working())
	if err != nil {
		return nil, err
	}
	return append(append(append(answer[:len(answer)-1], `,"working":`...), steps...), '}'), nil
}

// write puts one answer on one line; err passes through unless writing itself fails.
func write(out io.Writer, answer []byte, err error) error {
	if answer == nil {
		return err
	}
	if _, wrote := out.Write(append(answer, '\n')); wrote != nil {
		return wrote
	}
	return err
}

// refusal is the error object of the contract: kind, field and sentence.
func refusal(err error) []byte {
	first := firstOf(err)
	raw, _ := json.Marshal(map[string]any{"error": map[string]string{
		"kind": first.Kind.String(), "field": first.Field, "message": first.Message,
	}})
	return raw
}

func firstOf(err error) *fault.Error {
	if e, ok := errors.AsType[*fault.Error](err); ok {
		return e
	}
	return &fault.Error{Kind: fault.Internal, Message: err.Error()}
}
