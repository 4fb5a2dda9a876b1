package seed

import (
	"fmt"
	"math"

	"rowtally/internal/fault"
	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// What anybody paces out and counts.
const (
	longestPacedM     = 10_000.0
	mostPacedLengths  = 200
	mostCounted       = 5_000
	widestPlacementsM = 1000.0
)

// leastSD is the least scatter of a count from length to length. Even placements that stand
// perfectly even are cut by a length into one of two neighbouring whole numbers, by where
// it begins: a share s of the lengths gets one more, so the scatter is the root of s(1-s),
// 0.5 at most. Counts that happen to be alike do not show that there is less.
const leastSD = 0.5

// Paced is placements counted along one row: LengthM, above 0 and up to 10 000 m, is the
// length of each stretch; Counts has the placements of 1 to 200 stretches, each 0 or more.
// SpacingM is the distance from placement to placement that was agreed, above 0 m.
type Paced struct {
	LengthM  float64
	Counts   []int
	SpacingM float64
}

// PacedCount is what a count along a row says of the placements to a length, with the
// limits of the mean at a two-sided level of 95 %.
type PacedCount struct {
	Mean     float64 // placements to a length
	SD       float64 // from length to length; 0 with a single length
	Low      float64
	High     float64
	Expected float64 // at the agreed spacing

	of Paced
}

// CountPaced works out what was counted. Several lengths are judged by how much they differ
// among each other, by Student's t; a single one cannot show that, so it is taken for a
// count by pure chance, whose exact limits are wider than those of an even drop.
// Sources: Student 1908, Biometrika 6:1-25; Garwood 1936, Biometrika 28:437-442.
func CountPaced(p Paced) (PacedCount, error) {
	if err := p.check(); err != nil {
		return PacedCount{}, err
	}
	c := PacedCount{Expected: p.LengthM / p.SpacingM, of: p}
	n := float64(len(p.Counts))
	for _, count := range p.Counts {
		c.Mean += float64(count) / n
	}
	if len(p.Counts) == 1 {
		c.Low, c.High = poissonLimits(p.Counts[0], CertificateLevel)
		return c, nil
	}
	for _, count := range p.Counts {
		c.SD += (float64(count) - c.Mean) * (float64(count) - c.Mean) / (n - 1)
	}
	c.SD = math.Sqrt(c.SD)
	off := StudentDeviate(CertificateLevel, n-1) * max(c.SD, leastSD) / math.Sqrt(n)
	c.Low, c.High = max(0, c.Mean-off), c.Mean+off
	return c, nil
}

func (p Paced) check() error {
	switch {
	case !(p.LengthM > 0 && p.LengthM <= longestPacedM):
		return fault.Refuse("length_m", "the length is %s m, enter the metres paced out, above 0 and up to %s", unit.Plain(p.LengthM), unit.Plain(longestPacedM))
	case !(p.SpacingM > 0 && p.SpacingM <= widestPlacementsM):
		return fault.Refuse("spacing_m", "the spacing is %s m, enter metres above 0 and up to %s", unit.Plain(p.SpacingM), unit.Plain(widestPlacementsM))
	case len(p.Counts) == 0 || len(p.Counts) > mostPacedLengths:
		return fault.Refuse("counts", "%d counts are given, enter 1 to %d", len(p.Counts), mostPacedLengths)
	}
	for _, count := range p.Counts {
		if count < 0 || count > mostCounted {
			return fault.Refuse("counts", "a count is %d, enter the placements of a length, a whole number from 0 to %d", count, mostCounted)
		}
	}
	return nil
}

// Agrees tells whether the number expected lies within what the count supports.
func (c PacedCount) Agrees() bool { return c.Expected >= c.Low && c.Expected <= c.High }

// Says tells what was counted, what was expected, and whether chance explains how they differ.
func (c PacedCount) Says() string {
	says := fmt.Sprintf("%s to %s m, %s to %s; at %s m %s are expected: ", unit.Grouped(c.Mean, 1), unit.Plain(c.of.LengthM),
		unit.Grouped(c.Low, 1), unit.Grouped(c.High, 1), unit.Grouped(c.of.SpacingM, 2), unit.Grouped(c.Expected, 1))
	says += c.offSays()
	if c.Agrees() {
		return says + ", no more than counting by chance explains. The count agrees with the spacing."
	}
	return says + ", more than counting by chance explains."
}

// offSays is how far the mean lies from what was expected.
func (c PacedCount) offSays() string {
	percent := 100 * (c.Mean - c.Expected) / c.Expected
	if percent > 0 {
		return unit.Grouped(percent, 1) + " % more"
	}
	return unit.Grouped(-percent, 1) + " % short"
}

// Working shows the count, its scatter and its limits.
func (c PacedCount) Working() working.Steps {
	n := len(c.of.Counts)
	steps := working.Steps{}.Add("mean", fmt.Sprintf("placements counted / %d", n), working.Number(c.Mean, 1), "placements to a length", "")
	how, source := "exact limits of one count by chance, 95 %", "Garwood 1936, Biometrika 28:437-442"
	if n > 1 {
		t := StudentDeviate(CertificateLevel, float64(n-1))
		steps = steps.
			Add("scatter", "standard deviation from length to length", working.Number(c.SD, 2), "placements", "").
			Add("Student's t", fmt.Sprintf("95 %%, two-sided, %d degrees of freedom", n-1), working.Number(t, 3), "", "Student 1908, Biometrika 6:1-25")
		how, source = fmt.Sprintf("mean ± t x scatter, at least %s, / √%d", unit.Plain(leastSD), n), ""
	}
	steps = steps.
		Add("lower limit", how, working.Number(c.Low, 1), "placements to a length", source).
		Add("upper limit", how, working.Number(c.High, 1), "placements to a length", source).
		Add("expected", "length / spacing agreed", working.Number(c.Expected, 1), "placements to a length", "")
	if c.Mean > 0 {
		steps = steps.Add("spacing found", "length / mean", working.Number(c.of.LengthM/c.Mean, 2), "m", "")
	}
	return steps
}
