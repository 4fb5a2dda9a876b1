package sown

import (
	"cmp"
	"slices"
)

// Extent is a stretch of a row: metres along the bearing, as the spans of the plan have
// them.
type Extent struct {
	FromM float64 `json:"from_m"`
	ToM   float64 `json:"to_m"` // not below FromM
}

func (e Extent) lengthM() float64 { return e.ToM - e.FromM }

// and is what two extents share; one without length when they share nothing.
func (e Extent) and(o Extent) Extent {
	from := max(e.FromM, o.FromM)
	return Extent{from, max(from, min(e.ToM, o.ToM))}
}

// extents are stretches of one row, in any order, overlapping or not.
type extents []Extent

func (s extents) lengthM() float64 {
	sum := 0.0
	for _, e := range s {
		sum += e.lengthM()
	}
	return sum
}

// union is the same ground with every metre once, from low to high.
func (s extents) union() extents {
	sorted := slices.Clone(s)
	slices.SortFunc(sorted, func(a, b Extent) int { return cmp.Compare(a.FromM, b.FromM) })
	var out extents
	for _, e := range sorted {
		if last := len(out) - 1; last >= 0 && e.FromM <= out[last].ToM {
			out[last].ToM = max(out[last].ToM, e.ToM)
		} else {
			out = append(out, e)
		}
	}
	return out
}

// within is the part of s inside o. Both must be unions.
func (s extents) within(o extents) extents {
	var out extents
	for i, k := 0, 0; i < len(s) && k < len(o); {
		if shared := s[i].and(o[k]); shared.lengthM() > 0 {
			out = append(out, shared)
		}
		if s[i].ToM < o[k].ToM {
			i++
		} else {
			k++
		}
	}
	return out
}

// repeated is what lies in more than one of s, every metre once, from low to high.
func (s extents) repeated() extents {
	sorted := slices.Clone(s)
	slices.SortFunc(sorted, func(a, b Extent) int { return cmp.Compare(a.FromM, b.FromM) })
	var out extents
	for i, reached := 1, 0; i < len(sorted); i++ {
		if again := sorted[i].and(sorted[reached]); again.lengthM() > 0 {
			out = append(out, again)
		}
		if sorted[i].ToM > sorted[reached].ToM {
			reached = i
		}
	}
	return out.union()
}

// without is the part of s outside o. Both must be unions.
func (s extents) without(o extents) extents {
	var out extents
	k := 0
	for _, e := range s {
		for k < len(o) && o[k].ToM <= e.FromM {
			k++
		}
		from := e.FromM
		for i := k; i < len(o) && o[i].FromM < e.ToM; i++ {
			if o[i].FromM > from {
				out = append(out, Extent{from, o[i].FromM})
			}
			from = max(from, o[i].ToM)
		}
		if from < e.ToM {
			out = append(out, Extent{from, e.ToM})
		}
	}
	return out
}
