package calc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"unicode/utf8"

	"rowtally/internal/fault"
)

// mostInput bounds one JSON object, in bytes: a season's logs stay far below it.
const mostInput = 64 << 20

// decode reads one JSON object into target, a pointer to a struct, strictly: a field
// that the struct does not name, a missing one whose tag lacks omitempty, a wrong type,
// a field given twice and trailing text are refused, each naming the field. null stands
// for a field left out, and so only where it may be.
func decode(raw []byte, target any) error {
	if len(raw) > mostInput {
		return fault.Refuse("", "the input has %d bytes, send at most %d", len(raw), mostInput)
	}
	if !utf8.Valid(raw) {
		return fault.Refuse("", "the input is not UTF-8 text, save it as UTF-8")
	}
	r := reader{json.NewDecoder(bytes.NewReader(raw)), raw}
	r.UseNumber()
	if err := r.value(reflect.TypeOf(target).Elem(), "", false); err != nil {
		return err
	}
	if _, err := r.Token(); err != io.EOF {
		return fault.Refuse("", "there is text after the JSON object, send one object alone")
	}
	if err := json.Unmarshal(raw, target); err != nil {
		if wrong, ok := errors.AsType[*json.UnmarshalTypeError](err); ok {
			return fault.Refuse(wrong.Field, "%s cannot be a %s", wrong.Field, wrong.Value)
		}
		return fault.Refuse("", "%v", err)
	}
	return nil
}

var unmarshaler = reflect.TypeFor[json.Unmarshaler]()

// reader walks the tokens of one JSON text against the Go types that will hold it.
type reader struct {
	*json.Decoder
	raw []byte
}

// value walks one value. optional tells that it may be null.
func (r reader) value(want reflect.Type, path string, optional bool) error {
	token, err := r.Token()
	if err != nil {
		return notJSON(path, err)
	}
	if token == nil {
		if optional {
			return nil
		}
		return fault.Refuse(path, "%s is null, give a value", nameOf(path))
	}
	if want.Kind() == reflect.Pointer {
		want = want.Elem()
	}
	open, nested := token.(json.Delim)
	switch {
	case want.Implements(unmarshaler) || reflect.PointerTo(want).Implements(unmarshaler):
		return r.own(token, want, path)
	case want.Kind() == reflect.Struct:
		if !nested || open != '{' {
			return wrongType(path, "an object", token)
		}
		return r.object(want, path)
	case want.Kind() == reflect.Slice:
		if !nested || open != '[' {
			return wrongType(path, "a list", token)
		}
		return r.list(want.Elem(), path)
	}
	return scalar(token, want, path)
}

func (r reader) list(each reflect.Type, path string) error {
	for i := 0; r.More(); i++ {
		if err := r.value(each, path+"["+strconv.Itoa(i)+"]", false); err != nil {
			return err
		}
	}
	return r.closing(path)
}

func (r reader) object(want reflect.Type, path string) error {
	fields := fieldsOf(want)
	seen := map[string]bool{}
	for r.More() {
		token, err := r.Token()
		if err != nil {
			return notJSON(path, err)
		}
		name := token.(string)
		field, known := fields[name]
		if !known {
			return fault.Refuse(join(path, brief(name)), "there is no field %q here; the fields are %s", brief(name), namesOf(fields))
		}
		if seen[name] {
			return fault.Refuse(join(path, name), "%q is given twice", name)
		}
		seen[name] = true
		if err := r.value(field.Type, join(path, name), optional(field)); err != nil {
			return err
		}
	}
	if err := r.closing(path); err != nil {
		return err
	}
	for _, name := range sorted(fields) {
		if !seen[name] && !optional(fields[name]) {
			return fault.Refuse(join(path, name), "%s is missing, give it", name)
		}
	}
	return nil
}

// own lets a type that reads its own JSON say what is wrong with the value.
func (r reader) own(token json.Token, want reflect.Type, path string) error {
	raw, err := r.rest(token)
	if err != nil {
		return notJSON(path, err)
	}
	if err := json.Unmarshal(raw, reflect.New(want).Interface()); err != nil {
		if fault.KindOf(err) == fault.Refused {
			return fault.Under(path, err)
		}
		return fault.Refuse(path, "%v", err)
	}
	return nil
}

// rest is the whole JSON text of the value that token, just read, begins. It skips by
// counting what is open, so that no depth of nesting can exhaust it.
func (r reader) rest(token json.Token) ([]byte, error) {
	if _, nested := token.(json.Delim); !nested {
		return json.Marshal(token)
	}
	start := r.InputOffset() - 1
	for depth := 1; depth > 0; {
		token, err := r.Token()
		if err != nil {
			return nil, err
		}
		switch token {
		case json.Delim('{'), json.Delim('['):
			depth++
		case json.Delim('}'), json.Delim(']'):
			depth--
		}
	}
	return r.raw[start:r.InputOffset()], nil
}

func (r reader) closing(path string) error {
	if _, err := r.Token(); err != nil {
		return notJSON(path, err)
	}
	return nil
}

func scalar(token json.Token, want reflect.Type, path string) error {
	switch want.Kind() {
	case reflect.String:
		if _, ok := token.(string); !ok {
			return wrongType(path, "a text", token)
		}
	case reflect.Bool:
		if _, ok := token.(bool); !ok {
			return wrongType(path, "true or false", token)
		}
	case reflect.Float64:
		n, ok := token.(json.Number)
		if !ok {
			return wrongType(path, "a number", token)
		}
		if _, err := n.Float64(); err != nil {
			return fault.Refuse(path, "%s is %s, which is too large", nameOf(path), brief(n.String()))
		}
	case reflect.Int, reflect.Int64:
		n, ok := token.(json.Number)
		if !ok {
			return wrongType(path, "a whole number", token)
		}
		if _, err := n.Int64(); err != nil {
			return fault.Refuse(path, "%s is %s, enter a whole number", nameOf(path), brief(n.String()))
		}
	default:
		return fmt.Errorf("calc: %s has a type that JSON cannot carry: %s", path, want)
	}
	return nil
}
