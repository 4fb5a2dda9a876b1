package sown

import (
	"fmt"
	"math"
	"strings"

	"rowtally/internal/fault"
)

// Reckoning is one way to tell the row metres sown.
type Reckoning struct {
	By           string  `json:"by"` // "log", "counter" or "mix"
	RowM         float64 `json:"row_m"`
	UncertaintyM float64 `json:"uncertainty_m"` // about 95 %
}

// Reckoning is what the log tells.
func (r Record) Reckoning() Reckoning { return Reckoning{"log", r.SownM, r.UncertaintyM} }

// Counter is what the placement counter showed over the job. Every uncertainty is about
// 95 %, and the contractor's own judgement.
type Counter struct {
	Placements            float64 // all rows counted
	PlacementsUncertainty float64
	SpacingM              float64 // as measured in the row, above 0
	SpacingUncertaintyM   float64
}

// Reckoning is placements × spacing. It refuses counts, spacings and uncertainties that
// are negative, and a spacing of 0.
func (c Counter) Reckoning() (Reckoning, error) {
	switch {
	case !atLeast0(c.Placements, c.PlacementsUncertainty):
		return Reckoning{}, fault.Refuse("placements", "the counter shows %g ± %g placements, enter 0 or more", c.Placements, c.PlacementsUncertainty)
	case !atLeast0(c.SpacingM, c.SpacingUncertaintyM) || c.SpacingM == 0:
		return Reckoning{}, fault.Refuse("spacing_m", "the spacing is %g ± %g m, enter a figure above 0", c.SpacingM, c.SpacingUncertaintyM)
	}
	err := math.Hypot(c.PlacementsUncertainty*c.SpacingM, c.Placements*c.SpacingUncertaintyM)
	return Reckoning{"counter", c.Placements * c.SpacingM, err}, nil
}

// MixUsed is what went out of the tubs. Every uncertainty is about 95 %, and the
// contractor's own judgement.
type MixUsed struct {
	UsedL                float64
	UsedUncertaintyL     float64
	LPerRowKm            float64 // by the catch test, above 0
	LPerRowKmUncertainty float64 // litres per row-km
}

// Reckoning is litres used ÷ litres per row-km. It refuses figures that are negative, and
// 0 litres per row-km.
func (u MixUsed) Reckoning() (Reckoning, error) {
	switch {
	case !atLeast0(u.UsedL, u.UsedUncertaintyL):
		return Reckoning{}, fault.Refuse("used_l", "the mix used is %g ± %g L, enter 0 or more", u.UsedL, u.UsedUncertaintyL)
	case !atLeast0(u.LPerRowKm, u.LPerRowKmUncertainty) || u.LPerRowKm == 0:
		return Reckoning{}, fault.Refuse("l_per_row_km", "the mix goes out at %g ± %g L per row-km, enter a figure above 0", u.LPerRowKm, u.LPerRowKmUncertainty)
	}
	rowM := 1000 * u.UsedL / u.LPerRowKm
	err := math.Hypot(1000*u.UsedUncertaintyL/u.LPerRowKm, rowM*u.LPerRowKmUncertainty/u.LPerRowKm)
	return Reckoning{"mix", rowM, err}, nil
}

func atLeast0(values ...float64) bool {
	for _, v := range values {
		if !(v >= 0) || math.IsInf(v, 1) {
			return false
		}
	}
	return true
}

// Difference is how far two reckonings lie apart, and how far they may.
type Difference struct {
	One         string  `json:"one"`
	Other       string  `json:"other"`
	DifferenceM float64 `json:"difference_m"` // one less the other
	AllowedM    float64 `json:"allowed_m"`    // both uncertainties together: the root of the sum of their squares
	Agree       bool    `json:"agree"`
}

// Comparison sets reckonings beside each other.
type Comparison struct {
	Reckonings  []Reckoning  `json:"reckonings"`
	Differences []Difference `json:"differences"`
	Agree       bool         `json:"agree"` // every two of at least two
	Verdict     string       `json:"verdict"`
}

// Compare checks the row-km of a job against each other. It never makes a figure of its
// own: what is billed stays the log's.
func Compare(reckonings ...Reckoning) Comparison {
	c := Comparison{Reckonings: reckonings, Agree: len(reckonings) > 1}
	for i, one := range reckonings {
		for _, other := range reckonings[i+1:] {
			d := Difference{One: one.By, Other: other.By, DifferenceM: one.RowM - other.RowM,
				AllowedM: math.Hypot(one.UncertaintyM, other.UncertaintyM)}
			d.Agree = math.Abs(d.DifferenceM) <= d.AllowedM
			c.Agree = c.Agree && d.Agree
			c.Differences = append(c.Differences, d)
		}
	}
	c.Verdict = c.verdict()
	return c
}

// verdict says in a sentence what the differences mean.
func (c Comparison) verdict() string {
	switch odd := c.oddOne(); {
	case len(c.Reckonings) == 0:
		return "Nothing tells the row-km yet: load the log, read the counter, or measure the mix left over."
	case len(c.Reckonings) == 1:
		return fmt.Sprintf("Only the %s tells the row-km: %s. Nothing checks it yet.", c.Reckonings[0].By, c.Reckonings[0])
	case c.Agree:
		return fmt.Sprintf("They agree within what each may err: %s.", c.list())
	case odd >= 0:
		return fmt.Sprintf("The %s stands alone, the others agree: %s. %s", c.Reckonings[odd].By, c.list(), suspicion[c.Reckonings[odd].By])
	case len(c.Reckonings) == 2:
		d := c.Differences[0]
		return fmt.Sprintf("They differ by %.2f row-km, and may by %.2f: %s. Two alone do not tell which is wrong; bring in the third.",
			math.Abs(d.DifferenceM)/1000, d.AllowedM/1000, c.list())
	}
	return fmt.Sprintf("They do not all agree, and none stands alone: %s. Count placements along a few measured lengths before billing.", c.list())
}

// suspicion says where to look when one reckoning stands alone.
var suspicion = map[string]string{
	"log":     "Look for a part of the job that was not logged, a log of another day, or the rows set for the machine.",
	"counter": "Measure the spacing in the row, and look for slip of the wheel and for counts with the machine lifted.",
	"mix":     "Repeat the catch test, and look for mix that was spilled, left over or topped up unwritten.",
}

// oddOne is the reckoning that disagrees with all others while those agree, or -1.
func (c Comparison) oddOne() int {
	odd := -1
	for i, r := range c.Reckonings {
		alone := len(c.Reckonings) > 2
		for _, d := range c.Differences {
			mine := d.One == r.By || d.Other == r.By
			alone = alone && mine != d.Agree
		}
		if alone {
			odd = i
		}
	}
	return odd
}

// String is a reckoning for a sentence: "24.00 ± 0.05 row-km".
func (r Reckoning) String() string {
	return fmt.Sprintf("%.2f ± %.2f row-km", r.RowM/1000, MayErrKm(r.UncertaintyM))
}

// MayErrKm is what a length may err by, in row-km rounded up to a hundredth: an
// uncertainty is never shown smaller than it is, and none that there is as 0.00.
func MayErrKm(m float64) float64 { return math.Ceil(m/10-1e-9) / 100 }

func (c Comparison) list() string {
	var parts []string
	for _, r := range c.Reckonings {
		parts = append(parts, r.By+" "+r.String())
	}
	return strings.Join(parts, ", ")
}
