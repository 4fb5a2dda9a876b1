package calc

import (
	"encoding/json"
	"errors"
	"io"
	"reflect"
	"sort"
	"strings"

	"rowtally/internal/fault"
)

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

// optional tells whether a field may be left out.
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

// brief cuts what a person typed to what a sentence can hold.
func brief(typed string) string {
	const most = 60
	if runes := []rune(typed); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return typed
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
		return "the number " + brief(v.String())
	}
	return "null"
}

// notJSON refuses what cannot be read as JSON at all, naming the field that was reached.
func notJSON(path string, err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return fault.Refuse(path, "this is not JSON: it ends too early")
	}
	return fault.Refuse(path, "this is not JSON: %v", err)
}
