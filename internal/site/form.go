package site

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"rowtally/internal/fault"
	"rowtally/internal/money"
	"rowtally/internal/unit"
)

// Field is one field of a form as the page draws it: label above, unit beside, what was
// typed, and the sentence that says what to change.
type Field struct {
	Name, Label, Unit, Value, Error, Hint string
	Kind                                  string // text, number, date, select, textarea, password, file, photo
	Options                               []Option
	Required                              bool
	Inputmode, Step                       string
}

// Option is one choice of a select.
type Option struct{ Value, Label string }

// form is what was typed, and what is wrong with it, by field name. Whatever happens,
// the page shows again what was typed.
type form struct {
	typed map[string]string
	wrong map[string]string
	drawn map[string]bool // fields that the page shows
}

// blank is a form with the values that a page begins with.
func blank(values map[string]string) *form {
	if values == nil {
		values = map[string]string{}
	}
	return &form{values, map[string]string{}, map[string]bool{}}
}

// legible takes out what no keyboard types, and one of the stores cannot keep.
var legible = strings.NewReplacer("\x00", "")

// readForm takes every text field of a post.
func readForm(r *request) *form {
	f := blank(nil)
	r.Request().PostArgs().VisitAll(f.keep)
	if parts, err := r.MultipartForm(); err == nil {
		for name, values := range parts.Value {
			f.keep([]byte(name), []byte(strings.Join(values[:1], "")))
		}
	}
	return f
}

// readQuery takes every field that an address carries.
func readQuery(r *request) *form {
	f := blank(nil)
	r.Request().URI().QueryArgs().VisitAll(f.keep)
	return f
}

// keep takes what was typed into one field; the first of a name stands.
func (f *form) keep(key, value []byte) {
	name := string(key)
	if _, taken := f.typed[name]; !taken && name != "csrf" && name != "key" {
		f.typed[name] = strings.TrimSpace(legible.Replace(strings.ToValidUTF8(string(value), "")))
	}
}

// ok tells whether nothing is wrong so far.
func (f *form) ok() bool { return len(f.wrong) == 0 }

// refuse puts a sentence beside a field; the first one stands.
func (f *form) refuse(name, sentence string, args ...any) {
	if _, taken := f.wrong[name]; !taken {
		f.wrong[name] = fmt.Sprintf(sentence, args...)
	}
}

// take spreads an error over the fields that it names; a clash stands at the head of the
// form (field ""). Any other error is handed back.
func (f *form) take(err error) error {
	if err == nil {
		return nil
	}
	if fault.KindOf(err) == fault.Clash {
		f.refuse("", "%s", sentence(err.Error()))
		return nil
	}
	if len(fault.Fields(err)) == 0 {
		return err
	}
	f.heed(err)
	return nil
}

// heed puts the refusals of a check of the trade beside the fields that they name.
func (f *form) heed(refused error) {
	for name, message := range fault.Fields(refused) {
		f.refuse(name, "%s", sentence(message))
	}
}

// as puts a refusal of a field of the trade beside the form's own field, which holds it in
// the unit that people type.
func (f *form) as(theirs, ours string) {
	if message, refused := f.wrong[theirs]; refused {
		delete(f.wrong, theirs)
		f.refuse(ours, "%s", message)
	}
}

// text is what was typed, up to a length that a person would type.
func (f *form) text(name string) string {
	const longest = 2000
	s := f.typed[name]
	if n := utf8.RuneCountInString(s); n > longest {
		f.refuse(name, "This is %d characters long, shorten it to %d.", n, longest)
	}
	return s
}

// must is text that may not be empty.
func (f *form) must(name, sentence string) string {
	s := f.text(name)
	if s == "" {
		f.refuse(name, "%s", sentence)
	}
	return s
}

// ungrouped takes out the spaces that people and our own pages set between thousands.
var ungrouped = strings.NewReplacer(" ", "", "\u00a0", "", thin, "", joiner, "", "\u202f", "")

