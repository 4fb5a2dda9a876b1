package ground

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// Advice is what a paddock's standing readings say of shrub rows.
type Advice struct {
	Shrubs   Fitness
	Parts    bool // some readings of a kind rule shrubs out and others do not
	Findings []Finding
}

// Advise reads a paddock's standing readings together. The answer is no where every
// reading of the subsoil's salt, or every one of the winter watertable, rules shrubs out;
// where only some do, parts of the paddock are. Otherwise the worst reading counts.
func Advise(readings []Reading) Advice {
	var a Advice
	judged, no := map[bool]int{}, map[bool]int{} // by whether it is water
	for _, r := range readings {
		if !r.Standing() {
			continue
		}
		f := r.Find()
		a.Findings = append(a.Findings, f)
		if f.Shrubs == NotTold || r.Kind == SummerWatertable {
			a.Shrubs = max(a.Shrubs, f.Shrubs)
			continue
		}
		judged[r.Kind.IsWatertable()]++
		if f.Shrubs == No {
			no[r.Kind.IsWatertable()]++
			f.Shrubs = Poor
		}
		a.Shrubs = max(a.Shrubs, f.Shrubs)
	}
	for _, water := range []bool{false, true} {
		switch {
		case no[water] > 0 && no[water] == judged[water]:
			a.Shrubs = No
		case no[water] > 0:
			a.Parts = true
		}
	}
	a.Parts = a.Parts && a.Shrubs != No
	return a
}

// Deferring is who decides: it stands wherever the advice does.
const Deferring = "A drainage authority, agronomist or adviser decides."

// Against are the readings that rule shrubs out, those of salt first.
func (a Advice) Against() (out []Finding) {
	for _, f := range a.Findings {
		if f.Shrubs == No {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(a, b Finding) int {
		return slices.Index(ReadingKinds, a.Kind) - slices.Index(ReadingKinds, b.Kind)
	})
	return out
}

// Why is the reason for a no in one sentence, with figures, depth, month and scheme.
func (a Advice) Why() string {
	var reasons []string
	for _, f := range a.Against() {
		reasons = append(reasons, fmt.Sprintf("%s: %s", f.Reading, f.because()))
	}
	return strings.Join(reasons, "; ")
}

// Together is what the readings say together, for a page; "" where no table speaks.
func (a Advice) Together() string {
	switch {
	case a.Shrubs == NotTold && !a.Parts:
		return ""
	case a.Parts:
		return fmt.Sprintf("parts of the paddock are ruled out by %d of the readings, draw them as no-go; the rest at worst %s", len(a.Against()), a.Shrubs)
	}
	return a.Shrubs.String()
}

// WhyNot is the reason for declining; "" unless the answer is no.
func (a Advice) WhyNot() string {
	if a.Shrubs != No {
		return ""
	}
	return "No shrub rows: " + a.Why() + "."
}

// because names the published class, and whose it is: extreme is not the same in both.
func (f Finding) because() string {
	if class, classed := f.saltlandRank(); classed {
		return fmt.Sprintf("%s, %s by %s", class.Name, class.Range, class.Scheme.Name)
	}
	return "shallower than 0.3 m in winter (" + f.Source + ")"
}

// Says is the advice in a sentence or two; "" without a standing reading.
func (a Advice) Says() string {
	var read []string
	for _, f := range a.Findings {
		read = append(read, f.Reading.String())
	}
	if len(read) == 0 {
		return ""
	}
	says := "Read: " + strings.Join(read, "; ") + "."
	if together := a.Together(); together != "" && a.Shrubs != No {
		says += " Together: " + together + "."
	}
	return says
}

// Working shows each reading with what is published about it.
func (a Advice) Working() working.Steps {
	var steps working.Steps
	for _, f := range a.Findings {
		for _, c := range f.Classes {
			steps = steps.Add(string(f.Kind), c.Name+", "+c.Range, working.Text(unit.Plain(f.Value)), f.Unit, c.Scheme.Source)
		}
		if f.Source != "" {
			steps = steps.Add(string(f.Kind), f.Says, working.Text(unit.Plain(f.Value)), f.Unit, f.Source)
		}
	}
	return steps
}
