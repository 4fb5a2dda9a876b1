package ground

import (
	"math"
	"slices"

	"rowtally/internal/unit"
)

// Scheme is a published table of salinity classes.
type Scheme struct{ Name, Source string }

// The two schemes. Their words are not each other's: the second calls everything above an
// ECe of 16 dS/m extreme, the first parts 16 to 32 (severe) from above 32 (extreme).
var (
	SaltlandScheme = Scheme{"Barrett-Lennard, Bennett & Colmer 2008",
		"Barrett-Lennard, Bennett & Colmer (2008) suggested classification, on the Future Farm Industries CRC saltland fact sheets, severe/extreme sheet"}
	RevegetationScheme = Scheme{"WA 1998, in FAO Y4263E",
		"FAO publication Y4263E, Annex 6, Table A6.1, Salinity classes for revegetation (WA Department of Agriculture 1998)"}
)

// Class is where a reading stands in a scheme.
type Class struct {
	Scheme Scheme
	Name   string // "high salinity"
	Range  string // "8–16 dS/m"
	rank   int    // 0 the least salty
}

// bound is where something begins: at a figure, or above it.
type bound struct {
	from  float64
	above bool
}

func (b bound) reached(v float64) bool { return v > b.from || v == b.from && !b.above }

// grade is one class of a scale.
type grade struct {
	name string
	bound
}

// scale is how a scheme classes one kind of reading.
type scale struct {
	scheme  Scheme
	kind    ReadingKind
	texture Texture
	unit    string
	printed int // decimals to which the table parts its classes; -1 where they share their bounds
	grades  []grade
}

func saltland(kind ReadingKind, texture Texture, printed int, above bool, from ...float64) scale {
	names := []string{"non-saline", "low salinity", "moderate salinity", "high salinity", "severe salinity", "extreme salinity"}
	return scale{SaltlandScheme, kind, texture, DeciSiemens, printed, gradesOf(names, above, from)}
}

func revegetation(kind ReadingKind, texture Texture, unit string, from ...float64) scale {
	names := []string{"non-saline", "slightly saline", "moderately saline", "very saline", "extremely saline"}
	return scale{RevegetationScheme, kind, texture, unit, -1, gradesOf(names, true, from)}
}

func gradesOf(names []string, lastAbove bool, from []float64) []grade {
	out := make([]grade, len(names))
	for i, name := range names {
		out[i] = grade{name, bound{from[i], lastAbove && i == len(names)-1}}
	}
	return out
}

// scales are the tables. A figure on a bound that two classes share goes to the saltier
// one, but into the last only from above it, as both schemes print it.
var scales = []scale{
	saltland(ECe, "", -1, true, 0, 2, 4, 8, 16, 32),
	saltland(EC15, Sand, 2, false, 0, 0.15, 0.29, 0.58, 1.15, 2.29),
	saltland(EC15, Loam, 2, false, 0, 0.19, 0.37, 0.73, 1.46, 2.91),
	saltland(EC15, Clay, 2, false, 0, 0.26, 0.51, 1.01, 2.01, 4.01),
	revegetation(ECe, "", DeciSiemens, 0, 2, 4, 8, 16),
	revegetation(EC15, Loam, MilliSiemens, 0, 20, 40, 80, 160),
	revegetation(EM38, "", MilliSiemens, 0, 50, 100, 150, 200),
}

// Classes is where a reading stands in every scheme that classes its kind; none for a
// watertable.
func (r Reading) Classes() []Class {
	var out []Class
	for _, s := range scales {
		if s.kind == r.Kind && s.texture == r.Texture {
			out = append(out, s.class(r))
		}
	}
	return out
}

func (s scale) class(r Reading) Class {
	v := r.measure()
	if s.unit == MilliSiemens {
		v *= 100
	}
	grain := 1e9 // takes the noise of a change of unit off
	if s.printed >= 0 {
		grain = math.Pow10(s.printed)
	}
	v = math.Round(v*grain) / grain
	at := 0
	for i, g := range s.grades {
		if g.reached(v) {
			at = i
		}
	}
	return Class{s.scheme, s.grades[at].name, s.rangeOf(at), at}
}

// rangeOf writes a class's bounds as its table prints them.
func (s scale) rangeOf(i int) string {
	g := s.grades[i]
	switch {
	case g.above:
		return "above " + unit.Plain(g.from) + " " + s.unit
	case i == len(s.grades)-1:
		return unit.Plain(g.from) + " " + s.unit + " and above"
	case i == 0:
		return "below " + unit.Plain(s.grades[1].from) + " " + s.unit
	}
	to := s.grades[i+1].from
	if s.printed >= 0 {
		grain := math.Pow10(s.printed)
		to = math.Round(to*grain-1) / grain
	}
	return unit.Plain(g.from) + "–" + unit.Plain(to) + " " + s.unit
}

// saltlandRank is the reading's class in the first scheme; ok is false where that scheme
// does not class its kind.
func (r Reading) saltlandRank() (Class, bool) {
	classes := r.Classes()
	at := slices.IndexFunc(classes, func(c Class) bool { return c.Scheme == SaltlandScheme })
	if at < 0 {
		return Class{}, false
	}
	return classes[at], true
}
