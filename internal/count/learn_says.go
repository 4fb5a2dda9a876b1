package count

import (
	"fmt"
	"slices"
	"strings"

	"rowtally/internal/unit"
	"rowtally/internal/working"
)

// Says gives the share with its limits: "5.2 in 100 (3.9 to 6.8)".
func (l Learned) Says() string {
	return fmt.Sprintf("%s in 100 (%s to %s)", hundredths(l.Fraction), hundredths(l.LowFraction), hundredths(l.HighFraction))
}

// From tells which counts the figure rests on, and how they are put together.
func (l Learned) From() string {
	own, whose := len(l.Own), "of "+l.Of.Sown.Species
	if l.OtherSpecies {
		whose = "of other species, since " + l.Of.Sown.Species + " was never counted"
	}
	says := fmt.Sprintf("from %s %s (%s)", counted(len(l.Pool), l.Of.Kind), whose, listed(l.Pool))
	switch {
	case own == 0 && !l.OtherSpecies:
		return says + "; none of " + l.Of.group() + ", so all of them speak"
	case own > 0 && own < len(l.Pool):
		return says + fmt.Sprintf("; %d of them of %s, drawn %s %% to those and the rest to all", own, l.Of.group(), unit.Grouped(100*l.OwnWeight, 0))
	case own > 0:
		return says + ", all of " + l.Of.group()
	}
	return says
}

// group names the seed's form and treatment and the ground.
func (t Target) group() string {
	words := []string{t.Sown.Form}
	if t.Sown.Form == "" {
		words[0] = "seed of no form named"
	}
	if t.Sown.Treatment != "" {
		words = append(words, t.Sown.Treatment)
	}
	if t.Ground == "" {
		return strings.Join(append(words, "ground not read"), ", ")
	}
	return strings.Join(append(words, t.Ground), ", ")
}

func counted(n int, kind Kind) string {
	if n == 1 {
		return "1 " + kind.Says()
	}
	return fmt.Sprintf("%d %ss", n, kind.Says())
}

// listed names the counts by job and day.
func listed(lessons []Lesson) string {
	var words []string
	for _, one := range lessons {
		if word := one.Job + " " + one.On.String(); !slices.Contains(words, word) {
			words = append(words, word)
		}
	}
	return strings.Join(words, ", ")
}

// hundredths writes a share as so many in 100, to two figures.
func hundredths(fraction float64) string {
	if fraction < 0.00995 {
		return unit.Grouped(100*fraction, 2)
	}
	return unit.Grouped(100*fraction, 1)
}

// Working shows every count, and how they are put together.
func (l Learned) Working() working.Steps {
	var steps working.Steps
	for _, one := range l.Pool {
		how := "-ln(1 − share occupied) ÷ " + unit.Grouped(one.Sown.LivePerPlacement, 1) + " live seeds"
		if one.Shared {
			how = "-ln(1 − share occupied) ÷ live seeds of all species together: they were not told apart"
		}
		steps = steps.Add(fmt.Sprintf("%s, %s, %s", one.Job, one.On, one.Target().group()), how, working.Number(100*one.Fraction, 2), "in 100", "")
	}
	return steps.
		Add("all of them together", "weighted mean of the logarithms", working.Number(100*l.pooled, 2), "in 100", "DerSimonian & Laird 1986, Controlled Clinical Trials 7:177-188").
		Add("from count to count", "variance of the logarithms, joined with our own guess as four counts' worth", working.Number(l.withinVar, 3), "", "Gelman et al. 2013, Bayesian Data Analysis, 3.2").
		Add("from one seed and ground to another", "variance of the logarithms, joined likewise", working.Number(l.betweenVar, 3), "", "").
		Add("weight of its own counts", "between ÷ (between + variance of its own mean)", working.Number(l.OwnWeight, 2), "", "Morris 1983, J. Am. Stat. Assoc. 78:47-55").
		Add("share that becomes plants", "its own mean drawn to all", working.Number(100*l.Fraction, 2), "in 100", "").
		Add("usual, lower limit", fmt.Sprintf("95 %%, Student's t with %s degrees of freedom", unit.Plain(l.freedom)), working.Number(100*l.LowFraction, 2), "in 100", "").
		Add("usual, upper limit", "", working.Number(100*l.HighFraction, 2), "in 100", "").
		Add("poor season", "with the scatter from count to count", working.Number(100*l.PoorFraction, 2), "in 100", "").
		Add("good season", "", working.Number(100*l.GoodFraction, 2), "in 100", "")
}

// Target is what the lesson is of.
func (l Lesson) Target() Target { return Target{l.Kind, l.Sown, l.Ground} }
