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
	"iter"
	"slices"
	"strings"

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
	slices.SortFunc(list, func(a, b calculation) int { return strings.Compare(a.name, b.name) })
	return list
}

// parts is the list of lists: one function a field of the trade, each in its own file.
var parts = []func() []calculation{
	seedCalculations,
	mixCalculations,
	groundCalculations,
	sownCalculations,
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
	raw, err := io.ReadAll(io.LimitReader(in, mostInput+1))
	if err != nil {
		return err
	}
	answer, err := c.Answer(raw, showWorking)
	return write(out, answer, err)
}

// runLines answers line by line. An answer is handed on before the next line is waited
// for, so that a program may ask and listen in turn. A line that meets a defect is
// answered as such, the others follow, and the defect is returned.
func (c calculation) runLines(showWorking bool, in io.Reader, out io.Writer) error {
	reader, buffered := bufio.NewReader(in), bufio.NewWriter(out)
	var refused, broken error
	for line, err := range linesOf(reader) {
		if err != nil {
			return errors.Join(buffered.Flush(), err)
		}
		answer, err := c.Answer(line, showWorking)
		switch {
		case answer == nil:
			answer, broken = refusal(errDefect), errors.Join(broken, err)
		case err != nil:
			refused = err
		}
		if err := write(buffered, answer, nil); err != nil {
			return err
		}
		if reader.Buffered() == 0 {
			if err := buffered.Flush(); err != nil {
				return err
			}
		}
	}
	if broken != nil {
		refused = nil
	}
	return errors.Join(refused, broken, buffered.Flush())
}

// errDefect stands in the answer to a line for an error whose text is for the log alone.
var errDefect = errors.New("this could not be worked out, which is a defect of the program")

// linesOf yields each line; empty ones at the end of the input are none.
func linesOf(reader *bufio.Reader) iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		for empty := 0; ; {
			line, err := reader.ReadBytes('\n')
			if len(bytes.TrimSpace(line)) == 0 {
				empty++
			} else {
				for ; empty > 0; empty-- {
					if !yield(nil, nil) {
						return
					}
				}
				if !yield(line, nil) {
					return
				}
			}
			if err == io.EOF {
				return
			}
			if err != nil {
				yield(nil, err)
				return
			}
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
	separator := ","
	if string(answer) == "{}" {
		separator = ""
	}
	return slices.Concat(answer[:len(answer)-1], []byte(separator+`"working":`), steps, []byte("}")), nil
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
