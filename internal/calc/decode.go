package calc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"sort"
	"strconv"
	"strings"

	"rowtally/internal/fault"
)

// decode reads one JSON object into target, a pointer to a struct, strictly: a field
// that the struct does not name, a missing one whose tag lacks omitempty, a wrong type,
// a field given twice and trailing text are refused, each naming the field.
func decode(raw []byte, target any) error {
	d := json.NewDecoder(bytes.NewReader(raw))
	d.UseNumber()
	if err := checkValue(d, reflect.TypeOf(target).Elem(), ""); err != nil {
		return err
	}
	if _, err := d.Token(); err != io.EOF {
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

// checkValue walks one JSON value against the Go type that will hold it.
func checkValue(d *json.Decoder, want reflect.Type, path string) error {
	token, err := d.Token()
	if err != nil {
		return fault.Refuse(path, "this is not JSON: %v", notJSON(err))
	}
	return checkToken(d, token, want, path)
}

func checkToken(d *json.Decoder, token json.Token, want reflect.Type, path string) error {
	optional := want.Kind() == reflect.Pointer
	if optional {
		want = want.Elem()
	}
	if token == nil {
		if optional || want.Kind() == reflect.Slice {
			return nil
		}
		return fault.Refuse(path, "%s is null, leave it out or give a value", nameOf(path))
	}
	open, nested := token.(json.Delim)
	switch {
	case want.Implements(unmarshaler) || reflect.PointerTo(want).Implements(unmarshaler):
		return checkOwn(d, token, want, path)
	case want.Kind() == reflect.Struct:
		if !nested || open != '{' {
			return wrongType(path, "an object", token)
		}
		return checkObject(d, want, path)
	case want.Kind() == reflect.Slice:
		if !nested || open != '[' {
			return wrongType(path, "a list", token)
		}
		return checkList(d, want.Elem(), path)
	case want.Kind() == reflect.Interface:
		return fault.Refuse(path, "%s has no fixed form", nameOf(path))
	}
	return checkScalar(token, want, path)
}

func checkList(d *json.Decoder, each reflect.Type, path string) error {
	for i := 0; d.More(); i++ {
		if err := checkValue(d, each, path+"["+strconv.Itoa(i)+"]"); err != nil {
			return err
		}
	}
	return closing(d, path)
}

func checkObject(d *json.Decoder, want reflect.Type, path string) error {
	fields := fieldsOf(want)
	seen := map[string]bool{}
	for d.More() {
		token, err := d.Token()
		if err != nil {
			return fault.Refuse(path, "this is not JSON: %v", notJSON(err))
		}
		name := token.(string)
		at := join(path, name)
		field, known := fields[name]
		if !known {
			return fault.Refuse(at, "there is no field %q here; the fields are %s", name, namesOf(fields))
		}
		if seen[name] {
			return fault.Refuse(at, "%q is given twice", name)
		}
		seen[name] = true
		if err := checkValue(d, field.Type, at); err != nil {
			return err
		}
	}
	for _, name := range sorted(fields) {
		if field := fields[name]; !seen[name] && !optional(field) {
			return fault.Refuse(join(path, name), "%s is missing, give it", name)
		}
	}
	return closing(d, path)
}

// checkOwn lets a type that reads its own JSON say what is wrong with the value.
func checkOwn(d *json.Decoder, token json.Token, want reflect.Type, path string) error {
	raw, err := rest(d, token)
	if err != nil {
		return fault.Refuse(path, "this is not JSON: %v", notJSON(err))
	}
	if err := json.Unmarshal(raw, reflect.New(want).Interface()); err != nil {
		if fault.KindOf(err) == fault.Refused {
			return fault.Under(path, err)
		}
		return fault.Refuse(path, "%v", err)
	}
	return nil
}

// rest is the whole JSON text of the value that token begins.
func rest(d *json.Decoder, token json.Token) ([]byte, error) {
	open, nested := token.(json.Delim)
	if !nested {
		return json.Marshal(token)
	}
	var out bytes.Buffer
	out.WriteByte(byte(open))
	for i := 0; d.More(); i++ {
		if i > 0 {
			out.WriteByte(',')
		}
		if open == '{' {
			key, err := d.Token()
			if err != nil {
				return nil, err
			}
			name, _ := json.Marshal(key)
			out.Write(append(name, ':'))
		}
		value, err := d.Token()
		if err != nil {
			return nil, err
		}
		inner, err := rest(d, value)
		if err != nil {
			return nil, err
		}
		out.Write(inner)
	}
	end, err := d.Token()
	if err != nil {
		return nil, err
	}
	out.WriteByte(byte(end.(json.Delim)))
	return out.Bytes(), nil
}

func checkScalar(token json.Token, want reflect.Type, path string) error {
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
			return fault.Refuse(path, "%s is %s, which is too large", nameOf(path), n)
		}
	case reflect.Int, reflect.Int64:
		n, ok := token.(json.Number)
		if !ok {
			return wrongType(path, "a whole number", token)
		}
		if _, err := n.Int64(); err != nil {
			return fault.Refuse(path, "%s is %s, enter a whole number", nameOf(path), n)
		}
	default:
		return fmt.Errorf("calc: %s has a type that JSON cannot carry: %s", path, want)
	}
	return nil
}

func closing(d *json.Decoder, path string) error {
	if _, err := d.Token(); err != nil {
		return fault.Refuse(path, "this is not JSON: %v", notJSON(err))
	}
	return nil
}

// fieldsOf lists the JSON fields of a struct, those of embedded structs too.
func fieldsOf(t reflect.Type) map[string]reflect.StructField {
	out := map[string]reflect.StructField{}
	for _, f := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.IsExported() && name != "" && name != "-" {
			out[name] = f
		}
	}
	return out
}

func optional(f reflect.StructField) bool {
	_, options, _ := strings.Cut(f.Tag.Get("json"), ",")
	return strings.Contains(options, "omitempty") || strings.Contains(options, "omitzero")
}

func namesOf(fields map[string]reflect.StructField) string {
	return strings.Join(sorted(fields), ", ")
}

func sorted(fields map[string]reflect.StructField) []string {
	var names []string
	for name := range fields {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

func nameOf(path string) string {
	if path == "" {
		return "the input"
	}
	return path
}

func wrongType(path, want string, got json.Token) error {
	return fault.Refuse(path, "%s must be %s, not %s", nameOf(path), want, kindOf(got))
}

func kindOf(token json.Token) string {
	switch v := token.(type) {
	case json.Delim:
		if v == '{' {
			return "an object"
		}
		return "a list"
	case string:
		return "a text"
	case bool:
		return "true or false"
	case json.Number:
		return "the number " + v.String()
	}
	return "null"
}

// notJSON turns the decoder's end-of-file into words.
func notJSON(err error) string {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return "it ends too early"
	}
	return err.Error()
}