// number reads a measure between low and high, both allowed. Empty is refused.
func (f *form) number(name string, low, high float64) float64 {
	s := ungrouped.Replace(f.typed[name])
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case s == "":
		f.refuse(name, "Enter a number from %s to %s.", plain(low), plain(high))
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		f.refuse(name, "“%s” is not a number: enter digits and one point, such as 12.5.", f.typed[name])
	case v < low || v > high:
		f.refuse(name, "%s is outside what is possible: enter a number from %s to %s.", f.typed[name], plain(low), plain(high))
	}
	return v
}

// maybe is a number that may be left empty, which counts as fallback.
func (f *form) maybe(name string, low, high, fallback float64) float64 {
	if f.typed[name] == "" {
		return fallback
	}
	return f.number(name, low, high)
}

// integer reads a whole number between low and high.
func (f *form) integer(name string, low, high int) int {
	s := ungrouped.Replace(f.typed[name])
	v, err := strconv.Atoi(s)
	switch {
	case s == "":
		f.refuse(name, "Enter a whole number from %d to %d.", low, high)
	case err != nil:
		f.refuse(name, "“%s” is not a whole number: enter digits alone.", f.typed[name])
	case v < low || v > high:
		f.refuse(name, "%s is outside what is possible: enter a whole number from %d to %d.", f.typed[name], low, high)
	}
	return v
}

// day reads a date; empty gives the empty date unless required.
func (f *form) day(name string, required bool) unit.Date {
	s := f.typed[name]
	if s == "" {
		if required {
			f.refuse(name, "Enter a day.")
		}
		return ""
	}
	d, err := unit.ParseDate(s)
	if err != nil {
		f.refuse(name, "%s.", err.Error())
	}
	return d
}

// withCommas is an amount whose commas part its thousands; any other comma may be meant as
// a decimal point, and is refused.
var withCommas = regexp.MustCompile(`^\d{1,3}(,\d{3})+(\.\d*)?$`)

// price reads a decimal of money or of its factors, from 0 up.
func (f *form) price(name string, required bool) money.Factor {
	s := strings.TrimPrefix(ungrouped.Replace(f.typed[name]), "$")
	if withCommas.MatchString(s) {
		s = strings.ReplaceAll(s, ",", "")
	}
	if s == "" && !required {
		return money.Factor{}
	}
	v, err := money.ParseFactor(s)
	switch {
	case err != nil:
		f.refuse(name, "“%s” is not an amount: enter it as 12.50.", f.typed[name])
	case v.Sign() < 0:
		f.refuse(name, "%s is below zero: enter 0 or more.", f.typed[name])
	case v.Compare(money.Whole(1_000_000_000)) > 0:
		f.refuse(name, "%s is more than anybody could charge: check the point.", f.typed[name])
	}
	return v
}

// field draws a field with what was typed and what is wrong.
func (f *form) field(d Field) Field {
	d.Value, d.Error = f.typed[d.Name], f.wrong[d.Name]
	f.drawn[d.Name] = true
	if d.Kind == "" {
		d.Kind = "text"
	}
	if d.Kind == "password" {
		d.Value = ""
	}
	return d
}

// fields draws a whole group.
func (f *form) fields(group ...Field) []Field {
	out := make([]Field, len(group))
	for i, d := range group {
		out[i] = f.field(d)
	}
	return out
}

// head is the sentences at the head of the form: about the form as a whole, and about
// fields that it does not draw. Ask after every field is drawn.
func (f *form) head() string {
	var lines []string
	for _, name := range slices.Sorted(maps.Keys(f.wrong)) {
		if !f.drawn[name] {
			lines = append(lines, f.wrong[name])
		}
	}
	if len(lines) == 0 && !f.ok() {
		return "Nothing is kept yet: what to change stands beside the fields."
	}
	return strings.Join(lines, " ")
}

// plain writes a bound as a person would: 1000000 as 1 000 000, 0.1 as 0.1.
func plain(v float64) string {
	if v == math.Trunc(v) {
		return unit.Grouped(v, 0)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
