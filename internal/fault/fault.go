// Package fault names the four ways in which a request can fail, and carries the
// sentence that tells a person what to change. It refuses to know status codes,
// pages and languages of other layers: those map from Kind at the edge.
package fault

import (
	"errors"
	"fmt"
	"strings"
)

// Kind is one of the four ways to fail.
type Kind int

const (
	Internal Kind = iota // a defect or a broken machine; its text is for the log alone
	Missing              // what was asked for is not there
	Refused              // the input breaks a rule; Field says where, Message what to change
	Clash                // the input was fine, but what is stored moved on or forbids it
)

// String gives the word that calc and the log print.
func (k Kind) String() string {
	return [...]string{"internal", "missing", "invalid", "clash"}[k]
}

// Error is a failure with its kind and, for a refusal, the field it concerns
// ("lots[1].purity_percent"; empty when the whole input is meant).
type Error struct {
	Kind    Kind
	Field   string
	Message string
}

// Error gives the sentence for a person.
func (e *Error) Error() string { return e.Message }

// Refuse reports that the value of a field breaks a rule. The message says what is,
// and what to enter instead.
func Refuse(field, format string, args ...any) error {
	return &Error{Refused, field, fmt.Sprintf(format, args...)}
}

// Miss reports that something asked for does not exist.
func Miss(format string, args ...any) error {
	return &Error{Missing, "", fmt.Sprintf(format, args...)}
}

// Conflict reports that what is stored forbids the act.
func Conflict(format string, args ...any) error {
	return &Error{Clash, "", fmt.Sprintf(format, args...)}
}

// KindOf tells the kind of an error; any error that is not of this package is Internal.
func KindOf(err error) Kind {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Kind
	}
	return Internal
}

// Under puts a prefix before the field of every refusal in err, joined ones too:
// Under("lots[1]", refusal of "purity_percent") concerns "lots[1].purity_percent".
func Under(prefix string, err error) error {
	if err == nil {
		return nil
	}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		var all []error
		for _, one := range joined.Unwrap() {
			all = append(all, Under(prefix, one))
		}
		return errors.Join(all...)
	}
	e, ok := errors.AsType[*Error](err)
	if !ok || e.Kind != Refused {
		return err
	}
	under := *e
	switch {
	case e.Field == "":
		under.Field = prefix
	case strings.HasPrefix(e.Field, "["):
		under.Field = prefix + e.Field
	default:
		under.Field = prefix + "." + e.Field
	}
	return &under
}

// Fields gathers the sentences of every refusal in err, joined ones too, by field.
// The first sentence of a field stands.
func Fields(err error) map[string]string {
	out := map[string]string{}
	gather(err, out)
	return out
}

func gather(err error, out map[string]string) {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, one := range joined.Unwrap() {
			gather(one, out)
		}
		return
	}
	if e, ok := errors.AsType[*Error](err); ok && e.Kind == Refused {
		if _, taken := out[e.Field]; !taken {
			out[e.Field] = e.Message
		}
	}
}
