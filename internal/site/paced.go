package site

import (
	"strconv"
	"strings"

	"rowtally/internal/job"
	"rowtally/internal/seed"
	"rowtally/internal/working"
)

// pacedCheck lets a farmer check the row-km lines by eye: what was counted along a row, and
// what that says.
type pacedCheck struct {
	Fields []Field
	Says   string // "" until something is counted
	Steps  working.Steps
}

// readPaced reads the count from the address, so that the page works without script and
// nothing is kept; an address without one gives the empty form.
func readPaced(r *request) *form {
	return blank(map[string]string{"paced_m": legible.Replace(r.Query("paced_m")), "counted": legible.Replace(r.Query("counted"))})
}

// pacedOf works the count out; nil while no row of the job is sown.
func pacedOf(f *form, facts job.Facts) (*pacedCheck, error) {
	if m, _ := facts.SownM(); m <= 0 || facts.Layout == nil {
		return nil, nil
	}
	check := pacedCheck{}
	if f.typed["paced_m"] != "" || f.typed["counted"] != "" {
		lengthM, counts := f.paced()
		if f.ok() {
			count, err := seed.CountPaced(seed.Paced{LengthM: lengthM, Counts: counts, SpacingM: facts.Layout.SpacingM})
			if err := f.take(err); err != nil {
				return nil, err
			}
			f.as("length_m", "paced_m")
			f.as("counts", "counted")
			if f.ok() {
				check.Says, check.Steps = count.Says(), count.Working()
			}
		}
	}
	check.Fields = f.fields(
		Field{Name: "paced_m", Label: "Length paced out along one row", Kind: "number", Unit: "m", Required: true},
		Field{Name: "counted", Label: "Placements counted in it", Required: true, Hint: "For several lengths as long, every count: 32, 33, 30. Take them at random, in several rows: five or more say far more than one."},
	)
	return &check, nil
}

// paced reads a length and the placements counted in stretches of it. The list may bring its
// length along, as in “100: 32, 33, 30”.
func (f *form) paced() (lengthM float64, counts []int) {
	list := f.typed["counted"]
	if length, rest, brought := strings.Cut(list, ":"); brought {
		list = rest
		if f.typed["paced_m"] == "" {
			f.typed["paced_m"] = strings.TrimSpace(length)
		} else if strings.TrimSpace(length) != strings.TrimSpace(f.typed["paced_m"]) {
			f.refuse("counted", "The list says %s m and the length beside it %s m: enter one of them.", strings.TrimSpace(length), f.typed["paced_m"])
		}
	}
	lengthM = f.number("paced_m", 1, 10_000)
	parts := strings.FieldsFunc(list, func(c rune) bool { return c == ',' || c == ';' || c == ' ' })
	for _, part := range parts {
		count, err := strconv.Atoi(part)
		if err != nil {
			f.refuse("counted", "“%s” is not a whole number: enter the placements of each length, such as 32, 33, 30.", part)
		}
		counts = append(counts, count)
	}
	if len(parts) == 0 {
		f.refuse("counted", "Enter the placements counted, a whole number of 0 or more.")
	}
	return lengthM, counts
}
