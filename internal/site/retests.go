package site

import (
	"fmt"
	"slices"
	"strconv"

	"rowtally/internal/seed"
)

const mostRetestMonths = 120

// retests sets, species by species, for how many months a test counts.
func (s *site) retests(r *request) error {
	shelf, err := s.Books.Shelf(r.Context())
	if err != nil {
		return err
	}
	set, err := s.Books.RetestMonths(r.Context())
	if err != nil {
		return err
	}
	var species []string
	for _, lot := range shelf.Lots {
		if !slices.Contains(species, lot.Species) {
			species = append(species, lot.Species)
		}
	}
	slices.Sort(species)
	f := blank(map[string]string{})
	for i, name := range species {
		f.typed[monthsField(i)] = strconv.Itoa(retestOf(set, name))
	}
	if r.isPost() {
		f = readForm(r)
		if err := s.setRetests(r, f, species, set); err != nil {
			return err
		}
		if f.ok() {
			return r.see("/shed?done=kept")
		}
	}
	return r.draw(f, formPage{
		Frame: r.frame("shed", "How long a test counts"), Button: "Keep the months", Back: "/shed",
		Lead:   "After these months a lot is due a retest. No rule fixes them: twelve is common practice, without a source. Changing one changes every lot of its species.",
		Groups: []group{{Fields: retestFields(species)}},
	})
}

func monthsField(i int) string { return fmt.Sprintf("months_%d", i) }

// retestOf is the contractor's setting for a species, or the usual rule.
func retestOf(set map[string]int, species string) int {
	if months, ok := set[species]; ok {
		return months
	}
	return seed.UsualRetest(species).Months
}

func retestFields(species []string) []Field {
	var fields []Field
	for i, name := range species {
		usual := seed.UsualRetest(name)
		fields = append(fields, Field{Name: monthsField(i), Label: name, Kind: "number", Inputmode: "numeric", Unit: "months", Required: true,
			Hint: fmt.Sprintf("Usually %d: %s.", usual.Months, usual.Says)})
	}
	return fields
}

// setRetests keeps those that were changed, once all of them can be read.
func (s *site) setRetests(r *request, f *form, species []string, set map[string]int) error {
	months := make([]int, len(species))
	for i := range species {
		months[i] = f.integer(monthsField(i), 1, mostRetestMonths)
	}
	if !f.ok() {
		return nil
	}
	for i, name := range species {
		if months[i] == retestOf(set, name) {
			continue
		}
		act := r.act()
		if act.Key != "" {
			act.Key += " " + name
		}
		if err := s.Books.SetRetestMonths(r.Context(), act, name, months[i]); err != nil {
			return err
		}
	}
	return nil
}
