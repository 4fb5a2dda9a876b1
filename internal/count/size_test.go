package count

import (
	"math"
	"testing"

	"rowtally/internal/fault"
	"rowtally/internal/published"
)

func TestSizesAreTheWorkedExamples(t *testing.T) {
	for _, r := range published.Rows(t, "count_sizes.csv") {
		s, err := SizeOf(Wanted{r.Number("share"), r.Number("within"), int(r.Number("per_stretch")), r.Number("rho")})
		if err != nil {
			t.Fatal(err)
		}
		if s.Alone != int(r.Number("alone")) || math.Abs(s.Factor-r.Number("factor")) > 1e-9 {
			t.Errorf("%s: %d placements alone, factor %v", r.Name, s.Alone, s.Factor)
		}
		if r.Has("placements") && s.Placements != int(r.Number("placements")) || r.Has("stretches") && s.Stretches != int(r.Number("stretches")) {
			t.Errorf("%s: %d placements in %d stretches", r.Name, s.Placements, s.Stretches)
		}
		if last := s.Working()[len(s.Working())-1].Value.String(); r.Has("stretches") && last != r.Text("stretches") {
			t.Errorf("%s: the working ends with %s", r.Name, last)
		}
	}
}

func TestASizeThatCannotBeIsRefusedByField(t *testing.T) {
	good := Wanted{0.5, 0.1, 10, 0.1}
	for field, change := range map[string]func(*Wanted){
		"share_percent":  func(w *Wanted) { w.ShareFraction = 1 },
		"within_percent": func(w *Wanted) { w.WithinFraction = 0.005 },
		"per_stretch":    func(w *Wanted) { w.PerStretch = 0 },
		"rho":            func(w *Wanted) { w.Rho = math.NaN() },
	} {
		w := good
		change(&w)
		if _, err := SizeOf(w); fault.Fields(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
}
