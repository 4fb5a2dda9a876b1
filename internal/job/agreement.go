package job

import (
	"fmt"

	"rowtally/internal/seed"
)

// AgreementLine is two germination tests of one lot from the same season, and whether
// they may be tests of the same seed.
type AgreementLine struct {
	First, Second seed.Test
	Says          string // in words
	Agree, Judged bool
	seed.Agreement
}

// Agreements compares each germination test with the one before it, where both finished
// in the same season (calendar year); tests are in order of their days. Tests copied from
// a lot that was split are that lot's own, and compared like any other.
func Agreements(tests []seed.Test) []AgreementLine {
	var lines []AgreementLine
	var before *seed.Test
	for i := range tests {
		t := &tests[i]
		if !t.IsA(seed.GerminationTest) {
			continue
		}
		if before != nil && before.TestedOn.Time().Year() == t.TestedOn.Time().Year() {
			lines = append(lines, agreement(*before, *t))
		}
		before = t
	}
	return lines
}

func agreement(first, second seed.Test) AgreementLine {
	line := AgreementLine{First: first, Second: second}
	a, okA := GerminationOf(first)
	b, okB := GerminationOf(second)
	if !okA || !okB {
		line.Says = "not judged: the counts of one cannot be read"
		return line
	}
	compared, err := seed.CompareTests(seed.TwoTests{
		FirstPercent: float64(a.GerminationPercent), SecondPercent: float64(b.GerminationPercent), Seeds: min(a.Seeds, b.Seeds)})
	if err != nil {
		line.Says = "not judged: the published tolerances hold for tests of 400 seeds, or 200"
		return line
	}
	line.Agreement, line.Agree, line.Judged = compared, compared.Agree, true
	line.Says = compared.Verdict
	if compared.Agree {
		line.Says = fmt.Sprintf("the tests agree: they differ by %.0f, at most %d", compared.DifferencePercent, compared.TolerancePercent)
	}
	return line
}
